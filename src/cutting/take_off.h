#pragma once
/// What must be cut for a placed top, taken off the layout: every piece with its cut size, how many of it,
/// and what they fill. In: a layout. Out: one line for each fabric, use and size. Units: exact lengths,
/// square inches.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "measure/length.h"
#include "palette/palette.h"

namespace motley::cutting {

/// What a piece is for, in the order in which a quilt is sewn.
enum class Use : std::uint8_t {
    unit,
    strip_set, ///< A strip across the whole cloth, sewn to others and cut across.
    plain_block,
    side_triangle,
    corner_triangle,
    half_unit,
    sash,
    cornerstone,
    border,        ///< A strip of it.
    border_corner, ///< A square at its corner.
    border_patch,  ///< Of a pieced border.
    binding,
};

struct Need {
    palette::FabricId fabric{};
    Use use = Use::unit;
    std::string name;              ///< "print square", "border 1, sides": for people.
    measure::Length width, length; ///< As cut: across the cloth and along it.
    int count = 0;                 ///< Rectangles to cut.
    int cut_into = 1;              ///< Pieces from each: 2 a square cut once, 4 twice; sections of a strip.
    int used = 0;                  ///< Pieces that the top takes; at most count * cut_into.
    bool joined = false;           ///< Longer than the cloth is wide: may be joined end to end.
    int border = -1;               ///< Which one, from the inside out.
    double shown_sq_in = 0;        ///< Of the finished top.

    int spare() const { return count * cut_into - used; }
};

struct TakeOff {
    std::vector<Need> needs; ///< By fabric, then use, then the largest first.
    int units = 0;           ///< In the top.
    int spare_units = 0;     ///< That the sewing yields besides, where units are sewn in batches.
    int strip_sets = 0;      ///< To sew.
};

/// `usable_width` of the cloth may differ from the plan's: strips then give more or fewer sections. Sizes
/// that are no ruler's marks are rounded up to 1/8 in or 5 mm. Fault (Cause::input): a section is wider than
/// the cloth.
TakeOff take_off(const layout::Layout& layout, measure::Length usable_width);

/// How a use is called: "units", "strip sets", "side triangles".
std::string name_of(Use use);

} // namespace motley::cutting
