#pragma once
/// Improves an assignment that keeps every rule, by exchanges that keep them.

#include "placement/chance.h"
#include "placement/cooling.h"
#include "placement/model.h"

namespace motley::placement {

struct Annealed {
    layout::Assignment assignment; ///< Keeps every rule when the start did.
    std::int64_t moves = 0;
};

/// Simulated annealing (Kirkpatrick, Gelatt, Vecchi 1983) on wishes' weights times ratios. The temperature
/// falls geometrically with the moves made, from a level read off sampled exchanges; then a descent until no
/// exchange tried helps.
Annealed anneal(const Model& model, const layout::Assignment& start, Chance& chance,
                const AnnealEffort& effort);

} // namespace motley::placement
