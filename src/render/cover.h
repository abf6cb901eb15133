#pragma once
/// How much of a pixel lies inside an edge.

#include <algorithm>
#include <cmath>

#include "render/draft.h"

namespace motley::render {

/// Exact for a pixel's square with its middle at (x, y); what both sides of an edge get adds up to 1.
inline float cover(const Edge& edge, double x, double y) {
    const double depth = edge.depth(x, y), a = std::abs(edge.a), b = std::abs(edge.b);
    const double longer = std::max(a, b), shorter = std::min(a, b);
    const double far = std::abs(depth), rest = (longer + shorter) / 2 - far; // To the last corner.
    if (rest <= 0) return depth > 0 ? 1.0f : 0.0f;
    // The line crosses two opposite sides of the square, or cuts off a corner.
    const double beyond =
        far <= (longer - shorter) / 2 ? 0.5 - far / longer : rest * rest / (2 * longer * shorter);
    return static_cast<float>(depth > 0 ? 1 - beyond : beyond);
}

} // namespace motley::render
