#include "placement/exhaust.h"

#include <algorithm>
#include <cmath>

#include "layout/score.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Exhaustion {
public:
    Exhaustion(const Model& model, const layout::Assignment& start, std::int64_t steps)
        : model_(model),
          best_(start),
          steps_(steps),
          shown_(at(model.patches)),
          left_(at(model.places), std::vector<int>(at(model.fabrics))) {
        for (int patch = 0; patch < model.patches; ++patch)
            ++left_[at(patch % model.places)][layout::index(start.patches[at(patch)])];
        const layout::Wishes& wishes = model.brief.wishes;
        const layout::Sums sums = layout::sums(model.brief, start);
        const double weights = wishes.spread + wishes.colour + wishes.value;
        const auto price = [&](double weight, double expected) {
            return weights > 0 && expected > 1e-12 ? weight / weights / expected : 0.0;
        };
        spread_ = price(wishes.spread, sums.spread.expected);
        colour_ = price(wishes.colour, sums.colour.expected);
        value_ = model.has_aim() ? price(wishes.value, sums.value.expected) / model.cells : 0.0;
        likeness_ = layout::likeness(model.brief);
        turns_.assign(start.turns.begin(), start.turns.end());
        best_cost_ = cost_of(start);
    }

    std::optional<layout::Assignment> run() {
        lay(0, 0);
        if (steps_ < 0) return std::nullopt;
        return best_;
    }

private:
    double pair(int i, int f, int j, int g) const {
        if (model_.exempt(f) || model_.exempt(g)) return 0;
        const int places = model_.places, a = i / places, b = j / places;
        const double weight = f == g ? spread_ : colour_ * likeness_[at(f * model_.fabrics + g)];
        if (weight == 0) return 0;
        const double d2 = model_.contacts.distance_squared(
            model_.brief.board.parity(a / model_.columns), b / model_.columns - a / model_.columns, b % model_.columns - a % model_.columns, i % places,
            turns_[at(a)], j % places, turns_[at(b)]);
        return f != g && d2 > colour_reach_squared ? 0 : weight / d2;
    }

    /// What a patch adds to those before it; the last of a unit adds how far the unit is off its aim.
    double added(int i, int f) const {
        double sum = 0;
        for (int j = 0; j < i; ++j) sum += pair(j, shown_[at(j)], i, f);
        if (value_ == 0 || i % model_.places != model_.places - 1) return sum;
        const int unit = i - i % model_.places;
        double light = -model_.brief.aim[at(i / model_.places)];
        for (int j = unit; j <= i; ++j)
            light += model_.brief.forms.front().patches[at(j - unit)].area *
                     model_.brief.labs[at(j == i ? f : shown_[at(j)])].l;
        return sum + value_ * light * light;
    }

    bool keeps_rules(int i, int f) const {
        const int unit = i - i % model_.places, turn = turns_[at(i / model_.places)];
        for (int j = 0; j < unit; ++j)
            if (model_.same(f, shown_[at(j)]) && model_.conflict(j, turns_[at(j / model_.places)], i, turn))
                return false;
        for (int j = unit; j < i; ++j)
            if (!model_.contrasts(f, shown_[at(j)])) return false;
        const layout::FabricId pin = model_.brief.pinned[at(i)];
        return pin == layout::no_fabric || static_cast<int>(layout::index(pin)) == f;
    }

    void lay(int i, double cost) {
        if (i == model_.patches) {
            best_cost_ = cost;
            for (int j = 0; j < i; ++j)
                best_.patches[at(j)] = layout::FabricId{static_cast<std::uint16_t>(shown_[at(j)])};
            return;
        }
        for (int f = 0; f < model_.fabrics; ++f) {
            int& left = left_[at(i % model_.places)][at(f)];
            if (left == 0 || !keeps_rules(i, f)) continue;
            if (--steps_ < 0) return;
            const double so_far = cost + added(i, f);
            if (so_far >= best_cost_ - tiny) continue; // Everything still to be added is at least nothing.
            --left;
            shown_[at(i)] = f;
            lay(i + 1, so_far);
            ++left;
        }
    }

    double cost_of(const layout::Assignment& whole) {
        double sum = 0;
        for (int i = 0; i < model_.patches; ++i) {
            shown_[at(i)] = static_cast<int>(layout::index(whole.patches[at(i)]));
            sum += added(i, shown_[at(i)]);
        }
        return sum;
    }

    static constexpr double tiny = 1e-12; // Sums of one layout in two orders differ by less.
    static constexpr double colour_reach_squared = 9 + 1e-9; // layout/score.h: d <= 3.

    const Model& model_;
    layout::Assignment best_;
    std::int64_t steps_;
    std::vector<int> shown_, turns_;
    std::vector<std::vector<int>> left_; // [place][fabric]
    std::vector<double> likeness_;
    double spread_ = 0, colour_ = 0, value_ = 0, best_cost_ = 0;
};

bool everything_is_fixed(const layout::Brief& brief) {
    const auto exact = [](const std::vector<layout::Range>& ranges) {
        return std::all_of(ranges.begin(), ranges.end(),
                           [](const layout::Range& range) { return range.least == range.most; });
    };
    return std::all_of(brief.role_counts.begin(), brief.role_counts.end(), exact) &&
           (brief.patches_per_unit() == 1 ||
            std::none_of(brief.turns.begin(), brief.turns.end(), [](int turn) { return turn < 0; }));
}

} // namespace

std::optional<layout::Assignment> cheapest(const Model& model, const layout::Assignment& start,
                                           std::int64_t steps) {
    constexpr int most_patches =
        16; // An even value is not defined on so few cells; only wishes of pairs and of units remain.
    if (model.patches > most_patches || !everything_is_fixed(model.brief)) return std::nullopt;
    return Exhaustion(model, start, steps).run();
}

} // namespace motley::placement
