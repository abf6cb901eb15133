#pragma once
/// The straight-sided outlines of what lies on a ground. Internal to `scene`.

#include <functional>
#include <vector>

#include "scene/view.h"

namespace motley::scene {

/// A flat piece with four straight sides.
struct Outline {
    Quad corners;        ///< In pixels of the mask.
    double filled = 0;   ///< How well the patch of the mask and the quad agree, [0, 1].
    double straight = 0; ///< Share of the places along its sides that lie on them, [0, 1].
    double bowed = 0;    ///< How far the sides' middles lie from a straight line, as a share of the side.
    double softness =
        0;        ///< How wide the change from ground to cloth is where it is sharpest, pixels of the mask.
    int rims = 0; ///< Sides of the mask that it touches.
};

/// What the outlines' search sees of a mask.
struct Outlines {
    std::vector<Outline> pieces; ///< In the order of their first pixels.
    int others = 0;              ///< Patches as large that have no four straight sides.
    int at_rim = 0;              ///< Of those, the ones that touch the rim.
};

/// Pieces of at least `least` (a share of the picture). `part`: take patches apart where a few pixels join
/// two pieces; `others` still counts them.
Outlines rough_outlines(const Mask& mask, double least, bool part);

/// The picture with the ground's light (and print) divided out, at a place of the mask's pixels: 1 is bare
/// ground.
using Sampler = std::function<Rgb(const Point&)>;

/// How to look for the sides; all but the limit in pixels of the mask.
struct Look {
    double reach = 5;     ///< How far off the rough sides may be.
    double grain = 0.5;   ///< From one look to the next.
    double pixel = 0.5;   ///< Side of a pixel of the picture looked at.
    double limit = 0.045; ///< Of the logarithms: what differs more from the ground beside it is cloth,
    double lasting = 2;   ///< where it goes on for so long.
    double outer = 0.15;  ///< How much more a line farther out is believed than one farther in, [0, 1].
};

/// Sides moved to where the colour turns from the ground's: along every side at some 60 places the first
/// lasting departure from what lies outside, half-way to the colour inside; then the straight line most of
/// them agree on.
Outline refined(Outline rough, const Sampler& sampler, const Look& look);

/// Row by row, each from the left; rows are pieces whose middles lie no more than half a piece apart.
std::vector<std::size_t> reading_order(const std::vector<Quad>& pieces);

} // namespace motley::scene
