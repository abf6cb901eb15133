#pragma once
/// A piece of cloth cut out of its picture. Internal to `scene`.

#include <functional>

#include "colour/space.h"
#include "photo/photo.h"
#include "scene/view.h"

namespace motley::scene {

struct Shading {
    colour::LinearRgb mean; ///< Without what lies in a shadow.
    double shaded = 0;      ///< Share of the picture left out of the mean, [0, 1).
};

/// The mean of a picture of cloth. Where a part of it is darker or lighter than the rest in the same colour
/// and with the same liveliness, in one or two patches, it is a shadow or a fold and is left out. `degree` of
/// the slow change of light that is taken as it is: 0 where the light was evened before, 1 where not.
Shading shading_of(const photo::LinearImage& picture, int degree);

/// Width against height of a rectangle that a pinhole camera shows as this quad; the picture's middle is
/// where the lens points, and its focal length is found from the quad where that can be.
double aspect_of(const Quad& quad, const photo::LinearImage& picture);

/// A picture of so many pixels, its colours asked for place by place: `colour_at` gets shares of width and
/// height, [0, 1].
photo::LinearImage painted(int width, int height, const std::function<Rgb(const Point&)>& colour_at);

} // namespace motley::scene
