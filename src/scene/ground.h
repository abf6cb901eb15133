#pragma once
/// Tells what lies on a ground from the ground. Internal to `scene`.

#include <optional>

#include "photo/photo.h"
#include "scene/light.h"
#include "scene/view.h"

namespace motley::scene {

/// What all around the rim of a picture is one thing: a table, a sheet of paper.
struct Ground {
    Light light;        ///< Of the ground: its own colour times the light on it; no tone curve.
    double spread = 0;  ///< Of its colour around that, as logarithms: paper 0.01, a wooden table 0.1.
    double rough = 0;   ///< Change from pixel to next but one, as logarithms.
    bool paper = false; ///< Bright, smooth and no more coloured than white under a lamp.
    Rgb middle{};       ///< Its colour on the whole.
};

inline constexpr double coarse = 0.045, fine = 0.018;

/// Pixels that are not ground, small gaps closed and specks taken out; what lies within a ring of them counts
/// as one with it. `even` is the picture divided by the ground's light (1 is bare ground). Ground is what
/// hangs together with the rim by soft steps: a shadow with a soft edge is ground, darker than it though it
/// is.
/// `keenness`: the step over two pixels, beyond the ground's own roughness, that is an edge (logarithm): fine
/// finds light cloth on white, coarse keeps pieces apart that darken the gap between them.
Mask lying_on(const photo::LinearImage& even, double spread, double rough, double keenness = coarse);

/// The ground of a picture, or nothing when its rim is not one thing (a print from edge to edge).
std::optional<Ground> find_ground(const photo::LinearImage& picture);

/// The ground again, from all of it that `lying` leaves bare.
Ground better_ground(const photo::LinearImage& picture, const Mask& lying, const Ground& first);

/// Divided by the light.
photo::LinearImage evened(const photo::LinearImage& picture, const Light& light);

/// Coordinates of a pixel in [-1, 1] each way.
Point in_frame(const photo::LinearImage& picture, const Point& pixel);

/// Means over blocks of bare ground. `step`: side of a block.
std::vector<Known> bare_blocks(const photo::LinearImage& picture, const Mask& lying, int step);

} // namespace motley::scene
