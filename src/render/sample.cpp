#include "render/sample.h"

#include <algorithm>
#include <cmath>

#include "render/cloth.h"

namespace motley::render {

namespace {

std::array<float, 4> weights(float t) {
    const float s = 1 - t;
    return {-0.5f * t * s * s, 1 + t * t * (1.5f * t - 2.5f), 1 + s * s * (1.5f * s - 2.5f),
            -0.5f * s * t * t};
}

/// Three channels of four pixels, as they lie in a row.
using Four = std::array<float, 12>;

std::array<float, 3> mixed(const Four& column, const std::array<float, 4>& across) {
    std::array<float, 3> light{};
    for (std::size_t c = 0; c < 3; ++c)
        light[c] = (column[c] * across[0] + column[c + 3] * across[1]) +
                   (column[c + 6] * across[2] + column[c + 9] * across[3]);
    return light;
}

} // namespace

std::array<float, 3> sample(const photo::LinearImage& cloth, double x, double y) {
    const double left = std::floor(x - 0.5), top = std::floor(y - 0.5);
    const std::array<float, 4> across = weights(static_cast<float>(x - 0.5 - left)),
                               down = weights(static_cast<float>(y - 0.5 - top));
    const std::size_t line = static_cast<std::size_t>(cloth.width) * 3;
    const float* first = pixel(cloth, static_cast<int>(left) - 1, static_cast<int>(top) - 1);
    const float *second = first + line, *third = second + line, *fourth = third + line;
    Four column;
    for (std::size_t i = 0; i < 12; ++i)
        column[i] = (first[i] * down[0] + second[i] * down[1]) + (third[i] * down[2] + fourth[i] * down[3]);
    return mixed(column, across);
}

std::array<float, 3> sample_within(const photo::LinearImage& cloth, double x, double y) {
    const double left = std::floor(x - 0.5), top = std::floor(y - 0.5);
    const std::array<float, 4> across = weights(static_cast<float>(x - 0.5 - left)),
                               down = weights(static_cast<float>(y - 0.5 - top));
    Four column{};
    for (int j = 0; j < 4; ++j)
        for (int i = 0; i < 4; ++i) {
            const float* at = pixel(cloth, std::clamp(static_cast<int>(left) - 1 + i, 0, cloth.width - 1),
                                    std::clamp(static_cast<int>(top) - 1 + j, 0, cloth.height - 1));
            for (int c = 0; c < 3; ++c)
                column[static_cast<std::size_t>(i * 3 + c)] += at[c] * down[static_cast<std::size_t>(j)];
        }
    return mixed(column, across);
}

} // namespace motley::render
