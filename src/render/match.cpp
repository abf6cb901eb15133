#include "render/match.h"

#include <algorithm>
#include <cmath>

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

std::int64_t difference(std::span<const std::int16_t> one, std::span<const std::int16_t> other) {
    std::int64_t total = 0;
    for (std::size_t from = 0; from < one.size(); from += 1024) {
        const std::size_t to = std::min(one.size(), from + 1024);
        std::int32_t sum = 0;  // At most 1024 * 511^2: fits.
        for (std::size_t i = from; i < to; ++i) {
            const auto step = static_cast<std::int16_t>(one[i] - other[i]);
            sum += step * step;
        }
        total += sum;
    }
    return total;
}

}  // namespace motley::render
