#pragma once
/// Prints cloth for the tests of `swatch`, in invented colours, and photographs it: each print is a function
/// from a place to a dye, so its true shares are known by counting; the photo adds a lens blur, woven
/// threads, camera noise, uneven light, and 8-bit coding.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

#include "colour/difference.h"
#include "colour/space.h"
#include "photo/photo.h"

namespace print_room {

using motley::colour::Lab;
using motley::colour::LinearRgb;
using motley::photo::LinearImage;

/// A plain generator, the same everywhere (the multiplier is Knuth's MMIX one, from memory; any odd one would
/// do here).
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15U + 1) {}
    double roll() { ///< [0, 1)
        state_ = state_ * 6364136223846793005U + 1442695040888963407U;
        return static_cast<double>(state_ >> 40) / 16777216.0;
    }
    double roll(double low, double high) { return low + (high - low) * roll(); }
    double bell() { ///< Nearly normal, mean 0, deviation 1: four rolls, each of variance 1/12.
        return (roll() + roll() + roll() + roll() - 2) * 1.7320508;
    }

private:
    std::uint64_t state_;
};

struct Print {
    std::vector<LinearRgb> dyes;
    std::function<int(double x, double y)> dye_at; ///< In pixels.
};

struct Camera {
    int width = 1024, height = 768;
    double blur = 1.0;   ///< Standard deviation, pixels.
    double weave = 0.05; ///< Deviation of light from thread to thread.
    double noise = 0.01;
    double fall = 0.3; ///< How much less light at the darkest corner.
    std::uint64_t seed = 1;
};

struct Photo {
    LinearImage image;
    std::vector<double> shares; ///< True share of each dye.
    LinearRgb mean;             ///< Of the pixels as photographed.
};

inline Lab lab_of(LinearRgb light) {
    return motley::colour::lab(light);
}

inline bool in_gamut(LinearRgb light) {
    for (const double channel : {light.r, light.g, light.b})
        if (channel < 0.003 || channel > 0.9) return false;
    return true;
}

/// A colour a fabric might have.
inline LinearRgb invented_dye(Dice& dice) {
    for (;;) {
        const double angle = dice.roll(0, 6.283185307), chroma = dice.roll(0, 65);
        const LinearRgb light = motley::colour::linear(
            Lab{dice.roll(18, 93), chroma * std::cos(angle), chroma * std::sin(angle)});
        if (in_gamut(light)) return light;
    }
}

/// One that differs from the others by at least `least` CIEDE2000.
inline LinearRgb dye_apart(Dice& dice, const std::vector<LinearRgb>& others, double least) {
    for (;;) {
        const LinearRgb dye = invented_dye(dice);
        bool apart = true;
        for (const LinearRgb& other : others)
            apart = apart && motley::colour::ciede2000(lab_of(dye), lab_of(other)) >= least;
        if (apart) return dye;
    }
}

inline void blur_line(std::vector<float>& pixels, std::size_t start, std::size_t step, int count,
                      double sigma) {
    const int reach = static_cast<int>(std::ceil(3 * sigma));
    std::vector<double> kernel;
    double sum = 0;
    for (int i = -reach; i <= reach; ++i)
        sum += kernel.emplace_back(std::exp(-0.5 * i * i / (sigma * sigma)));
    std::vector<float> line(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i)
        line[static_cast<std::size_t>(i)] = pixels[start + static_cast<std::size_t>(i) * step];
    for (int i = 0; i < count; ++i) {
        double value = 0;
        for (int k = -reach; k <= reach; ++k) {
            const int from = std::min(std::max(i + k, 0), count - 1);
            value += kernel[static_cast<std::size_t>(k + reach)] *
                     static_cast<double>(line[static_cast<std::size_t>(from)]);
        }
        pixels[start + static_cast<std::size_t>(i) * step] = static_cast<float>(value / sum);
    }
}

inline void blur(LinearImage& image, double sigma) {
    if (sigma <= 0) return;
    const auto row = static_cast<std::size_t>(image.width) * 3;
    for (std::size_t channel = 0; channel < 3; ++channel) {
        for (int y = 0; y < image.height; ++y)
            blur_line(image.pixels, static_cast<std::size_t>(y) * row + channel, 3, image.width, sigma);
        for (int x = 0; x < image.width; ++x)
            blur_line(image.pixels, static_cast<std::size_t>(x) * 3 + channel, row, image.height, sigma);
    }
}

/// The print before the camera: every pixel the mean of 2 x 2 places.
inline LinearImage lay_out(const Print& print, const Camera& camera, std::vector<double>& shares) {
    LinearImage image{camera.width, camera.height, {}};
    image.pixels.reserve(3 * static_cast<std::size_t>(camera.width) *
                         static_cast<std::size_t>(camera.height));
    shares.assign(print.dyes.size(), 0.0);
    const double part = 0.25 / (static_cast<double>(camera.width) * camera.height);
    for (int y = 0; y < camera.height; ++y)
        for (int x = 0; x < camera.width; ++x) {
            LinearRgb sum;
            for (int i = 0; i < 4; ++i) {
                const auto dye = static_cast<std::size_t>(
                    print.dye_at(x + 0.25 + 0.5 * (i % 2), y + 0.25 + 0.5 * (i / 2)));
                shares[dye] += part;
                sum.r += print.dyes[dye].r / 4;
                sum.g += print.dyes[dye].g / 4;
                sum.b += print.dyes[dye].b / 4;
            }
            for (const double channel : {sum.r, sum.g, sum.b})
                image.pixels.push_back(static_cast<float>(channel));
        }
    return image;
}

inline Photo photograph(const Print& print, const Camera& camera) {
    Photo photo;
    photo.image = lay_out(print, camera, photo.shares);
    blur(photo.image, camera.blur);
    Dice dice(camera.seed);
    std::vector<double> warp, weft;
    for (int x = 0; x < camera.width; ++x) warp.push_back(camera.weave * dice.bell());
    for (int y = 0; y < camera.height; ++y) weft.push_back(camera.weave * dice.bell());
    const double turn = dice.roll(0, 6.283185307), vignette = dice.roll(0, 0.5) * camera.fall;
    std::size_t i = 0;
    for (int y = 0; y < camera.height; ++y)
        for (int x = 0; x < camera.width; ++x) {
            const double u = 2.0 * x / camera.width - 1, v = 2.0 * y / camera.height - 1;
            const double light =
                1 -
                (camera.fall - vignette) * 0.5 * (1 + (u * std::cos(turn) + v * std::sin(turn)) / 1.4143) -
                vignette * 0.5 * (u * u + v * v);
            // Threads three pixels wide, over and under by turns.
            const bool over = (x / 3 + y / 3) % 2 == 0;
            const double thread =
                1 + (over ? warp[static_cast<std::size_t>(x / 3)] : weft[static_cast<std::size_t>(y / 3)]);
            for (int channel = 0; channel < 3; ++channel, ++i) {
                const double seen = static_cast<double>(photo.image.pixels[i]) * light * thread *
                                    (1 + camera.noise * dice.bell());
                const auto code =
                    static_cast<std::uint8_t>(std::lround(255 * std::min(1.0, motley::colour::encode(seen))));
                photo.image.pixels[i] =
                    static_cast<float>(motley::colour::linear(motley::colour::Srgb{code, code, code}).r);
                (channel == 0   ? photo.mean.r
                 : channel == 1 ? photo.mean.g
                                : photo.mean.b) += static_cast<double>(photo.image.pixels[i]);
            }
        }
    const double pixels = static_cast<double>(camera.width) * camera.height;
    photo.mean = {photo.mean.r / pixels, photo.mean.g / pixels, photo.mean.b / pixels};
    return photo;
}

inline Print solid(LinearRgb dye) {
    return {{dye}, [](double, double) { return 0; }};
}

/// Dots of the given radius, every other row shifted, covering `share` of the cloth. Two dot colours by turns
/// when there are three dyes.
inline Print dots(std::vector<LinearRgb> dyes, double radius, double share) {
    const int colours = static_cast<int>(dyes.size()) - 1;
    const double pitch = radius * std::sqrt(3.14159265358979 / share);
    return {std::move(dyes), [=](double x, double y) {
                const int row = static_cast<int>(std::floor(y / pitch));
                const double shifted = x + (row % 2 != 0 ? pitch / 2 : 0.0);
                const int column = static_cast<int>(std::floor(shifted / pitch));
                const double dx = shifted - (column + 0.5) * pitch, dy = y - (row + 0.5) * pitch;
                if (dx * dx + dy * dy > radius * radius) return 0;
                return 1 + (colours > 1 ? (column % colours + colours) % colours : 0);
            }};
}

/// Stripes as wide as given, in order, over and over; the angle in radians.
inline Print stripes(std::vector<LinearRgb> dyes, std::vector<double> widths, double angle) {
    return {std::move(dyes), [=](double x, double y) {
                double repeat = 0;
                for (const double width : widths) repeat += width;
                double place = std::fmod(x * std::cos(angle) + y * std::sin(angle) + 1000 * repeat, repeat);
                int dye = 0;
                while (place >= widths[static_cast<std::size_t>(dye)])
                    place -= widths[static_cast<std::size_t>(dye++)];
                return dye;
            }};
}

/// Gingham: squares of both colours and of their even mixture.
inline Print gingham(LinearRgb light, LinearRgb dark, double check) {
    const LinearRgb mixed{(light.r + dark.r) / 2, (light.g + dark.g) / 2, (light.b + dark.b) / 2};
    return {{light, mixed, dark}, [=](double x, double y) {
                return static_cast<int>(std::floor(x / check)) % 2 +
                       static_cast<int>(std::floor(y / check)) % 2;
            }};
}

/// Large flowers: petals, a ring of a second colour, an eye, on a ground. Four dyes.
inline Print florals(std::vector<LinearRgb> dyes, double size) {
    return {std::move(dyes), [=](double x, double y) {
                const int row = static_cast<int>(std::floor(y / size));
                const double shifted = x + (row % 2 != 0 ? size / 2 : 0.0);
                const double dx = shifted - (std::floor(shifted / size) + 0.5) * size,
                             dy = y - (row + 0.5) * size;
                const double far = std::sqrt(dx * dx + dy * dy) / size,
                             petal = 0.33 + 0.09 * std::cos(5 * std::atan2(dy, dx));
                if (far < 0.07) return 3;
                if (far < 0.5 * petal) return 2;
                return far < petal ? 1 : 0;
            }};
}

} // namespace print_room
