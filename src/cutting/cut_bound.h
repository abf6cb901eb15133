#pragma once
/// Less cannot be bought: bounds beyond what prices alone prove. Private to this folder.

#include <cstdint>
#include <vector>

#include "cutting/cut_search.h"
#include "cutting/cut_stock.h"

namespace motley::cutting {

/// How strips become a purchase. Ticks.
struct Purchase {
    std::int64_t extra = 0; ///< Ends and slack, as soon as anything is bought.
    std::int64_t step = 1;

    std::int64_t bought(std::int64_t strips) const {
        return strips == 0 ? 0 : (strips + extra + step - 1) / step * step;
    }
    /// The longest strips that cost no more.
    std::int64_t as_dear(std::int64_t strips) const { return bought(strips) - extra; }
    /// The longest strips that cost less; below 0 when nothing can.
    std::int64_t cheaper(std::int64_t strips) const { return bought(strips) - step - extra; }
};

/// Tries everything where that is little enough: first for less to be bought, then for a shorter plan. May
/// make `best`, a plan for the yardage alone, better; gives a bound. Expects prices found without sheets.
std::int64_t settle(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, RowPlan& best,
                    const Purchase& purchase);

/// A bound from what the sheets cannot give of each kind even if they gave nothing else.
std::int64_t bound_beside_stock(const Frame& frame, const Frame& below, const std::vector<Kind>& kinds,
                                const Stock& stock, std::int64_t best, const Purchase& purchase);

/// A bound from what area the sheets give at most, whatever of each kind and in however many stages, and what
/// is left over for strips as long as `across`. Ticks.
std::int64_t area_beside_stock(const std::vector<Kind>& kinds, const Stock& stock, std::int64_t across);

} // namespace motley::cutting
