#include "render/light.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "colour/space.h"

namespace motley::render {

namespace {

constexpr int blocks = 10;

using Terms = std::array<double, 6>;

Terms terms(double x, double y) {
    return {1, x, y, x * x, x * y, y * y};
}

double value(const Terms& slope, double x, double y) {
    const Terms t = terms(x, y);
    double sum = 0;
    for (std::size_t i = 0; i < t.size(); ++i) sum += slope[i] * t[i];
    return sum;
}

/// The middle of block i, in [-1, 1].
double middle(int i) {
    return (i + 0.5) * 2 / blocks - 1;
}

std::vector<colour::LinearRgb> block_means(const photo::LinearImage& picture) {
    std::vector<colour::LinearRgb> means(blocks * blocks);
    for (int by = 0; by < blocks; ++by)
        for (int bx = 0; bx < blocks; ++bx) {
            const int x0 = picture.width * bx / blocks, x1 = picture.width * (bx + 1) / blocks;
            const int y0 = picture.height * by / blocks, y1 = picture.height * (by + 1) / blocks;
            colour::LinearRgb sum;
            for (int y = y0; y < y1; ++y) {
                float r = 0, g = 0, b = 0;
                const float* at =
                    &picture
                         .pixels[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                      static_cast<std::size_t>(x0))];
                for (int x = x0; x < x1; ++x, at += 3) {
                    r += at[0];
                    g += at[1];
                    b += at[2];
                }
                sum.r += static_cast<double>(r);
                sum.g += static_cast<double>(g);
                sum.b += static_cast<double>(b);
            }
            const double count = static_cast<double>(x1 - x0) * (y1 - y0);
            means[static_cast<std::size_t>(by * blocks + bx)] = {sum.r / count, sum.g / count, sum.b / count};
        }
    return means;
}

/// Least squares by the normal equations.
Terms fitted(const std::vector<double>& heights) {
    std::array<std::array<double, 7>, 6> m{};
    for (int by = 0; by < blocks; ++by)
        for (int bx = 0; bx < blocks; ++bx) {
            const Terms t = terms(middle(bx), middle(by));
            for (std::size_t i = 0; i < 6; ++i) {
                for (std::size_t j = 0; j < 6; ++j) m[i][j] += t[i] * t[j];
                m[i][6] += t[i] * heights[static_cast<std::size_t>(by * blocks + bx)];
            }
        }
    for (std::size_t i = 0; i < 6; ++i) {
        std::size_t pivot = i;
        for (std::size_t k = i; k < 6; ++k)
            if (std::abs(m[k][i]) > std::abs(m[pivot][i])) pivot = k;
        std::swap(m[i], m[pivot]);
        for (std::size_t k = 0; k < 6; ++k) {
            if (k == i) continue;
            const double factor = m[k][i] / m[i][i];
            for (std::size_t j = i; j < 7; ++j) m[k][j] -= factor * m[i][j];
        }
    }
    Terms slope{};
    for (std::size_t i = 0; i < 6; ++i) slope[i] = m[i][6] / m[i][i];
    return slope;
}

/// How much of the blocks' variance the surface explains, [0, 1]; chance alone explains 5 in 99.
double explained(const std::vector<double>& heights, const Terms& slope) {
    double mean = 0, all = 0, left = 0;
    for (const double height : heights) mean += height / static_cast<double>(heights.size());
    for (int by = 0; by < blocks; ++by)
        for (int bx = 0; bx < blocks; ++bx) {
            const double height = heights[static_cast<std::size_t>(by * blocks + bx)];
            const double rest = height - value(slope, middle(bx), middle(by));
            all += (height - mean) * (height - mean);
            left += rest * rest;
        }
    return all > 0 ? 1 - left / all : 0;
}

} // namespace

std::array<float, 3> Light::gain(float x, float y) const {
    const double gain =
        std::exp(-value(slope_, 2 * static_cast<double>(x) - 1, 2 * static_cast<double>(y) - 1));
    const auto rounded = static_cast<float>(gain);
    return {rounded * level_[0], rounded * level_[1], rounded * level_[2]};
}

Light light_of(const photo::LinearImage& picture) {
    Light light;
    if (picture.width < 4 * blocks || picture.height < 4 * blocks) return light;
    const std::vector<colour::LinearRgb> means = block_means(picture);
    std::vector<double> heights;
    for (const colour::LinearRgb& block : means)
        heights.push_back(std::log(std::max(colour::luminance(block), 1e-4)));
    Terms slope = fitted(heights);
    slope[0] = 0;
    double least = 0, most = 0;
    for (int i = 0; i < blocks * blocks; ++i) {
        const double height = value(slope, middle(i % blocks), middle(i / blocks));
        least = i == 0 ? height : std::min(least, height);
        most = i == 0 ? height : std::max(most, height);
    }
    Terms whole = fitted(heights);
    const double trust = std::clamp((explained(heights, whole) - 0.12) / 0.2, 0.0, 1.0);
    if (trust == 0 || most - least > std::log(2.0)) return light;
    for (double& term : slope) term *= trust;
    light.even_ = false;
    light.slope_ = slope;
    colour::LinearRgb before, after;
    for (int i = 0; i < blocks * blocks; ++i) {
        const colour::LinearRgb& block = means[static_cast<std::size_t>(i)];
        const double gain = std::exp(-value(slope, middle(i % blocks), middle(i / blocks)));
        before = {before.r + block.r, before.g + block.g, before.b + block.b};
        after = {after.r + gain * block.r, after.g + gain * block.g, after.b + gain * block.b};
    }
    const auto level = [](double b, double a) { return static_cast<float>(a > 1e-9 && b > 0 ? b / a : 1.0); };
    light.level_ = {level(before.r, after.r), level(before.g, after.g), level(before.b, after.b)};
    return light;
}

} // namespace motley::render
