#pragma once
/// Continues cloth beyond the photo's edge.

#include <cstdint>

#include "photo/photo.h"

namespace motley::render {

/// `width` x `height` pixels of the same cloth, never mirrored nor turned: blocks of the photo laid in rows,
/// each from the place that best agrees with what it overlaps (so that checks and stripes keep their step),
/// joined along the cut of least difference (image quilting: Efros & Freeman, "Image quilting for texture
/// synthesis and transfer", SIGGRAPH 2001). Expects a cloth of at least 6 x 6 pixels. The mean colour is
/// kept. Deterministic.
photo::LinearImage continued(const photo::LinearImage& cloth, int width, int height, std::uint64_t seed);

}  // namespace motley::render
