#pragma once
/// The best of all, on tops so small that every filling can be tried.

#include <cstdint>

#include "placement/model.h"

namespace motley::placement {

struct Exhausted {
    layout::Assignment assignment; ///< Never worse than the start.
    bool proved = false;           ///< Nothing is cheaper; false where the steps did not suffice.
};

/// The cheapest assignment that keeps every rule, on tops of at most 16 patches, by branch and bound from
/// `start`, which keeps them; wishes' weights times ratios, as `place` counts them. Open numbers and turns
/// are gone through one by one: a shuffle gives something else for each. A step is a patch laid. Larger tops
/// come back as they are.
Exhausted cheapest(const Model& model, const layout::Assignment& start, std::int64_t steps);

} // namespace motley::placement
