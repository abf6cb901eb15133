#include "swatch/upright.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdlib>

namespace motley::swatch {
namespace {

constexpr int parts = 4;                          // Of each side.
constexpr std::array<int, 4> sizes{4, 8, 14, 22}; // Of the triangles, pixels: of figures small and large.

/// Two corners, from the third.
struct Triangle {
    int one_x, one_y, other_x, other_y;

    int reach() const {
        return std::max({std::abs(one_x), std::abs(one_y), std::abs(other_x), std::abs(other_y)});
    }
};

/// On their foot and on their side, slim, even and flat.
std::array<Triangle, 6> triangles(int size) {
    const int half = size / 2;
    return {{{-half, size, half, size},
             {-size, size, size, size},
             {-size, half, size, half},
             {size, -half, size, half},
             {size, -size, size, size},
             {half, -size, half, size}}};
}

struct Sums {
    double pairs = 0, squares = 0; ///< Over parts: products of two different ones, and squares.
    double whole = 0, size = 0;    ///< Over triangles, squared.
};

void look(const std::vector<float>& plane, const Sketch& sketch, const Triangle& triangle, Sums& sums) {
    const int margin = triangle.reach(), width = sketch.width - 2 * margin,
              height = sketch.height - 2 * margin;
    if (width < parts || height < parts) return;
    const int stride = margin > 6 ? 2 : 1; // Large triangles change slowly from one pixel to the next.
    const std::ptrdiff_t one = std::ptrdiff_t{triangle.one_y} * sketch.width + triangle.one_x;
    const std::ptrdiff_t other = std::ptrdiff_t{triangle.other_y} * sketch.width + triangle.other_x;
    std::array<double, parts * parts> differences{};
    double size = 0;
    for (int y = 0; y < height; y += stride)
        for (int part = 0; part < parts; ++part) {
            const float* const row =
                &plane[static_cast<std::size_t>(y + margin) * static_cast<std::size_t>(sketch.width) +
                       static_cast<std::size_t>(margin)];
            double upright = 0, turned = 0;
            for (int x = part * width / parts; x < (part + 1) * width / parts; x += stride) {
                const float* f = row + x;
                const auto one_way = static_cast<double>(f[0] * f[one] * f[other]),
                           other_way = static_cast<double>(f[0] * f[-one] * f[-other]);
                upright += one_way;
                turned += other_way;
                size += std::abs(one_way) + std::abs(other_way);
            }
            differences[static_cast<std::size_t>(y * parts / height * parts + part)] += upright - turned;
        }
    double sum = 0, squares = 0;
    for (const double difference : differences) {
        sum += difference;
        squares += difference * difference;
    }
    sums.pairs += sum * sum - squares;
    sums.squares += squares;
    sums.whole += sum * sum;
    sums.size += size * size;
}

} // namespace

Upright upright_of(const Sketch& sketch) {
    Sums sums;
    for (const auto* plane : {&sketch.l, &sketch.a, &sketch.b})
        for (const int size : sizes)
            for (const Triangle& triangle : triangles(size)) look(*plane, sketch, triangle, sums);
    if (!(sums.squares > 0)) return {};
    return {sums.pairs / sums.squares / (parts * parts - 1), std::sqrt(sums.whole / sums.size)};
}

} // namespace motley::swatch
