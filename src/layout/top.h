#pragma once
/// The finished top as one sees it: every patch, strip, triangle and block as an outline with its fabric.
/// In: a layout. Out: shapes that cover the top without gap or overlap. Units: inches, finished; x to the
/// right, y down, origin at the top left corner of the whole top, borders included.

#include <cstdint>
#include <vector>

#include "layout/layout.h"
#include "unit/form.h"
#include "unit/plane.h"

namespace motley::layout {

enum class Part : std::uint8_t {
    unit,
    plain_block,     ///< Between the units.
    side_triangle,   ///< On point: a quarter of a square cut twice, its long side on the edge.
    corner_triangle, ///< On point: half of a square.
    half_unit,       ///< Bricks: at both ends of a moved row.
    sash,
    cornerstone,
    border, ///< A strip; where it is pieced, a patch of it.
};

struct Shape {
    std::vector<unit::Point> outline; ///< Convex, clockwise on the screen.
    FabricId fabric{};
    Part part = Part::unit;
    /// Unit: the lattice cell, and the patch. Cornerstone, border: which one, as Layout counts them.
    int cell = -1, patch = -1;
    /// Shapes with one number are cut from one piece of cloth; `to_cloth` takes the top's inches to the
    /// piece's (see unit::Lie), a rotation and a shift.
    int piece = 0;
    unit::Motion to_cloth;
};

struct Top {
    double width = 0, height = 0;
    double left = 0, top = 0; ///< Where the part inside the borders begins.
    std::vector<Shape> shapes;
    int pieces = 0;
};

Top top_of(const Layout& layout);

/// Finished size of the whole top, without laying it out.
struct Extent {
    double width = 0, height = 0;
};
Extent extent_of(const Plan& plan);

/// Whether the units of every pieced border fill its sides, which another number of columns or rows may
/// change. A plan that was read does.
bool borders_fit(const Plan& plan);

/// By lattice cell: where the middle of the unit lies, from the top left corner inside the borders.
std::vector<unit::Point> middles_of(const Plan& plan);

/// The fabric of the pieces that fill the edge on point and of bricks: as the plan says, else its first
/// exempt fabric, the sashing's, the innermost border's, or the lightest there is.
FabricId edge_fabric(const Plan& plan, const std::vector<palette::Fabric>& fabrics);

/// Scrappy extras: how many cornerstones there are, and patches of a pieced border (clockwise from the top
/// left corner; of units, patch by patch as their recipe lists them).
int cornerstones(const Plan& plan);
int border_patches(const Plan& plan, std::size_t border);

} // namespace motley::layout
