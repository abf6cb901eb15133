#pragma once
/// Cloth as it is really photographed: lying about on a table, on paper or on a printed page, seen at a
/// slant, in lamplight, with shadows. In: what lies where, and a camera. Out: an 8-bit sRGB photo, and where
/// things came to lie in it. Units: inches on the table, x to the right, y towards the photographer; pixels.
/// Threads: pure; several threads are used inside and do not change the result.

#include <array>
#include <vector>

#include "painter/photograph.h"

namespace motley::painter {

struct Spot {
    double x = 0, y = 0;
};

/// A flat thing: a picture in linear light (1 is a perfect white), stretched over a rectangle.
struct Laid {
    photo::LinearImage picture; ///< One pixel for a plain thing.
    Spot middle;
    double width = 5, height = 5;
    double turn = 0;         ///< Radians clockwise.
    double thickness = 0.03; ///< Inches: darkens what lies beside it, on the side away from the lamp.
};

Laid plain(colour::LinearRgb colour, Spot middle, double width, double height);

/// A shadow with a soft straight edge, falling on all that lies beyond it.
struct Shadow {
    Spot at;
    double direction = 0; ///< Radians clockwise from the right: where it is darker.
    double depth = 0.4;   ///< Light taken away.
    double soft = 0.5;    ///< Inches from light to dark.
    double width = 100;   ///< Inches; where it ends again.
};

struct Table {
    colour::LinearRgb wood{0.25, 0.16, 0.09};
    double grain = 0.12;    ///< Of its light; 0 a plain ground.
    std::vector<Laid> laid; ///< From the lowest up.
    std::vector<Shadow> shadows;
};

struct Lamp {
    colour::LinearRgb colour{1.15, 1, 0.72}; ///< Warm light, of which the camera took out some.
    Spot over{-8, -6};                       ///< What it hangs over.
    double height = 24;                      ///< Inches.
};

struct View {
    int width = 1600, height = 1200; ///< Pixels.
    Spot looks_at;
    double pixels_per_inch = 100; ///< There.
    double tilt = 0;              ///< Radians from straight above.
    double from = 1.57; ///< Where the camera stands: radians clockwise from the right, seen from the middle.
    double roll = 0;    ///< Radians.
    double focal = 0.9; ///< Of the picture's longest side.
    double bulge = 0;   ///< Of the lens: q = c + (p - c)(1 + bulge r^2), r = 1 in the corners.
    double blur = 0.7;  ///< Standard deviation, pixels.
    double noise = 0.006;  ///< Of white.
    double exposure = 0.8; ///< What a perfect white comes to under the strongest light in view.
    double contrast = 0;   ///< Of the tone curve, [0, 0.9]: code - contrast sin(2 pi code) / (2 pi).
    Lamp lamp;
    std::uint64_t seed = 1;
};

/// Where places of the table come to lie in the photo.
class Eye {
public:
    explicit Eye(const View& view);
    Spot seen(const Spot& inches) const;
    Spot inches(const Spot& pixels) const;

private:
    Spot bulged(const Spot& pixels) const;
    std::array<double, 9> to_pixels_{}, to_inches_{};
    double cx_ = 0, cy_ = 0, reach_ = 1, bulge_ = 0;
};

/// Corners of a thing, clockwise from its own top left.
std::array<Spot, 4> corners(const Laid& laid);

Photo photograph(const Table& table, const View& view);

} // namespace motley::painter
