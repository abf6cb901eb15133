#pragma once
/// One search for a top whose units are sewn in batches, from fabrics for the slots to units on the wall.

#include <optional>
#include <string>
#include <vector>

#include "placement/arrange.h"
#include "placement/batch.h"

namespace motley::placement {

/// What every search shares and none changes.
struct KitTables {
    explicit KitTables(const layout::Brief& brief) : wall(brief), model(brief) {}
    Wall wall;
    KitModel model;
};

struct KitTop {
    layout::Assignment assignment;
    std::vector<std::string> broken; ///< As layout::broken_rules, and what does not hold inside the makings.
    int twins = 0;                   ///< Pairs of units of one set that meet: no rule, but as few as can be.
    std::int64_t moves = 0;
    std::optional<std::chrono::steady_clock::time_point> first_valid;
};

KitTop place_kit(const KitTables& tables, Chance& chance, const AnnealEffort& effort);

} // namespace motley::placement
