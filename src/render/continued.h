#pragma once
/// Continues cloth beyond the photo's edge.

#include "photo/photo.h"
#include "render/repeat.h"

namespace motley::render {

/// `width` x `height` pixels of the same cloth, never mirrored nor turned: whole copies of the photo laid as
/// `repeat` says, the first with its corner at the top left, each joined to those before it along the cut of
/// least difference (the cut of Efros & Freeman, "Image quilting for texture synthesis and transfer",
/// SIGGRAPH 2001). Nearly all of it is the photo, pixel by pixel. Expects a cloth of at least 6 x 6 pixels.
photo::LinearImage continued(const photo::LinearImage& cloth, const Repeat& repeat, int width, int height);

} // namespace motley::render
