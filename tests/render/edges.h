#pragma once
/// Where stripes begin in a picture of cloth, for the tests of how cloth is continued.

#include <algorithm>
#include <cstddef>
#include <vector>

#include "render/cloth.h"

namespace motley::render {

/// Where the mean light over each column falls below half way, to a fraction of a pixel.
inline std::vector<double> falling_edges(const photo::LinearImage& image) {
    std::vector<double> light(static_cast<std::size_t>(image.width));
    for (int x = 0; x < image.width; ++x)
        for (int y = 0; y < image.height; ++y)
            light[static_cast<std::size_t>(x)] += static_cast<double>(pixel(image, x, y)[1]) / image.height;
    const auto [low, high] = std::minmax_element(light.begin(), light.end());
    const double half = (*low + *high) / 2;
    std::vector<double> edges;
    for (std::size_t x = 0; x + 1 < light.size(); ++x)
        if (light[x] >= half && light[x + 1] < half)
            edges.push_back(static_cast<double>(x) + (light[x] - half) / (light[x] - light[x + 1]));
    return edges;
}

} // namespace motley::render
