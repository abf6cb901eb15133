#pragma once
/// What having each piece cut is worth, and from that a lower bound on any plan. Private to this folder.
/// Prices under which no strip is worth more than its height bound every plan from below by what all pieces
/// are worth (weak duality). They come from column generation (Gilmore and Gomory, 1961 and 1965), where a
/// pattern is a whole strip; whether they hold is checked for every height in whole numbers, so that rounding
/// inside the linear program can make the bound weaker but never wrong.

#include <cstdint>
#include <vector>

#include "cutting/cut_strip.h"

namespace motley::cutting {

/// So many copies of a sheet, and how strips may run in it.
struct SheetFrames {
    int count = 0;
    std::vector<Frame> frames; ///< Across, then along; those in which nothing fits are left out.
};

struct Prices {
    std::vector<std::int64_t> values; ///< Per kind, in units of the frame's height times `value_scale`.
    std::int64_t bound = 0;           ///< Ticks; no plan for the yardage is shorter.
    struct Share {
        Row row;
        double amount = 0;
    };
    std::vector<Share> mix; ///< The strips of the linear program's solution.
};

/// Prices for the yardage of `frame` (sheets are used up first, free of cost). `known`: ticks of a plan that
/// exists, which the bound never exceeds. `frame` must be rounded down for the bound to be one.
Prices find_prices(const Frame& frame, const std::vector<SheetFrames>& sheets, const std::vector<Kind>& kinds,
                   std::int64_t known, Work& work);

/// By area: a price under which no strip can pay.
std::vector<std::int64_t> area_values(const Frame& frame, std::size_t kinds);

} // namespace motley::cutting
