#pragma once
/// Where borders lie, and the seams that hold them. Private to this folder. Units: inches, as layout::Top.

#include <vector>

#include "assembly/pressing.h"

namespace motley::assembly {

struct Around {
    unit::Box inner, outer; ///< The border lies between them.
};

/// From the inside out.
std::vector<Around> borders_of(const layout::Plan& plan);

/// Whether plain squares lie at its corners.
inline bool has_squares(const layout::Border& border) {
    return border.corners == layout::Corners::squares && !border.corner.empty();
}

/// Every seam of a border presses towards the border; at its corners towards its strips. Of a pieced border
/// the seams between its patches or units are there too, pressed the way one goes round clockwise.
std::vector<PressedSeam> border_seams(const layout::Layout& layout);

/// How many patches or units lie along the sides of a pieced border.
struct Along {
    int side = 0, level = 0; ///< Left or right; top or bottom, the corners left out.
};
Along patches_along(const layout::Layout& layout, std::size_t border);

} // namespace motley::assembly
