#include "render/cloth.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/light.h"
#include "render/ripple.h"

namespace motley::render {

namespace {

/// Which source pixels make one output pixel, and how much of each.
struct Reach {
    int first = 0;
    std::vector<float> weights;
};

double catmull_rom(double x) {
    x = std::abs(x);
    if (x < 1) return 1 + x * x * (1.5 * x - 2.5);
    if (x < 2) return 2 - x * (4 - x * (2.5 - 0.5 * x));
    return 0;
}

std::vector<Reach> reaches(int source, double scale, int first, int count) {
    const double wide = std::max(1.0, 1 / scale);
    std::vector<Reach> all;
    for (int i = first; i < first + count; ++i) {
        const double centre = (i + 0.5) / scale - 0.5;
        const int from = std::clamp(static_cast<int>(std::ceil(centre - 2 * wide)), 0, source - 1);
        const int to = std::clamp(static_cast<int>(std::floor(centre + 2 * wide)), 0, source - 1);
        Reach reach{from, {}};
        double sum = 0;
        std::vector<double> weights;
        for (int k = from; k <= to; ++k) {
            weights.push_back(catmull_rom((k - centre) / wide));
            sum += weights.back();
        }
        if (!(sum > 0.1)) {
            weights.assign(weights.size(), 1);
            sum = static_cast<double>(weights.size());
        }
        for (const double weight : weights) reach.weights.push_back(static_cast<float>(weight / sum));
        all.push_back(std::move(reach));
    }
    return all;
}

/// One source row, resampled across.
void across(const float* row, const std::vector<Reach>& columns, float* out) {
    for (const Reach& reach : columns) {
        const float* in = row + 3 * static_cast<std::ptrdiff_t>(reach.first);
        float r = 0, g = 0, b = 0;
        for (const float weight : reach.weights) {
            r += weight * in[0];
            g += weight * in[1];
            b += weight * in[2];
            in += 3;
        }
        *out++ = r;
        *out++ = g;
        *out++ = b;
    }
}

} // namespace

photo::LinearImage blank(int width, int height) {
    expects(width >= 0 && height >= 0);
    return {width, height,
            std::vector<float>(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3)};
}

colour::LinearRgb mean(const photo::LinearImage& image) {
    double r = 0, g = 0, b = 0;
    for (std::size_t i = 0; i < image.pixels.size(); i += 3) {
        r += static_cast<double>(image.pixels[i]);
        g += static_cast<double>(image.pixels[i + 1]);
        b += static_cast<double>(image.pixels[i + 2]);
    }
    const double count = static_cast<double>(image.width) * image.height;
    return {r / count, g / count, b / count};
}

void keep_mean(photo::LinearImage& image, colour::LinearRgb wanted) {
    const colour::LinearRgb found = mean(image);
    const auto ratio = [](double want, double have) {
        return static_cast<float>(have > 1e-6 && want > 0 ? want / have : 1.0);
    };
    const float r = ratio(wanted.r, found.r), g = ratio(wanted.g, found.g), b = ratio(wanted.b, found.b);
    for (std::size_t i = 0; i < image.pixels.size(); i += 3) {
        image.pixels[i] *= r;
        image.pixels[i + 1] *= g;
        image.pixels[i + 2] *= b;
    }
}

photo::LinearImage resampled(const photo::LinearImage& picture, double scale, int left, int top, int width,
                             int height) {
    const std::vector<Reach> columns = reaches(picture.width, scale, left, width);
    const std::vector<Reach> rows = reaches(picture.height, scale, top, height);
    photo::LinearImage out = blank(width, height);
    const std::size_t stride = static_cast<std::size_t>(width) * 3;
    // Rows already resampled across, by source row: each is made once and dropped when no later row reaches
    // it.
    std::vector<std::vector<float>> ready(static_cast<std::size_t>(picture.height));
    for (int y = 0; y < height; ++y) {
        const Reach& reach = rows[static_cast<std::size_t>(y)];
        float* line = pixel(out, 0, y);
        for (std::size_t k = 0; k < reach.weights.size(); ++k) {
            std::vector<float>& source = ready[static_cast<std::size_t>(reach.first) + k];
            if (source.empty()) {
                source.resize(stride);
                across(pixel(picture, 0, reach.first + static_cast<int>(k)), columns, source.data());
            }
            const float weight = reach.weights[k];
            for (std::size_t i = 0; i < stride; ++i) line[i] += weight * source[i];
        }
        for (int old = reach.first - 1; old >= 0 && !ready[static_cast<std::size_t>(old)].empty(); --old)
            if (y + 1 < height && old < rows[static_cast<std::size_t>(y) + 1].first)
                ready[static_cast<std::size_t>(old)] = {};
            else
                break;
    }
    return out;
}

photo::LinearImage scaled_cloth(const Cloth& cloth, double ppi, int most) {
    const photo::LinearImage& picture = cloth.picture;
    if (picture.width <= 0 || picture.height <= 0) return {};
    expects(cloth.width.ticks > 0);
    const double scale = cloth.width.in_inches() * ppi / picture.width;
    const double whole_width = picture.width * scale + 1e-6, whole_height = picture.height * scale + 1e-6;
    const int width = static_cast<int>(std::min<double>(most, whole_width));
    const int height = static_cast<int>(std::min<double>(most, whole_height));
    if (width < 6 || height < 6) return {};
    const int left = static_cast<int>((whole_width - width) / 2),
              top = static_cast<int>((whole_height - height) / 2);
    photo::LinearImage scaled = resampled(picture, scale, left, top, width, height);
    const Light light = light_of(picture);
    if (light.even()) return scaled;
    for (int y = 0; y < height; ++y) {
        float* line = pixel(scaled, 0, y);
        const auto v = static_cast<float>((top + y + 0.5) / whole_height);
        for (int x = 0; x < width; ++x, line += 3) {
            const std::array<float, 3> gain =
                light.gain(static_cast<float>((left + x + 0.5) / whole_width), v);
            for (std::size_t c = 0; c < 3; ++c) line[c] *= gain[c];
        }
    }
    if (width >= static_cast<int>(whole_width) && height >= static_cast<int>(whole_height))
        keep_mean(scaled, mean(picture));
    return scaled;
}

photo::LinearImage solid_cloth(colour::LinearRgb colour, double ppi, int width, int height,
                               std::uint64_t seed) {
    photo::LinearImage cloth = blank(width, height);
    const double thread = std::max(
        1.0, ppi / 70); // Quilting cotton has some 70 threads to the inch: common practice, no source.
    const double slub = std::max(1.0, 0.45 * ppi);
    const Ripple weft(seed ^ 1, slub, thread), warp(seed ^ 2, thread, slub),
        mottle(seed ^ 3, 0.3 * ppi + 1, 0.3 * ppi + 1);
    std::vector<float> row(static_cast<std::size_t>(width));
    for (int y = 0; y < height; ++y) {
        std::fill(row.begin(), row.end(), 1.0f);
        weft.add_row(0, y, 0.014f, row);
        warp.add_row(0, y, 0.014f, row);
        mottle.add_row(0, y, 0.006f, row);
        float* line = pixel(cloth, 0, y);
        for (const float life : row) {
            *line++ = static_cast<float>(colour.r) * life;
            *line++ = static_cast<float>(colour.g) * life;
            *line++ = static_cast<float>(colour.b) * life;
        }
    }
    keep_mean(cloth, colour);
    return cloth;
}

} // namespace motley::render
