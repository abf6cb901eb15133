#pragma once
/// The floor of bound_kernel.h for large tops, where a kernel for every pair of cells would take too long:
/// the kernel is a sum of waves, the same everywhere on the top. Looser by what the edges allow: 9 % for four
/// uses, 2 % for sixteen, less for more.

#include "placement/bound_kernel.h"

namespace motley::placement {

/// For one group, at an even cover. O(rounds N sqrt(uses)) time, O(N) memory.
Prices wave_prices(const Gaps& gaps, const Group& group, int rounds);

} // namespace motley::placement
