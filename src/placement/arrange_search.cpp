#include "placement/arrange_search.h"

#include <functional>
#include <utility>

#include "layout/score.h"
#include "placement/arrange_skeleton.h"

namespace motley::placement {

namespace {

using Clock = std::chrono::steady_clock;

/// Fabrics for the slots, and units hung so that they break little.
struct Start {
    std::vector<layout::FabricId> slots;
    Hung hung;
    std::int64_t rules = INT64_MAX, twins = INT64_MAX;
    bool operator<(const Start& other) const {
        return std::pair{rules, twins} < std::pair{other.rules, other.twins};
    }
};

Start hung(const Wall& wall, std::vector<layout::FabricId> slots, Hung units_hung) {
    Start start;
    const Units units(wall, slots);
    const HangingTally tally = Hanging(units, Prices{}, units_hung, false).tally();
    start.slots = std::move(slots);
    start.hung = std::move(units_hung);
    start.rules = tally.rules;
    start.twins = tally.twins;
    return start;
}

Start start_once(const KitTables& tables, Chance& chance, const std::stop_token& stop, bool by_sets) {
    std::vector<layout::FabricId> slots = choose_batches(tables.model, chance);
    Hung wall_full = hang(Units(tables.wall, slots), chance, stop, by_sets);
    return hung(tables.wall, std::move(slots), std::move(wall_full));
}

/// From a skeleton of one role; then other fabrics into the sets and the units hung better, in turn.
Start start_by_role(const KitTables& tables, int number, Chance& chance, const std::function<bool()>& over,
                    const std::stop_token& stop) {
    std::vector<layout::FabricId> slots = choose_batches(tables.model, chance);
    Hung first;
    {
        const Units units(tables.wall, slots);
        const std::vector<int> roles = skeleton_roles(units);
        if (roles.empty()) return {};
        first =
            hang_by_role(units, roles[static_cast<std::size_t>(number) % roles.size()], chance, over, stop);
        first = mended(units, std::move(first), chance, stop);
    }
    Start best = hung(tables.wall, slots, std::move(first));
    constexpr int rounds = 3;
    for (int round = 0; round < rounds && best.rules > 0 && !over(); ++round) {
        slots = refit(tables.wall, tables.model, best.slots, best.hung, chance, over);
        Hung better = mended(Units(tables.wall, slots), best.hung, chance, stop);
        if (Start next = hung(tables.wall, slots, std::move(better)); next < best) best = std::move(next);
    }
    return best;
}

std::vector<std::string> broken_in(const layout::Brief& brief, const layout::Assignment& assignment) {
    std::vector<std::string> broken = layout::broken_rules(brief, assignment);
    for (std::string& sentence : batch_breaches(brief, assignment.slots))
        broken.push_back(std::move(sentence));
    return broken;
}

} // namespace

KitTop place_kit(const KitTables& tables, Chance& chance, const AnnealEffort& effort) {
    const auto out_of_time = [&] {
        return effort.stop.stop_requested() || (effort.until && Clock::now() > *effort.until);
    };
    Start best;
    // Other fabrics in the sets may lie where these do not. Twins that meet are a reason to try once more, no
    // oftener: where sets are few they must.
    constexpr int starts_for_twins = 2, by_role = 4, starts = 8;
    for (int k = 0; k < starts; ++k) {
        if (k > 0 && (best.rules == 0 && (best.twins == 0 || k >= starts_for_twins))) break;
        const bool hopeless =
            k >= by_role && best.rules > static_cast<std::int64_t>(tables.wall.places.size()) / 20;
        if (k > 0 && (hopeless || out_of_time())) break;
        Start next = k >= starts_for_twins && k < by_role
                         ? start_by_role(tables, k - starts_for_twins, chance, out_of_time, effort.stop)
                         : start_once(tables, chance, effort.stop, k % 2 == 1);
        if (next < best) best = std::move(next);
    }
    KitTop top;
    const Units units(tables.wall, best.slots);
    if (best.rules == 0) top.first_valid = Clock::now();
    const Prices prices = prices_of(units, best.hung, chance);
    Arranged arranged = rearrange(units, prices, best.hung, chance, effort);
    if (best.rules > 0 && arranged.tally.rules == 0) top.first_valid = Clock::now();
    top.assignment = spell_out(units, arranged.hung);
    top.broken = broken_in(tables.wall.brief, top.assignment);
    top.twins = static_cast<int>(arranged.tally.twins);
    top.moves = arranged.moves;
    if (!top.broken.empty()) top.first_valid.reset();
    return top;
}

} // namespace motley::placement
