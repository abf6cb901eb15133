#include "placement/symmetric.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "placement/price.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

Tally difference(const Tally& after, const Tally& before) {
    return {after.spread - before.spread, after.colour - before.colour,   after.value - before.value,
            after.light - before.light,   after.windows - before.windows, after.broken - before.broken};
}

using Orbit = std::vector<int>;

/// Fills the largest orbits first, each with the fabric whose share is furthest from met.
layout::Assignment pour_orbits(const Model& model, const layout::Orbits& orbits, Chance& chance) {
    layout::Assignment out;
    out.patches.assign(at(model.patches), layout::FabricId{static_cast<std::uint16_t>(model.fabrics - 1)});
    for (const int turn : orbits.turns) out.turns.push_back(static_cast<std::uint8_t>(turn));
    std::vector<std::vector<int>> left = model.brief.shares;
    std::vector<int> order(orbits.patches.size());
    std::iota(order.begin(), order.end(), 0);
    chance.shuffle(order);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
        return orbits.patches[at(a)].size() > orbits.patches[at(b)].size();
    });
    const auto lay = [&](const Orbit& orbit, int f) {
        for (const int patch : orbit) {
            out.patches[at(patch)] = layout::FabricId{static_cast<std::uint16_t>(f)};
            --left[at(patch % model.places)][at(f)];
        }
    };
    const auto pinned = [&](const Orbit& orbit) {
        for (const int patch : orbit)
            if (model.brief.pinned[at(patch)] != layout::no_fabric)
                return static_cast<int>(layout::index(model.brief.pinned[at(patch)]));
        return -1;
    };
    for (const Orbit& orbit : orbits.patches)
        if (const int f = pinned(orbit); f >= 0) lay(orbit, f);
    for (const int o : order) {
        const Orbit& orbit = orbits.patches[at(o)];
        if (pinned(orbit) >= 0) continue;
        const std::size_t place = at(orbit.front() % model.places);
        int best = -1;
        for (int f = 0; f < model.fabrics; ++f)
            if (model.brief.role_counts[place][at(f)].most > 0 &&
                (best < 0 || left[place][at(f)] > left[place][at(best)]))
                best = f;
        lay(orbit, best);
    }
    return out;
}

} // namespace

layout::Assignment place_symmetric(const Model& model, const layout::Orbits& orbits, Chance& chance,
                                   const SymmetricEffort& effort) {
    const layout::Assignment start = pour_orbits(model, orbits, chance);
    Price price(model, start);
    State state(model, start, price.watch());
    price.set_base(state.base());
    // Orbits that can change places: of one size, in one role, without a pin.
    std::vector<std::vector<const Orbit*>> groups;
    for (const Orbit& orbit : orbits.patches) {
        if (std::any_of(orbit.begin(), orbit.end(),
                        [&](int patch) { return model.brief.pinned[at(patch)] != layout::no_fabric; }))
            continue;
        const auto fits = [&](const std::vector<const Orbit*>& group) {
            return group.front()->size() == orbit.size() &&
                   group.front()->front() % model.places == orbit.front() % model.places;
        };
        const auto group = std::find_if(groups.begin(), groups.end(), fits);
        if (group == groups.end())
            groups.push_back({&orbit});
        else
            group->push_back(&orbit);
    }
    std::erase_if(groups, [](const auto& group) { return group.size() < 2; });
    if (groups.empty()) return start;
    std::vector<int> by_size; // A group is drawn as often as it has orbits.
    for (std::size_t g = 0; g < groups.size(); ++g)
        by_size.insert(by_size.end(), groups[g].size(), static_cast<int>(g));

    const Thresholds thresholds;
    constexpr double per_break = 1; // Of the price, where a shuffle costs 1 in all: far above any exchange.
    layout::Assignment best = start;
    Tally best_tally = state.tally();
    double best_price = price.of(best_tally);
    const auto keep = [&] {
        best = state.assignment();
        best_tally = state.tally();
        best_price = price.of(best_tally);
    };
    const std::int64_t moves = std::max<std::int64_t>(1, effort.moves);
    for (std::int64_t move = 0; move < moves; ++move) {
        if (move % 256 == 0 && effort.stop.stop_requested()) break;
        const double done = static_cast<double>(move) / static_cast<double>(moves);
        const double temperature = 0.02 * std::exp(done * std::log(1e-4));
        const auto& group = groups[at(by_size[at(chance.below(static_cast<int>(by_size.size())))])];
        const Orbit& a = *group[at(chance.below(static_cast<int>(group.size())))];
        const Orbit& b = *group[at(chance.below(static_cast<int>(group.size())))];
        if (state.fabric(a.front()) == state.fabric(b.front())) continue;
        const Tally before = state.tally();
        for (std::size_t k = 0; k < a.size(); ++k) state.exchange(a[k], b[k]);
        const Tally gain = difference(state.tally(), before);
        const double step = price.of(before, gain) + per_break * static_cast<double>(gain.broken);
        if (step > 0 && (temperature <= 0 || step / temperature > thresholds.draw(chance.bits()))) {
            for (std::size_t k = 0; k < a.size(); ++k) state.exchange(a[k], b[k]);
            continue;
        }
        // Kept on the way where a rule fewer is broken: what counts otherwise is where it ends.
        if (state.tally().broken < best_tally.broken) keep();
    }
    if (state.tally().broken == best_tally.broken && price.of(state.tally()) < best_price) keep();
    return best;
}

std::vector<Problem> symmetry_obstacles(const layout::Brief& brief, const layout::Orbits& orbits) {
    if (!orbits.obstacle.empty()) return {{"", "impossible: " + orbits.obstacle, ""}};
    const Model model(brief);
    std::vector<char> open(at(model.places), 0); // Places that a background may fill.
    for (int p = 0; p < model.places; ++p)
        for (int f = 0; f < model.fabrics; ++f)
            if (model.exempt(f) && brief.role_counts[at(p)][at(f)].most > 0) open[at(p)] = 1;
    for (const Orbit& orbit : orbits.patches)
        for (std::size_t i = 0; i < orbit.size(); ++i)
            for (std::size_t j = i + 1; j < orbit.size(); ++j) {
                const int a = orbit[i] / model.places, b = orbit[j] / model.places;
                if (a == b || open[at(orbit[i] % model.places)] != 0 ||
                    !model.conflict(orbit[i], orbits.turns[at(a)], orbit[j], orbits.turns[at(b)]))
                    continue;
                return {{"",
                         fmt::format("impossible: with this symmetry the units at {} and {} show the same "
                                     "fabric, and they come too near to each other for the rules",
                                     brief.board.place(a), brief.board.place(b)),
                         "use an odd number of rows and columns, or set \"touching\" to \"free\""}};
            }
    return {};
}

} // namespace motley::placement
