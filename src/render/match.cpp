#include "render/match.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "render/cloth.h"

namespace motley::render {

Codes codes_of(const photo::LinearImage& image, int left, int top, int width, int height) {
    Codes codes{width, height, {}};
    codes.values.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (int y = 0; y < height; ++y) {
        const float* in = pixel(image, left, top + y);
        for (int i = 0; i < width * 3; ++i)
            codes.values.push_back(
                static_cast<std::int16_t>(std::sqrt(std::clamp(in[i], 0.0f, 1.0f)) * 511 + 0.5f));
    }
    return codes;
}

Codes halved(const Codes& fine) {
    Codes half{fine.width / 2, fine.height / 2, {}};
    half.values.reserve(static_cast<std::size_t>(half.width) * static_cast<std::size_t>(half.height) * 3);
    for (int y = 0; y < half.height; ++y) {
        const std::int16_t* a = fine.at(0, 2 * y);
        const std::int16_t* b = fine.at(0, 2 * y + 1);
        for (int x = 0; x < half.width; ++x, a += 6, b += 6)
            for (int c = 0; c < 3; ++c)
                half.values.push_back(static_cast<std::int16_t>((a[c] + a[c + 3] + b[c] + b[c + 3] + 2) / 4));
    }
    return half;
}

std::vector<Codes> pyramid(Codes finest, int levels) {
    std::vector<Codes> all;
    all.push_back(std::move(finest));
    while (static_cast<int>(all.size()) <= levels) all.push_back(halved(all.back()));
    return all;
}

Codes transposed(const Codes& codes) {
    Codes turned{codes.height, codes.width, {}};
    turned.values.reserve(codes.values.size());
    for (int x = 0; x < codes.width; ++x)
        for (int y = 0; y < codes.height; ++y)
            turned.values.insert(turned.values.end(), codes.at(x, y), codes.at(x, y) + 3);
    return turned;
}

std::int64_t difference(std::span<const std::int16_t> one, std::span<const std::int16_t> other) {
    std::int64_t total = 0;
    for (std::size_t from = 0; from < one.size(); from += 1024) {
        const std::size_t to = std::min(one.size(), from + 1024);
        std::int32_t sum = 0; // At most 1024 * 511^2: fits.
        for (std::size_t i = from; i < to; ++i) {
            const auto step = static_cast<std::int16_t>(one[i] - other[i]);
            sum += step * step;
        }
        total += sum;
    }
    return total;
}

double contrast_of(const Codes& codes) {
    std::int64_t sums[3] = {}, squares = 0;
    for (std::size_t i = 0; i < codes.values.size(); ++i) {
        const std::int64_t value = codes.values[i];
        sums[i % 3] += value;
        squares += value * value;
    }
    const double count = static_cast<double>(codes.width) * codes.height;
    double variance = static_cast<double>(squares) / count;
    for (const std::int64_t sum : sums)
        variance -= static_cast<double>(sum) / count * (static_cast<double>(sum) / count);
    return std::max(1.0, 2 * variance);
}

std::vector<float> outlines(const Codes& codes) {
    constexpr float unnoticed = 60;
    std::vector<float> found;
    found.reserve(codes.values.size() / 3);
    for (int y = 0; y < codes.height; ++y)
        for (int x = 0; x < codes.width; ++x) {
            const std::int16_t* left = codes.at(std::max(x - 1, 0), y);
            const std::int16_t* right = codes.at(std::min(x + 1, codes.width - 1), y);
            const std::int16_t* above = codes.at(x, std::max(y - 1, 0));
            const std::int16_t* below = codes.at(x, std::min(y + 1, codes.height - 1));
            int steep = 0;
            for (int c = 0; c < 3; ++c)
                steep += std::max(std::abs(right[c] - left[c]), std::abs(below[c] - above[c]));
            found.push_back(static_cast<float>(steep) / unnoticed);
        }
    return found;
}

void compare(Line one, Line other, int count, std::vector<float>& out) {
    const std::size_t from = out.size();
    out.resize(from + static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) {
        int sum = 0;
        for (int c = 0; c < 3; ++c) {
            const int step = one.codes[3 * i + c] - other.codes[3 * i + c];
            sum += step * step;
        }
        out[from + static_cast<std::size_t>(i)] =
            static_cast<float>(sum) / (1 + one.outlines[i] + other.outlines[i]);
    }
}

} // namespace motley::render
