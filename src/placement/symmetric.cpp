#include "placement/symmetric.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <utility>

#include "placement/price.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

using Orbit = std::vector<int>;

/// Fabrics that can lie on patches that are there.
int real_fabrics(const layout::Brief& brief) {
    return static_cast<int>(brief.names.size()) - (brief.names.back().empty() ? 1 : 0);
}

class Pouring {
public:
    Pouring(const Model& model, const layout::Orbits& orbits, Chance& chance)
        : model_(model),
          orbits_(orbits),
          fabrics_(real_fabrics(model.brief)),
          left_(model.brief.shares),
          used_(at(fabrics_)),
          filled_(orbits.patches.size()) {
        // What is not there shows the fabric that is none.
        out_.patches.assign(at(model.patches),
                            layout::FabricId{static_cast<std::uint16_t>(model.fabrics - 1)});
        for (const int turn : orbits.turns) out_.turns.push_back(static_cast<std::uint8_t>(turn));
        order_.resize(orbits.patches.size());
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        chance.shuffle(order_);
        std::stable_sort(order_.begin(), order_.end(),
                         [&](std::size_t a, std::size_t b) { return size(a) > size(b); });
    }

    /// Pins; counts that are exact, which may need small orbits to come out; then the largest orbits first,
    /// each with the fabric whose share is furthest from met.
    layout::Assignment run() {
        for (std::size_t o = 0; o < filled_.size(); ++o)
            for (const int patch : orbits_.patches[o])
                if (const layout::FabricId pin = model_.brief.pinned[at(patch)];
                    pin != layout::no_fabric && !filled_[o])
                    lay(o, static_cast<int>(layout::index(pin)));
        for (int f = 0; f < fabrics_; ++f)
            if (model_.brief.counts[at(f)].least == model_.brief.counts[at(f)].most) lay_exactly(f);
        for (const std::size_t o : order_) {
            if (filled_[o]) continue;
            int best = -1;
            for (int f = 0; f < fabrics_; ++f)
                if (allowed(o, f) && (best < 0 || rank(o, f) > rank(o, best))) best = f;
            expects(best >= 0);
            lay(o, best);
        }
        return std::move(out_);
    }

private:
    int size(std::size_t o) const { return static_cast<int>(orbits_.patches[o].size()); }
    bool fits(std::size_t o, int f) const {
        return used_[at(f)] + size(o) <= model_.brief.counts[at(f)].most;
    }
    bool allowed(std::size_t o, int f) const {
        return std::all_of(orbits_.patches[o].begin(), orbits_.patches[o].end(), [&](int patch) {
            return model_.brief.role_counts[at(patch % model_.places)][at(f)].most > 0;
        });
    }
    int lacks(std::size_t o, int f) const {
        int sum = 0;
        for (const int patch : orbits_.patches[o]) sum += left_[at(patch % model_.places)][at(f)];
        return sum;
    }
    std::pair<bool, int> rank(std::size_t o, int f) const { return {fits(o, f), lacks(o, f)}; }

    void lay(std::size_t o, int f) {
        for (const int patch : orbits_.patches[o]) {
            out_.patches[at(patch)] = layout::FabricId{static_cast<std::uint16_t>(f)};
            --left_[at(patch % model_.places)][at(f)];
        }
        used_[at(f)] += size(o);
        filled_[o] = 1;
    }

    /// The odd one first, then the odd pair, then the largest that fit.
    void lay_exactly(int f) {
        const int wanted = model_.brief.counts[at(f)].most;
        for (const int small : {1, 2})
            if ((wanted - used_[at(f)]) % (2 * small) != 0) lay_one(f, small);
        for (const int large : {4, 2, 1})
            while (used_[at(f)] + large <= wanted && lay_one(f, large)) continue;
    }

    bool lay_one(int f, int of_size) {
        std::size_t best = filled_.size();
        for (const std::size_t o : order_)
            if (!filled_[o] && size(o) == of_size && fits(o, f) && allowed(o, f) &&
                (best == filled_.size() || lacks(o, f) > lacks(best, f)))
                best = o;
        if (best == filled_.size()) return false;
        lay(best, f);
        return true;
    }

    const Model& model_;
    const layout::Orbits& orbits_;
    int fabrics_;
    std::vector<std::vector<int>> left_; // [place][fabric] of the shares.
    std::vector<int> used_;              // [fabric]
    std::vector<char> filled_;           // [orbit]
    std::vector<std::size_t> order_;
    layout::Assignment out_;
};

/// Orbits that can change places without a pin or a count noticing.
std::vector<std::vector<const Orbit*>> exchangeable(const Model& model, const layout::Orbits& orbits) {
    std::map<std::vector<int>, std::vector<const Orbit*>> alike; // By the places of their patches.
    for (const Orbit& orbit : orbits.patches) {
        std::vector<int> places;
        bool free = true;
        for (const int patch : orbit) {
            places.push_back(patch % model.places);
            free = free && model.brief.pinned[at(patch)] == layout::no_fabric;
        }
        if (free) alike[places].push_back(&orbit);
    }
    std::vector<std::vector<const Orbit*>> groups;
    for (auto& [places, group] : alike)
        if (group.size() > 1) groups.push_back(std::move(group));
    return groups;
}

/// What a move did, so that it can be taken back.
class Moves {
public:
    Moves(const Model& model, const layout::Orbits& orbits, State& state, Chance& chance)
        : orbits_(orbits), state_(state), chance_(chance), groups_(exchangeable(model, orbits)) {
        for (std::size_t g = 0; g < groups_.size(); ++g) // A group is drawn as often as it has orbits.
            by_size_.insert(by_size_.end(), groups_[g].size(), g);
        turns_ = model.places > 1 && !orbits.turnings.empty();
    }

    bool none() const { return groups_.empty() && !turns_; }

    /// False when nothing changed.
    bool make() {
        a_ = b_ = nullptr;
        before_.clear();
        if (turns_ && (groups_.empty() || chance_.below(4) == 0)) return turn();
        const auto& group = groups_[by_size_[at(chance_.below(static_cast<int>(by_size_.size())))]];
        const Orbit* a = group[at(chance_.below(static_cast<int>(group.size())))];
        const Orbit* b = group[at(chance_.below(static_cast<int>(group.size())))];
        if (state_.fabric(a->front()) == state_.fabric(b->front())) return false;
        a_ = a, b_ = b;
        exchange();
        return true;
    }

    void take_back() {
        if (a_) return exchange();
        for (const auto& [cell, pose] : before_) state_.pose_to(cell, pose);
    }

private:
    bool turn() {
        const auto& all = orbits_.turnings;
        const layout::Turning& turning = all[at(chance_.below(static_cast<int>(all.size())))];
        const auto& way = turning.ways[at(chance_.below(static_cast<int>(turning.ways.size())))];
        if (state_.pose(turning.cells.front()) == way.front()) return false;
        for (std::size_t i = 0; i < way.size(); ++i) {
            before_.emplace_back(turning.cells[i], state_.pose(turning.cells[i]));
            state_.pose_to(turning.cells[i], way[i]);
        }
        return true;
    }

    void exchange() {
        for (std::size_t k = 0; k < a_->size(); ++k) state_.exchange((*a_)[k], (*b_)[k]);
    }

    const layout::Orbits& orbits_;
    State& state_;
    Chance& chance_;
    std::vector<std::vector<const Orbit*>> groups_;
    std::vector<std::size_t> by_size_;
    bool turns_ = false;
    const Orbit *a_ = nullptr, *b_ = nullptr;
    std::vector<std::pair<int, int>> before_; // Cells that were turned, and how they lay.
};

} // namespace

Symmetric place_symmetric(const Model& model, const layout::Orbits& orbits, Chance& chance,
                          const AnnealEffort& effort) {
    const layout::Assignment start = Pouring(model, orbits, chance).run();
    Price price(model, start);
    State state(model, start, price.watch());
    price.set_base(state.base());
    Moves walk(model, orbits, state, chance);
    if (walk.none()) return {start, 0};

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
    constexpr std::int64_t at_a_time = 64;
    constexpr double hot = 0.02, cold = 0.02e-4;
    const Cooling cooling(effort, hot, cold);
    double temperature = hot;
    std::int64_t move = 0;
    for (;; ++move) {
        if (move % at_a_time == 0) {
            const std::optional<double> next = cooling.after(move);
            if (!next) break;
            temperature = *next;
            if (effort.tried && move > 0) effort.tried(at_a_time);
        }
        const Tally before = state.tally();
        if (!walk.make()) continue;
        const Tally gain = state.tally() - before;
        const double step = price.of(before, gain) + per_break * static_cast<double>(gain.broken);
        if (step > 0 && (step / temperature > thresholds.draw(chance.bits()))) {
            walk.take_back();
            continue;
        }
        // Kept on the way where a rule fewer is broken: what counts otherwise is where it ends.
        if (state.tally().broken < best_tally.broken) keep();
    }
    if (state.tally().broken == best_tally.broken && price.of(state.tally()) < best_price) keep();
    return {std::move(best), move};
}

} // namespace motley::placement
