#include "placement/start.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>

#include "placement/state.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// The step of a knight's-move diagonal: cells (r, first + step * r) share no column (r below the long side)
/// and keep as far apart as any step can keep them.
int diagonal_step(int longer, int shorter) {
    int best = 1, best_apart = 0;
    for (int step = 1; step < longer; ++step) {
        if (std::gcd(step, longer) != 1) continue;
        int apart = longer;
        for (int k = 1; k < shorter && k < apart; ++k) {
            const int across = std::min(step * k % longer, longer - step * k % longer);
            apart = std::min(apart, std::max(k, across));
        }
        if (apart > best_apart) best = step, best_apart = apart;
    }
    return best;
}

/// The class of every cell: cells of one class may carry one fabric. Numbered row by row or, with `down`,
/// column by column.
std::vector<int> cell_classes(const Model& model, bool down = false) {
    const layout::Rules& rules = model.brief.rules;
    std::vector<int> classes(at(model.cells));
    const bool wide = model.columns >= model.rows;
    const int longer = std::max(model.columns, model.rows), shorter = std::min(model.columns, model.rows);
    const int step = rules.line ? diagonal_step(longer, shorter) : 1;
    const int apart = std::max(rules.apart, rules.touching == layout::Touching::corner ? 2 : 1);
    for (int cell = 0; cell < model.cells; ++cell) {
        const int r = cell / model.columns, c = cell % model.columns;
        int& own = classes[at(cell)];
        if (rules.line)
            own = wide ? (c + step * r) % longer : (r + step * c) % longer;
        else if (apart >= 2)
            own = down ? c % apart * apart + r % apart : r % apart * apart + c % apart;
        else if (rules.touching == layout::Touching::edge)
            own = (r + c) % 2;
    }
    return classes;
}

/// Cells class by class, the largest class first, equal ones in an order of chance; within a class along the
/// rows, from either end.
std::vector<int> pouring_order(const Model& model, Chance& chance) {
    const std::vector<int> classes = cell_classes(model);
    const int kinds = *std::max_element(classes.begin(), classes.end()) + 1;
    std::vector<std::vector<int>> cells(at(kinds));
    const bool from_below = chance.below(2) == 1, from_right = chance.below(2) == 1;
    for (int i = 0; i < model.cells; ++i) {
        const int r = from_below ? model.rows - 1 - i / model.columns : i / model.columns;
        const int c = from_right ? model.columns - 1 - i % model.columns : i % model.columns;
        const int cell = r * model.columns + c;
        cells[at(classes[at(cell)])].push_back(cell);
    }
    chance.shuffle(cells);
    std::stable_sort(cells.begin(), cells.end(),
                     [](const auto& a, const auto& b) { return a.size() > b.size(); });
    std::vector<int> order;
    for (const std::vector<int>& one : cells) order.insert(order.end(), one.begin(), one.end());
    return order;
}

} // namespace

layout::Assignment pour(const Model& model, Chance& chance) {
    const layout::Brief& brief = model.brief;
    layout::Assignment out;
    out.patches = brief.pinned;
    for (const int turn : brief.turns)
        out.turns.push_back(static_cast<std::uint8_t>(turn >= 0 ? turn : chance.below(4)));
    const std::vector<int> order = pouring_order(model, chance);
    for (int p = 0; p < model.places; ++p) {
        std::vector<int> left = brief.shares[at(p)];
        for (int cell = 0; cell < model.cells; ++cell)
            if (const auto pin = brief.pinned[at(cell * model.places + p)]; pin != layout::no_fabric)
                --left[index(pin)];
        std::vector<int> fabrics(at(model.fabrics));
        std::iota(fabrics.begin(), fabrics.end(), 0);
        chance.shuffle(fabrics);
        std::stable_sort(fabrics.begin(), fabrics.end(),
                         [&](int f, int g) { return left[at(f)] > left[at(g)]; });
        std::size_t next = 0;
        for (const int cell : order) {
            layout::FabricId& patch = out.patches[at(cell * model.places + p)];
            if (patch != layout::no_fabric) continue;
            while (left[at(fabrics[next])] == 0) ++next;
            --left[at(fabrics[next])];
            patch = layout::FabricId{static_cast<std::uint16_t>(fabrics[next])};
        }
    }
    return out;
}

std::vector<int> purely_poured(const Model& model, bool down) {
    std::vector<int> out(at(model.patches), -1);
    if (model.places > 1) return out;
    const std::vector<int> classes = cell_classes(model, down);
    const auto by_falling = [](const std::vector<int>& sizes) {
        std::vector<int> order(sizes.size());
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(),
                         [&](int a, int b) { return sizes[at(a)] > sizes[at(b)]; });
        return order;
    };
    std::vector<int> sizes(at(*std::max_element(classes.begin(), classes.end()) + 1));
    for (const int one : classes) ++sizes[at(one)];
    const std::vector<int> largest = by_falling(sizes), most_used = by_falling(model.brief.shares[0]);
    std::vector<int> fabric_of(sizes.size(), -1);
    for (std::size_t k = 0; k < std::min(largest.size(), most_used.size()); ++k)
        fabric_of[at(largest[k])] = most_used[k];
    for (int cell = 0; cell < model.cells; ++cell) out[at(cell)] = fabric_of[at(classes[at(cell)])];
    return out;
}

namespace {

/// Tabu search on broken rules: take a patch in trouble, make the exchange that helps most, do not undo it
/// for a while.
class RuleMending {
public:
    RuleMending(const Model& model, const layout::Assignment& start, Chance& chance)
        : model_(model),
          state_(model, start, Watch{false, false, false}),
          chance_(chance),
          best_(start),
          best_broken_(state_.tally().broken) {
        for (int patch = 0; patch < model.patches; ++patch)
            if (model.brief.pinned[at(patch)] == layout::no_fabric) movable_.push_back(patch);
        tabu_.assign(std::size_t{1} << 18, 0);
    }

    layout::Assignment run(std::int64_t steps, const std::stop_token& stop) {
        for (step_ = 1; step_ <= steps && state_.tally().broken > 0 && !stop.stop_requested(); ++step_) {
            collect_troubled();
            if (troubled_.empty()) break; // Only pinned patches are in trouble with each other.
            const int i = troubled_[at(chance_.below(static_cast<int>(troubled_.size())))];
            if (!turn_helps(i) && !is_pinned(i)) exchange_best(i);
            if (state_.tally().broken < best_broken_) {
                best_broken_ = state_.tally().broken;
                best_ = state_.assignment();
            }
        }
        return best_;
    }

private:
    /// Hashed: two entries that share a slot bar a little more than they should, which does no harm.
    std::int64_t& tabu(int patch, int f) {
        return tabu_[(at(f) * at(model_.patches) + at(patch)) * 0x9E3779B97F4A7C15ULL >> 46];
    }

    bool is_pinned(int patch) const { return model_.brief.pinned[at(patch)] != layout::no_fabric; }
    bool turns(int patch) const { return model_.brief.turns[at(patch / model_.places)] < 0; }

    /// Patches in trouble that can do something about it: take another fabric, or be turned.
    void collect_troubled() {
        troubled_.clear();
        for (const int patch : movable_)
            if (state_.in_trouble(patch)) troubled_.push_back(patch);
        if (!model_.turns_matter()) return;
        for (int patch = 0; patch < model_.patches; ++patch)
            if (is_pinned(patch) && turns(patch) && state_.in_trouble(patch)) troubled_.push_back(patch);
    }

    bool turn_helps(int patch) {
        const int cell = patch / model_.places;
        if (!model_.turns_matter() || model_.brief.turns[at(cell)] >= 0) return false;
        const int before = state_.pose(cell);
        const std::int64_t broken = state_.tally().broken;
        const int first = chance_.below(3) + 1;
        for (int k = 0; k < 3; ++k) {
            state_.pose_to(cell, (before + 1 + (first + k) % 3) % 4);
            if (state_.tally().broken < broken) return true;
        }
        state_.pose_to(cell, before);
        return false;
    }

    void exchange_best(int i) {
        const int f = state_.fabric(i), place = i % model_.places;
        const int n = static_cast<int>(movable_.size());
        std::int64_t best = INT64_MAX;
        int partner = -1, ties = 0;
        for (int k = 0, from = chance_.below(n); k < std::min(n, most_asked); ++k) {
            const int j = movable_[at((from + k) % n)];
            const int g = state_.fabric(j);
            if (g == f || !may_exchange(place, f, j, g)) continue;
            const std::int64_t step = state_.exchange_breaks(i, j);
            const bool barred =
                (tabu(i, g) > step_ || tabu(j, f) > step_) && state_.tally().broken + step >= best_broken_;
            if (barred || step > best) continue;
            ties = step < best ? 1 : ties + 1;
            best = step;
            if (chance_.below(ties) == 0) partner = j;
            if (best < -1) break; // Good enough on a large top: better seldom follows.
        }
        if (partner < 0) return;
        const int g = state_.fabric(partner);
        state_.exchange(i, partner);
        const std::int64_t tenure =
            step_ + static_cast<std::int64_t>(troubled_.size()) / 2 + 5 + chance_.below(10);
        tabu(i, f) = tenure;
        tabu(partner, g) = tenure;
    }

    bool may_exchange(int p, int f, int j, int g) const {
        const int q = j % model_.places;
        if (p == q) return true;
        const auto fits = [&](int place, int out, int in) {
            const auto& ranges = model_.brief.role_counts[at(place)];
            return state_.uses_in_place(place, out) > ranges[at(out)].least &&
                   state_.uses_in_place(place, in) < ranges[at(in)].most;
        };
        return fits(p, f, g) && fits(q, g, f);
    }

    static constexpr int most_asked = 2000; // Partners, for one exchange.

    const Model& model_;
    State state_;
    Chance& chance_;
    std::vector<int> movable_, troubled_;
    std::vector<std::int64_t> tabu_; // Until which step a fabric may not come back to a patch.
    layout::Assignment best_;
    std::int64_t best_broken_;
    std::int64_t step_ = 0;
};

} // namespace

layout::Assignment mend_rules(const Model& model, const layout::Assignment& start, Chance& chance,
                              std::int64_t steps, std::stop_token stop) {
    return RuleMending(model, start, chance).run(steps, stop);
}

} // namespace motley::placement
