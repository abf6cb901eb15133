#include "scene/cut.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "scene/light.h"

namespace motley::scene {

namespace {

constexpr int side = 14;               // Blocks across and down.
constexpr double least_shade = 0.07;   // Of the logarithm of light.
constexpr double other_colour = 0.10;  // Of the logarithms of red and blue against green.
constexpr double largest_share = 0.45; // Of the cloth, for a shadow.

struct Block {
    Rgb mean{};
    double lively = 0; ///< Standard deviation of light against its mean.
    Point at;
    double off = 0; ///< Logarithm of its light against what is usual.
    double pixels = 0;
};

std::vector<Block> blocks_of(const photo::LinearImage& picture) {
    std::vector<Block> out;
    for (int row = 0; row < side; ++row)
        for (int column = 0; column < side; ++column) {
            const int left = picture.width * column / side, right = picture.width * (column + 1) / side;
            const int top = picture.height * row / side, bottom = picture.height * (row + 1) / side;
            Block block;
            double squares = 0, light = 0;
            for (int y = top; y < bottom; ++y)
                for (int x = left; x < right; ++x) {
                    const float* pixel =
                        picture.pixels.data() +
                        3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                             static_cast<std::size_t>(x));
                    const Rgb rgb{pixel[0], pixel[1], pixel[2]};
                    for (std::size_t c = 0; c < 3; ++c) block.mean[c] += rgb[c];
                    const double one = luminance(rgb);
                    light += one;
                    squares += one * one;
                }
            block.pixels = static_cast<double>(right - left) * (bottom - top);
            if (block.pixels == 0) continue;
            for (double& channel : block.mean) channel /= block.pixels;
            light /= block.pixels;
            block.lively =
                std::sqrt(std::max(0.0, squares / block.pixels - light * light)) / std::max(light, 1e-4);
            block.at = {2.0 * (column + 0.5) / side - 1, 2.0 * (row + 0.5) / side - 1};
            out.push_back(block);
        }
    return out;
}

Rgb logarithms(const Rgb& rgb) {
    return {std::log(std::max(rgb[0], 1e-4)), std::log(std::max(rgb[1], 1e-4)),
            std::log(std::max(rgb[2], 1e-4))};
}

/// The middle of the fullest stretch of the numbers: half of them lie in it.
double mode(std::vector<double> numbers) {
    std::sort(numbers.begin(), numbers.end());
    const std::size_t half = numbers.size() / 2;
    std::size_t best = 0;
    for (std::size_t i = 0; i + half < numbers.size(); ++i)
        if (numbers[i + half] - numbers[i] < numbers[best + half] - numbers[best]) best = i;
    return numbers[best + half / 2];
}

/// How many patches the shaded blocks make.
std::size_t patch_count(const std::vector<Block>& blocks, const std::vector<std::uint8_t>& shaded) {
    Mask mask(side, side);
    for (std::size_t i = 0; i < blocks.size(); ++i) mask.on[i] = shaded[i];
    return patches(mask, 1).size();
}

colour::LinearRgb mean_of(const std::vector<Block>& blocks, const std::vector<std::uint8_t>& left_out) {
    Rgb sum{};
    double weight = 0;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        if (left_out[i]) continue;
        weight += blocks[i].pixels;
        for (std::size_t c = 0; c < 3; ++c) sum[c] += blocks[i].pixels * blocks[i].mean[c];
    }
    return {sum[0] / weight, sum[1] / weight, sum[2] / weight};
}

} // namespace

Shading shading_of(const photo::LinearImage& picture, int degree) {
    std::vector<Block> blocks = blocks_of(picture);
    std::vector<std::uint8_t> shaded(blocks.size(), 0);
    Shading out{mean_of(blocks, shaded), 0};
    if (blocks.size() < side * side) return out;
    std::vector<Known> known;
    for (const Block& block : blocks) known.push_back({block.at, block.mean, 1, 1});
    Light light;
    if (degree > 0) light = find_light(known, {.degree = degree, .tone = false, .start = nullptr});
    std::vector<double> off, red, blue, lively;
    for (Block& block : blocks) {
        const Rgb log = logarithms(light.reflectance(block.mean, block.at));
        block.off = log[1];
        off.push_back(block.off);
        red.push_back(log[0] - log[1]);
        blue.push_back(log[2] - log[1]);
        lively.push_back(block.lively);
    }
    const double usual = mode(off), usual_red = median(red), usual_blue = median(blue),
                 usual_lively = median(lively);
    std::vector<double> spread;
    for (const double one : off) spread.push_back(std::abs(one - usual));
    const double limit = std::max(least_shade, 4 * 1.4826 * median(spread));
    double count = 0;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const bool far = spread[i] > limit && std::abs(red[i] - usual_red) < other_colour &&
                         std::abs(blue[i] - usual_blue) < other_colour;
        if (far) shaded[i] = 1, count += 1;
    }
    const double share = count / static_cast<double>(blocks.size());
    if (share == 0 || share > largest_share || patch_count(blocks, shaded) > 2) return out;
    // What lies around the shadow's edge goes too: it is half in it.
    std::vector<std::uint8_t> wide = shaded;
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const auto column = i % side, row = i / side;
        const bool near = (column > 0 && shaded[i - 1]) || (column + 1 < side && shaded[i + 1]) ||
                          (row > 0 && shaded[i - side]) || (row + 1 < side && shaded[i + side]);
        if (near && spread[i] > limit / 4) wide[i] = 1;
    }
    // A print's own dark parts are livelier, or calmer, than the rest.
    std::vector<double> inside;
    for (std::size_t i = 0; i < blocks.size(); ++i)
        if (shaded[i]) inside.push_back(lively[i]);
    const double ratio = (median(inside) + 0.03) / (usual_lively + 0.03);
    if (ratio < 0.4 || ratio > 2.5) return out;
    out.mean = mean_of(blocks, wide);
    out.shaded = share;
    return out;
}

double aspect_of(const Quad& quad, const photo::LinearImage& picture) {
    const Quad square{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    const auto seen_so = homography(square, quad);
    const double across = length(quad[1] - quad[0]) + length(quad[2] - quad[3]);
    const double down = length(quad[3] - quad[0]) + length(quad[2] - quad[1]);
    if (!seen_so) return across / down;
    // Zhang & He, "Whiteboard scanning and image enhancement", Digital Signal Processing 17(2), 2007: the
    // images of the two directions are at right angles, which gives the focal length, and as long as the
    // sides.
    const double cx = picture.width / 2.0, cy = picture.height / 2.0;
    const auto& m = seen_so->m;
    const std::array<double, 3> h1{m[0] - cx * m[6], m[3] - cy * m[6], m[6]};
    const std::array<double, 3> h2{m[1] - cx * m[7], m[4] - cy * m[7], m[7]};
    const double longest = std::max(picture.width, picture.height);
    double focal = 0.75 * longest; // A phone's main camera.
    const double tilt = h1[2] * h2[2];
    if (std::abs(tilt) * longest * longest > 0.02 * across * down / 4) {
        const double square_of = -(h1[0] * h2[0] + h1[1] * h2[1]) / tilt;
        if (square_of > 0) focal = std::clamp(std::sqrt(square_of), 0.6 * longest, 3 * longest);
    }
    const auto size = [&](const std::array<double, 3>& h) {
        return std::sqrt((h[0] * h[0] + h[1] * h[1]) / (focal * focal) + h[2] * h[2]);
    };
    return size(h1) / size(h2);
}

photo::LinearImage painted(int width, int height, const std::function<Rgb(const Point&)>& colour_at) {
    photo::LinearImage out{width, height, {}};
    out.pixels.reserve(3 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (const double channel : colour_at({(x + 0.5) / width, (y + 0.5) / height}))
                out.pixels.push_back(static_cast<float>(channel));
    return out;
}

} // namespace motley::scene
