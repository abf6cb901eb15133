#pragma once
/// The exact floor for a fabric used only a few times: the cheapest of all ways to choose its cells.

#include <cstdint>
#include <optional>
#include <vector>

#include "placement/bound_kernel.h"

namespace motley::placement {

/// The least, over all sets of so many cells with no barred pair, of the sum of 1/d^2 over pairs less the
/// prices of the cells: by branch and bound. `price` is the same in cells that are mirror images. Empty when
/// that takes more than `steps` looks at a cell (they are taken off), or there is no such set.
std::optional<double> cheapest_handful(const Gaps& gaps, const std::vector<double>& price, int uses,
                                       std::int64_t& steps);

constexpr int most_sharpened_uses = 5;

/// Raises what a group's prices prove, where its fabrics (uses falling) are used at most
/// `most_sharpened_uses` times: each fabric then costs at least its cheapest handful. With `alone`, where the
/// group covers every cell and all are used as often, the prices too are moved towards their best.
void sharpen(const Gaps& gaps, const std::vector<int>& uses, bool alone, Prices& prices);

} // namespace motley::placement
