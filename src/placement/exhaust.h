#pragma once
/// The best of all, on tops so small that every filling can be tried.

#include <cstdint>
#include <optional>

#include "placement/model.h"

namespace motley::placement {

/// The cheapest assignment that keeps every rule, by branch and bound from `start`, which keeps them; wishes'
/// weights times ratios, as `place` counts them. Empty where that takes more than `steps` patches laid, and
/// where counts or turns are open: then a shuffle gives something else for each choice, and no bound holds.
std::optional<layout::Assignment> cheapest(const Model& model, const layout::Assignment& start,
                                           std::int64_t steps);

} // namespace motley::placement
