#pragma once
/// How the pieces of a top are cut from each fabric: what the stock gives, what is left to buy, and the
/// strips in cutting order. In: a take-off, the fabrics with their stock. Out: a cutting plan for each fabric
/// that is cut.

#include <string>
#include <vector>

#include "cutting/cut_plan.h"
#include "cutting/take_off.h"

namespace motley::cutting {

/// Strips that are sewn end to end and cut to the lengths that a border or sashing needs.
struct Joined {
    int need = 0;           ///< Index into TakeOff::needs.
    bool along = false;     ///< Cut along the cloth in one piece instead: nothing is joined.
    int strips = 0;         ///< Across the whole cloth; the last one may be shorter.
    measure::Length length; ///< Of all strips joined.
};

struct FabricCuts {
    palette::FabricId fabric{};
    std::vector<int> needs;   ///< Indexes into TakeOff::needs.
    CutList list;             ///< What was asked of the plan.
    std::vector<int> need_of; ///< By piece of the list: index into TakeOff::needs.
    CutPlan plan;
    std::vector<Joined> joined;
    bool by_stock = false; ///< It has stock listed: what the plan buys is what is missing.
    measure::Length buy;   ///< In the shop's step, shrinkage and slack added.
    measure::Length spare; ///< Of what is bought, beyond the plan's length.
    int from_stock = 0;    ///< Pieces of the list cut from the stock.
    int bought = 0;        ///< Pieces of the list cut from what is bought.
};

struct Cutting {
    measure::Length usable_width;
    TakeOff take_off;
    std::vector<FabricCuts> fabrics; ///< In palette order, those that are cut.
};

/// Faults (Cause::input) name the fabric and the piece: a piece that the cloth is too narrow for.
Cutting cutting_for(const layout::Layout& layout, measure::Length usable_width);

/// `cutting.csv`: a line for each piece of each fabric.
std::string cutting_csv(const layout::Layout& layout, const Cutting& cutting);

} // namespace motley::cutting
