#pragma once
/// Where the patches or units of a pieced border lie. Private to this folder. Units: inches, finished; the
/// top left corner inside the borders is (0, 0).

#include <optional>
#include <vector>

#include "fault/fault.h"
#include "layout/frame.h"
#include "unit/plane.h"

namespace motley::layout {

struct RingPlace {
    unit::Box box;
    int side = 0;        ///< Top, right, bottom, left; a corner belongs to the side that begins with it.
    bool corner = false; ///< A square where two sides meet.
    int turn = 0;        ///< Of its unit, quarter turns.
};

struct Ring {
    std::vector<RingPlace> places;  ///< Clockwise from the top left corner.
    std::vector<unit::Box> corners; ///< Plain squares, where the corners are no places.
    std::optional<unit::Box>
        broken; ///< A unit that cannot look the same on both sides of the top's symmetry.
};

/// Plain patches are as nearly square as their side allows; units are eased in by less than a thread.
Ring ring_of(const Plan& plan, const Frame& frame, std::size_t border);

/// The edges between which a border lies: what is inside it.
unit::Box inside_border(const Plan& plan, const Frame& frame, std::size_t border);

/// Why the units of a border do not fill its sides, with sizes and spacer borders that would do.
std::optional<Problem> ring_misfit(const Plan& plan, std::size_t border);

} // namespace motley::layout
