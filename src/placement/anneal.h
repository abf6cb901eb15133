#pragma once
/// Improves an assignment that keeps every rule, by exchanges that keep them.

#include <chrono>
#include <functional>
#include <optional>
#include <stop_token>

#include "placement/chance.h"
#include "placement/model.h"

namespace motley::placement {

struct AnnealEffort {
    std::int64_t moves = 0;                                     ///< Exchanges to try.
    std::optional<std::chrono::steady_clock::time_point> until; ///< Instead of counting moves.
    std::stop_token stop;
    std::function<void(std::int64_t)> tried; ///< Told now and then how many more moves were tried.
};

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
