#include "swatch/cloth.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>

namespace motley::swatch {
namespace {

constexpr double most_pixels = 1 << 18;
constexpr float same_colour = 0.07F;
constexpr float flat_change = 0.03F;

// Two Newton steps from a guess that divides the exponent by three: within 1e-6, four at a time where
// std::cbrt takes one.
inline float cube_root(float x) {
    x = std::max(x, 1e-7F);
    const auto bits = static_cast<float>(std::bit_cast<std::int32_t>(x));
    float root = std::bit_cast<float>(static_cast<std::int32_t>(bits * (1.0F / 3.0F) + 709958130.0F));
    for (int step = 0; step < 2; ++step) root = (2.0F * root + x / (root * root)) * (1.0F / 3.0F);
    return root;
}

// The three planes of one row from linear light to OKLab, in place.
// Wider where the processor has it; without fused operations the results are the same.
#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
void to_oklab(float* one, float* two, float* three, int width) {
    for (int x = 0; x < width; ++x) {
        const float r = one[x], g = two[x], b = three[x];
        const float l = cube_root(.41222147F * r + .53633254F * g + .05144599F * b);
        const float m = cube_root(.21190350F * r + .68069955F * g + .10739695F * b);
        const float s = cube_root(.08830246F * r + .28171884F * g + .62997870F * b);
        one[x] = .21045427F * l + .79361777F * m - .00407204F * s;
        two[x] = chroma_scale * (1.97799853F * l - 2.42859224F * m + .45059371F * s);
        three[x] = chroma_scale * (.02590404F * l + .78277171F * m - .80867575F * s);
    }
}

std::size_t at(int width, int x, int y) {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
}

int reduction(const photo::LinearImage& picture) {
    int factor = 1;
    while (static_cast<double>(picture.width / factor) * (picture.height / factor) > most_pixels) ++factor;
    return std::min({factor, picture.width, picture.height});
}

// One row of box averages; what is left over at the right is dropped.
void average_row(const photo::LinearImage& picture, int factor, int row, Cloth& cloth) {
    const std::size_t begin = at(cloth.width, 0, row);
    float* const planes[3] = {&cloth.l[begin], &cloth.a[begin], &cloth.b[begin]};
    const float share = 1.0F / static_cast<float>(factor * factor);
    for (int dy = 0; dy < factor; ++dy) {
        const float* from = &picture.pixels[3 * at(picture.width, 0, row * factor + dy)];
        for (int x = 0; x < cloth.width; ++x)
            for (int dx = 0; dx < factor; ++dx, from += 3)
                for (int channel = 0; channel < 3; ++channel) planes[channel][x] += from[channel];
    }
    for (float* plane : planes)
        for (int x = 0; x < cloth.width; ++x) plane[x] *= share;
}

void hide_blank(Cloth& cloth, int row, colour::LinearRgb blank) {
    const auto r = static_cast<float>(blank.r), g = static_cast<float>(blank.g),
               b = static_cast<float>(blank.b);
    for (std::size_t i = at(cloth.width, 0, row); i < at(cloth.width, 0, row + 1); ++i)
        if (std::abs(cloth.l[i] - r) + std::abs(cloth.a[i] - g) + std::abs(cloth.b[i] - b) < 1e-6F)
            cloth.shown[i] = 0;
}

// The inner pixels of one row, from the three rows of each plane around it.
struct Neighbours {
    const float* l;
    const float* a;
    const float* b;
};

// Sums over the neighbours, a neighbour at a time: loops so plain are done several pixels at once.
struct Sums {
    std::vector<float> l, a, b, weight;
};

#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
void add_neighbour(const Neighbours& self, const Neighbours& other, int count, Sums& sums) {
    const float *l = self.l, *a = self.a, *b = self.b, *other_l = other.l, *other_a = other.a,
                *other_b = other.b;
    float* __restrict sum_l = sums.l.data();
    float* __restrict sum_a = sums.a.data();
    float* __restrict sum_b = sums.b.data();
    float* __restrict weight = sums.weight.data();
    for (int x = 0; x < count; ++x) {
        const float dl = other_l[x] - l[x], da = other_a[x] - a[x], db = other_b[x] - b[x];
        const float far = (dl * dl + da * da + db * db) * (1.0F / (same_colour * same_colour));
        const float near = far < 1.0F ? 1.0F - far : 0.0F;
        sum_l[x] += near * dl;
        sum_a[x] += near * da;
        sum_b[x] += near * db;
        weight[x] += near;
    }
}

void calm_row(const std::array<Neighbours, 9>& around, int count, Sums& sums, float* l, float* a, float* b) {
    for (auto* plane : {&sums.l, &sums.a, &sums.b, &sums.weight})
        plane->assign(static_cast<std::size_t>(count), 0.0F);
    for (const Neighbours& other : around) add_neighbour(around[4], other, count, sums);
    const auto finish = [&](const float* self, const std::vector<float>& sum, float* __restrict out) {
        for (int x = 0; x < count; ++x)
            out[x] = self[x] + sum[static_cast<std::size_t>(x)] / sums.weight[static_cast<std::size_t>(x)];
    };
    finish(around[4].l, sums.l, l);
    finish(around[4].a, sums.a, a);
    finish(around[4].b, sums.b, b);
}

} // namespace

Cloth reduced(const photo::LinearImage& picture, std::optional<colour::LinearRgb> blank) {
    const int factor = reduction(picture);
    Cloth cloth{.width = picture.width / factor,
                .height = picture.height / factor,
                .l = {},
                .a = {},
                .b = {},
                .shown = {}};
    const std::size_t size = at(cloth.width, 0, cloth.height);
    for (auto* plane : {&cloth.l, &cloth.a, &cloth.b}) plane->assign(size, 0.0F);
    cloth.shown.assign(size, 1);
    for (int row = 0; row < cloth.height; ++row) {
        average_row(picture, factor, row, cloth);
        if (blank) hide_blank(cloth, row, *blank);
        const std::size_t begin = at(cloth.width, 0, row);
        to_oklab(&cloth.l[begin], &cloth.a[begin], &cloth.b[begin], cloth.width);
    }
    return cloth;
}

void calm(Cloth& cloth) {
    if (cloth.width < 3 || cloth.height < 3) return;
    const Cloth from = cloth;
    Sums sums;
    for (int y = 1; y + 1 < cloth.height; ++y) {
        std::array<Neighbours, 9> around{};
        for (int i = 0; i < 9; ++i) {
            const std::size_t start = at(cloth.width, i % 3, y - 1 + i / 3);
            around[static_cast<std::size_t>(i)] = {&from.l[start], &from.a[start], &from.b[start]};
        }
        const std::size_t to = at(cloth.width, 1, y);
        calm_row(around, cloth.width - 2, sums, &cloth.l[to], &cloth.a[to], &cloth.b[to]);
    }
}

std::vector<std::uint8_t> flat(const Cloth& cloth) {
    std::vector<std::uint8_t> flat(cloth.l.size(), 0);
    constexpr int reach = 1;
    for (int y = reach; y + reach < cloth.height; ++y)
        for (const auto* plane : {&cloth.l, &cloth.a, &cloth.b}) {
            const float* const row = plane->data() + at(cloth.width, 0, y);
            const float* const above = plane->data() + at(cloth.width, 0, y - reach);
            const float* const below = plane->data() + at(cloth.width, 0, y + reach);
            std::uint8_t* const out = flat.data() + at(cloth.width, 0, y);
            // The first plane marks, the other two only take marks away.
            const bool first = plane == &cloth.l;
            for (int x = reach; x + reach < cloth.width; ++x) {
                const float change =
                    std::max(std::max(std::abs(row[x - reach] - row[x]), std::abs(row[x + reach] - row[x])),
                             std::max(std::abs(above[x] - row[x]), std::abs(below[x] - row[x])));
                const bool still = change < flat_change;
                out[x] = static_cast<std::uint8_t>(still && (first || out[x] != 0));
            }
        }
    return flat;
}

} // namespace motley::swatch
