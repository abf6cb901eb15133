#pragma once
/// Looking at a picture between and at its pixels. Internal to `scene`. Coordinates: (0, 0) is the picture's
/// top left corner, (0.5, 0.5) the middle of its first pixel.

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "photo/photo.h"
#include "scene/plane.h"

namespace motley::scene {

using Rgb = std::array<double, 3>;

/// Between the four pixels around; at the rim the nearest.
Rgb seen(const photo::LinearImage& picture, const Point& at);
double luminance(const Rgb& rgb);
double luminance_at(const photo::LinearImage& picture, const Point& at);

/// Box averages by a whole factor; a remainder at the right and below is left out.
photo::LinearImage thinned(const photo::LinearImage& picture, int factor);

/// One number a pixel, rows from the top.
struct Plane {
    int width = 0, height = 0;
    std::vector<float> values;

    Plane() = default;
    Plane(int across, int down)
        : width(across),
          height(down),
          values(static_cast<std::size_t>(across) * static_cast<std::size_t>(down)) {}
    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
};

/// Yes or no for each pixel.
struct Mask {
    int width = 0, height = 0;
    std::vector<std::uint8_t> on;

    Mask() = default;
    Mask(int across, int down)
        : width(across),
          height(down),
          on(static_cast<std::size_t>(across) * static_cast<std::size_t>(down)) {}
    std::size_t at(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
    }
};

/// Pixels within `radius` steps of one that is `wanted` become so too.
Mask spread_out(const Mask& mask, int radius, std::uint8_t wanted);

Plane box_mean(const Plane& plane, int radius); ///< Over what lies inside the picture.

/// Pixels that hang together: across and down, not aslant.
struct Patch {
    int left = 0, top = 0, right = 0, bottom = 0; ///< The last ones included.
    std::int64_t pixels = 0;
    std::vector<Point> rim; ///< Corners of its pixels at the left and right end of each row.

    int width() const { return right - left + 1; }
    int height() const { return bottom - top + 1; }
};
/// Those of at least so many pixels, by the first pixel met. `numbers`, where not null, gets for each pixel 1
/// + its patch, 0 for none.
std::vector<Patch> patches(const Mask& mask, std::int64_t least,
                           std::vector<std::int32_t>* numbers = nullptr);

/// Least convex outline, clockwise as seen.
std::vector<Point> hull(std::vector<Point> points);
/// The four corners of the outline that enclose most. Expects four corners or more.
Quad largest_quad(const std::vector<Point>& outline);

double median(std::vector<double> numbers); ///< Expects some; the upper one of two.

} // namespace motley::scene
