#include <algorithm>
#include <numeric>

#include "fault/fault.h"
#include "placement/arrange.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// A broken rule weighs more than twins that meet.
std::int64_t weighed(const Hanging::Breaks& broken) {
    return 4 * broken.rules + broken.twins;
}

/// Cell by cell, of a few units that are left the one that breaks least.
Hung pour(const Units& units, Chance& chance) {
    const Wall& wall = units.wall;
    Hung empty;
    empty.units.assign(at(wall.cells), -1);
    for (int cell = 0; cell < wall.cells; ++cell)
        empty.turns.push_back(
            static_cast<std::uint8_t>(wall.turn(cell) >= 0 ? wall.turn(cell) : chance.below(4)));
    const Prices nothing;
    Hanging hanging(units, nothing, empty, false);
    std::vector<int> left(at(units.count()));
    std::iota(left.begin(), left.end(), 0);
    for (const int cell : wall.places) {
        constexpr int looks = 32;
        Hanging::Change best;
        std::int64_t fewest = INT64_MAX;
        std::size_t taken = 0;
        for (int k = 0; k < looks && fewest > 0; ++k) {
            const std::size_t i = at(chance.below(static_cast<int>(left.size())));
            const Hanging::Change change = hanging.replace(cell, left[i]);
            const std::int64_t breaks = weighed(hanging.breaks(change));
            if (breaks < fewest) fewest = breaks, best = change, taken = i;
        }
        hanging.make(best);
        left[taken] = left.back();
        left.pop_back();
    }
    return hanging.hung();
}

/// Set by set into classes of cells that do not meet (every second row and column): where there are hardly
/// sets enough, twins keep apart in no other way.
Hung pour_by_sets(const Units& units, Chance& chance) {
    const Wall& wall = units.wall;
    Hung hung;
    hung.units.assign(at(wall.cells), -1);
    for (const int turn : wall.brief.turns)
        hung.turns.push_back(static_cast<std::uint8_t>(turn >= 0 ? turn : chance.below(4)));
    std::vector<std::vector<int>> groups = units.groups();
    chance.shuffle(groups);
    std::stable_sort(groups.begin(), groups.end(),
                     [](const auto& one, const auto& other) { return one.size() > other.size(); });
    std::vector<int> order;
    for (std::vector<int>& group : groups) {
        chance.shuffle(group);
        order.insert(order.end(), group.begin(), group.end());
    }
    std::vector<int> cells = wall.places;
    const auto kind = [&](int cell) { return cell / wall.columns % 2 * 2 + cell % wall.columns % 2; };
    std::stable_sort(cells.begin(), cells.end(), [&](int a, int b) { return kind(a) < kind(b); });
    for (std::size_t i = 0; i < cells.size(); ++i) hung.units[at(cells[i])] = order[i];
    return hung;
}

/// Tabu search on broken rules: take a unit in trouble, make the change that helps most, do not undo it for a
/// while.
class Mending {
public:
    Mending(const Units& units, Hung start, Chance& chance)
        : units_(units),
          wall_(units.wall),
          hanging_(units, nothing_, std::move(start), false),
          chance_(chance),
          best_(hanging_.hung()),
          fewest_(total()),
          where_(at(wall_.cells), -1),
          tabu_(std::size_t{1} << 16, 0) {
        for (const int cell : wall_.places) look_at(cell);
        for (int unit = 0; unit < units.count(); ++unit)
            if (hanging_.cell_of(unit) < 0) spare_.push_back(unit);
    }

    Hung run(const std::stop_token& stop) {
        const std::int64_t patience = 400 + static_cast<std::int64_t>(wall_.places.size());
        std::int64_t helped = 0;
        for (step_ = 1; total() > 0 && step_ < helped + patience && !stop.stop_requested(); ++step_) {
            step();
            if (total() < fewest_) {
                fewest_ = total();
                best_ = hanging_.hung();
                helped = step_;
            }
        }
        return best_;
    }

private:
    std::int64_t total() const { return weighed({hanging_.tally().rules, hanging_.tally().twins}); }

    void look_at(int cell) {
        const bool trouble = weighed(hanging_.trouble(cell)) > 0;
        int& where = where_[at(cell)];
        if (trouble == (where >= 0)) return;
        if (trouble) {
            where = static_cast<int>(troubled_.size());
            troubled_.push_back(cell);
            return;
        }
        const int last = troubled_.back();
        troubled_[at(where)] = last;
        where_[at(last)] = where;
        troubled_.pop_back();
        where = -1;
    }

    /// Hashed: two entries that share a slot bar a little more than they should, which does no harm.
    std::int64_t& tabu(int cell, int unit) {
        return tabu_[(at(cell) * at(units_.count()) + at(unit)) * 0x9E3779B97F4A7C15ULL >> 48];
    }

    void offer(const Hanging::Change& change, bool barred) {
        const std::int64_t breaks = weighed(hanging_.breaks(change));
        if (barred && total() + breaks >= fewest_) return;
        if (breaks > least_) return;
        ties_ = breaks < least_ ? 1 : ties_ + 1;
        least_ = breaks;
        if (chance_.below(ties_) == 0) chosen_ = change;
    }

    void step() {
        const int a = troubled_[at(chance_.below(static_cast<int>(troubled_.size())))];
        const int u = hanging_.unit(a);
        least_ = INT64_MAX, ties_ = 0;
        if (wall_.turn(a) < 0)
            for (int t = 0; t < 4; ++t)
                if (t != hanging_.turn(a)) offer(hanging_.turning(a, t), tabu(a, -1 - t) > step_);
        constexpr int most = 200;
        const int n = static_cast<int>(wall_.places.size());
        for (int k = 0, from = chance_.below(n); k < std::min(n, most); ++k) {
            const int b = wall_.places[at((from + k) % n)], v = hanging_.unit(b);
            if (b == a || units_.identical(u, v)) continue;
            offer(hanging_.exchange(a, b), tabu(a, v) > step_ || tabu(b, u) > step_);
        }
        const int spares = static_cast<int>(spare_.size());
        for (int k = 0, from = spares > 0 ? chance_.below(spares) : 0; k < std::min(spares, most / 4); ++k) {
            const int v = spare_[at((from + k) % spares)];
            if (!units_.identical(u, v)) offer(hanging_.replace(a, v), tabu(a, v) > step_);
        }
        if (ties_ > 0) make();
    }

    void make() {
        const Hanging::Change change = chosen_;
        const std::int64_t tenure =
            step_ + 5 + static_cast<std::int64_t>(troubled_.size()) / 2 + chance_.below(10);
        const int u = hanging_.unit(change.a);
        if (change.unit_a == u) {
            tabu(change.a, -1 - hanging_.turn(change.a)) = tenure;
        } else {
            tabu(change.a, u) = tenure;
            if (change.b >= 0)
                tabu(change.b, change.unit_a) = tenure;
            else
                *std::find(spare_.begin(), spare_.end(), change.unit_a) = u;
        }
        hanging_.make(change);
        for (const int cell : {change.a, change.b}) {
            if (cell < 0) continue;
            look_at(cell);
            hanging_.for_zone(cell, [&](int other) { look_at(other); });
        }
    }

    const Units& units_;
    const Wall& wall_;
    const Prices nothing_;
    Hanging hanging_;
    Chance& chance_;
    Hung best_;
    std::int64_t fewest_, step_ = 0;
    std::vector<int> troubled_, where_, spare_;
    std::vector<std::int64_t> tabu_; // Until which step a unit may not come back to a cell.
    Hanging::Change chosen_;
    std::int64_t least_ = 0;
    int ties_ = 0;
};

} // namespace

Hung hang(const Units& units, Chance& chance, const std::stop_token& stop, bool by_sets) {
    return mended(units, by_sets ? pour_by_sets(units, chance) : pour(units, chance), chance, stop);
}

Hung mended(const Units& units, Hung start, Chance& chance, const std::stop_token& stop) {
    return Mending(units, std::move(start), chance).run(stop);
}

} // namespace motley::placement
