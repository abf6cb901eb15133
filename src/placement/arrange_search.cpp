#include "placement/arrange_search.h"

#include <utility>

#include "layout/score.h"

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

Start start_once(const KitTables& tables, Chance& chance, const std::stop_token& stop, bool by_sets) {
    Start start;
    start.slots = choose_batches(tables.model, chance);
    const Units units(tables.wall, start.slots);
    start.hung = hang(units, chance, stop, by_sets);
    const HangingTally tally = Hanging(units, Prices{}, start.hung, false).tally();
    start.rules = tally.rules;
    start.twins = tally.twins;
    return start;
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
    constexpr int starts = 6, starts_for_twins = 2;
    for (int k = 0; k < starts; ++k) {
        if (k > 0 && (best.rules == 0 && (best.twins == 0 || k >= starts_for_twins))) break;
        const bool hopeless =
            k >= starts_for_twins && best.rules > static_cast<std::int64_t>(tables.wall.places.size()) / 20;
        if (k > 0 && (hopeless || out_of_time())) break;
        if (Start next = start_once(tables, chance, effort.stop, k % 2 == 1); next < best)
            best = std::move(next);
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
