#pragma once
/// The seams between neighbours in a row, and where seams meet. Private to this folder. Units: inches,
/// finished, as rows see them (see lie.h).

#include <vector>

#include "assembly/nesting.h"
#include "assembly/rows.h"
#include "unit/plane.h"

namespace motley::assembly {

/// Upright, between two places of a row.
struct Upstanding {
    int row = 0, before = 0; ///< The place left of it.
    double x = 0, top = 0, bottom = 0;
    int fixed = -1;     ///< Way: always towards the sashing.
    double lighter = 0; ///< L* of its right side less that of its left.

    int darker() const {
        constexpr double alike = 1e-6;
        return lighter > alike ? left : lighter < -alike ? right : -1;
    }
};

std::vector<Upstanding> upstanding_seams(const layout::Layout& layout, const Rows& rows);

/// Where a seam inside a unit ends at the unit's edge.
struct Ending {
    unit::Point at;
    int side = 0;    ///< Of the unit as it lies in its row: 0 top, clockwise; -1: in a corner.
    int towards = 0; ///< +1 to the right or down, -1 to the left or up, 0 not known.
};

std::vector<Ending> endings(const layout::Layout& layout, const Rows& rows);

} // namespace motley::assembly
