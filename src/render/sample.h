#pragma once
/// Cloth at a place between pixels.

#include <array>

#include "photo/photo.h"

namespace motley::render {

/// Catmull-Rom through the 4 x 4 pixels around (x, y), the middle of a pixel at halves. Expects two pixels of
/// cloth on every side.
std::array<float, 3> sample(const photo::LinearImage& cloth, double x, double y);

/// The same anywhere: beyond the edge the outermost pixels go on.
std::array<float, 3> sample_within(const photo::LinearImage& cloth, double x, double y);

} // namespace motley::render
