#pragma once
/// Where things lie as rows see them: x along a row, y from row to row; on point that is an eighth of a turn
/// off the top's own. Private to this folder. Units: inches, finished.

#include <cmath>
#include <utility>

#include "assembly/rows.h"
#include "unit/plane.h"

namespace motley::assembly {

/// From the top to the rows. Its inverse leads back.
inline unit::Motion to_rows(bool diagonal) {
    return diagonal ? unit::rotated(-45) : unit::Motion{};
}

inline unit::Box box_of(const unit::Polygon& outline) {
    unit::Box box{outline.front().x, outline.front().y, outline.front().x, outline.front().y};
    for (const unit::Point p : outline) {
        box.left = std::min(box.left, p.x);
        box.right = std::max(box.right, p.x);
        box.top = std::min(box.top, p.y);
        box.bottom = std::max(box.bottom, p.y);
    }
    return box;
}

/// Closer than this, two edges of a top are one.
inline constexpr double same_edge = 1e-6;

/// Equal for edges that are one; rising. No length of a ruler falls between two of these.
inline long spot(double inches) {
    constexpr double fine = 97.31; // To an inch.
    return std::lround(inches * fine);
}
using Spot = std::pair<long, long>; ///< y first: from row to row.
inline Spot spot(unit::Point p) {
    return {spot(p.y), spot(p.x)};
}

inline bool triangle(layout::Part part) {
    return part == layout::Part::side_triangle || part == layout::Part::corner_triangle;
}

/// The side of a triangle that runs across the rows, if it has one; seen by the rows.
struct Upright {
    double x = 0, top = 0, bottom = 0;
    bool right = false; ///< It is the triangle's right side: the triangle ends a row at the left.
};
bool upright_side(const unit::Polygon& triangle, Upright& found);

} // namespace motley::assembly
