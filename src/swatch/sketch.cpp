#include "swatch/sketch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace motley::swatch {
namespace {

/// The whole and parted pixels that a wider pixel covers and half of each neighbour: a line thinner than a
/// pixel then looks the same wherever it falls.
struct Span {
    int first = 0;
    std::vector<float> shares;
};

std::vector<Span> spans(int count, double scale) {
    std::vector<Span> all(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) {
        const double from = i * scale, to = (i + 2) * scale;
        Span& span = all[static_cast<std::size_t>(i)];
        span.first = static_cast<int>(from + 1e-9);
        for (int k = span.first; k < to - 1e-9; ++k)
            span.shares.push_back(
                static_cast<float>((std::min<double>(to, k + 1) - std::max<double>(from, k)) / (2 * scale)));
    }
    return all;
}

float mean_shown(const std::vector<float>& plane, const std::vector<std::uint8_t>& shown) {
    double sum = 0, count = 0;
    for (std::size_t i = 0; i < plane.size(); ++i)
        if (shown[i] != 0) {
            sum += static_cast<double>(plane[i]);
            count += 1;
        }
    return static_cast<float>(count > 0 ? sum / count : 0.0);
}

std::vector<float> averaged(const std::vector<float>& plane, const Cloth& cloth,
                            const std::vector<Span>& columns, const std::vector<Span>& rows) {
    const float mean = mean_shown(plane, cloth.shown);
    const auto width = static_cast<std::size_t>(cloth.width);
    std::vector<float> out, line(width);
    out.reserve(columns.size() * rows.size());
    for (const Span& row : rows) {
        std::fill(line.begin(), line.end(), 0.0F);
        for (std::size_t k = 0; k < row.shares.size(); ++k) {
            const std::size_t start = std::min(static_cast<std::size_t>(row.first) + k,
                                               static_cast<std::size_t>(cloth.height - 1)) *
                                      width;
            for (std::size_t x = 0; x < width; ++x)
                line[x] += cloth.shown[start + x] != 0 ? row.shares[k] * (plane[start + x] - mean) : 0.0F;
        }
        for (const Span& column : columns) {
            float sum = 0;
            for (std::size_t k = 0; k < column.shares.size(); ++k)
                sum +=
                    column.shares[k] * line[std::min(static_cast<std::size_t>(column.first) + k, width - 1)];
            out.push_back(sum);
        }
    }
    return out;
}

} // namespace

double Sketch::contrast() const {
    double sum = 0;
    for (const auto* plane : {&l, &a, &b})
        for (const float value : *plane) sum += static_cast<double>(value * value);
    return l.empty() ? 0 : sum / static_cast<double>(l.size());
}

Sketch sketch(const Cloth& cloth) {
    Sketch out;
    if (cloth.width <= 0 || cloth.height <= 0) return out;
    out.scale = std::max(1.0, static_cast<double>(std::max(cloth.width, cloth.height)) / Sketch::most);
    out.width = std::max(1, static_cast<int>(cloth.width / out.scale + 1e-9) - 1);
    out.height = std::max(1, static_cast<int>(cloth.height / out.scale + 1e-9) - 1);
    const std::vector<Span> columns = spans(out.width, out.scale), rows = spans(out.height, out.scale);
    out.l = averaged(cloth.l, cloth, columns, rows);
    out.a = averaged(cloth.a, cloth, columns, rows);
    out.b = averaged(cloth.b, cloth, columns, rows);
    return out;
}

} // namespace motley::swatch
