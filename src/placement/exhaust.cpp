#include "placement/exhaust.h"

#include <algorithm>
#include <optional>

#include "layout/score.h"
#include "placement/chance.h"
#include "placement/exhaust_prices.h"

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
          best_cost_(cost_of(start)),
          steps_(steps),
          shown_(at(model.patches)),
          left_(at(model.places), std::vector<int>(at(model.fabrics))),
          pinned_(left_),
          total_(at(model.fabrics)),
          turns_(at(model.cells)) {
        for (int patch = 0; patch < model.patches; ++patch)
            if (const layout::FabricId pin = model.brief.pinned[at(patch)]; pin != layout::no_fabric)
                ++pinned_[at(patch % model.places)][layout::index(pin)];
    }

    Exhausted run() {
        turn_from(0);
        const bool proved = steps_ >= 0;
        if (!proved) wander();
        return {best_, proved};
    }

private:
    // ---- what is open: turns, then the numbers of fabrics, place by place

    void turn_from(int cell) {
        if (steps_ < 0) return;
        if (cell == model_.cells) {
            conflicts_ = conflicting_pairs();
            return number(0, 0, model_.cells);
        }
        const int said = model_.brief.turns[at(cell)];
        // A patch alone looks the same however it is turned.
        const bool open = said < 0 && model_.places > 1;
        for (int turn = 0; turn < (open ? 4 : 1); ++turn) {
            turns_[at(cell)] = said >= 0 ? said : turn;
            turn_from(cell + 1);
        }
    }

    std::vector<std::vector<int>> conflicting_pairs() const {
        std::vector<std::vector<int>> pairs(at(model_.patches));
        for (int i = 0; i < model_.patches; ++i)
            for (int j = 0; j < i - i % model_.places; ++j)
                if (model_.conflict(j, turns_[at(j / model_.places)], i, turns_[at(i / model_.places)]))
                    pairs[at(i)].push_back(j);
        return pairs;
    }

    /// How often place p shows f; `rest` patches of the place are still without a fabric.
    void number(int p, int f, int rest) {
        if (--steps_ < 0) return;
        if (f == model_.fabrics) {
            if (rest > 0) return;
            if (p + 1 < model_.places) return number(p + 1, 0, model_.cells);
            return fill();
        }
        const layout::Range &role = model_.brief.role_counts[at(p)][at(f)], &all = model_.brief.counts[at(f)];
        const int before = total_[at(f)], most = std::min({role.most, all.most - before, rest});
        for (int n = std::max(role.least, pinned_[at(p)][at(f)]); n <= most; ++n) {
            if (p + 1 == model_.places && before + n < all.least) continue;
            left_[at(p)][at(f)] = n;
            total_[at(f)] = before + n;
            number(p, f + 1, rest - n);
        }
        total_[at(f)] = before;
    }

    // ---- one filling after the other

    void fill() {
        const std::vector<std::vector<int>> numbers = left_;
        steps_ -= model_.patches; // Prices take some work, too.
        prices_.emplace(model_, turns_, numbers);
        to_laid_.assign(at(model_.patches + 1), std::vector<double>(at(model_.patches * model_.fabrics)));
        for (int i = 0; i < model_.patches; ++i)
            for (int f = 0; f < model_.fabrics; ++f)
                to_laid_[0][at(i * model_.fabrics + f)] = prices_->alone(i, f);
        lay(0, 0);
        left_ = numbers;
    }

    bool keeps_rules(int i, int f) const {
        const layout::FabricId pin = model_.brief.pinned[at(i)];
        if (pin != layout::no_fabric && static_cast<int>(layout::index(pin)) != f) return false;
        for (const int j : conflicts_[at(i)])
            if (model_.same(f, shown_[at(j)])) return false;
        for (int j = i - i % model_.places; j < i; ++j)
            if (!model_.contrasts(f, shown_[at(j)])) return false;
        return true;
    }

    /// At least so much comes to the cost yet: each patch still to be laid lies somewhere among those laid,
    /// and the uses of a fabric still to be laid are no further from one another than the top is wide.
    double at_least(int from) const {
        const std::vector<double>& to_laid = to_laid_[at(from)];
        double sum = 0;
        for (int i = from; i < model_.patches; ++i) {
            double least = 1e300;
            for (int f = 0; f < model_.fabrics; ++f)
                if (left_[at(i % model_.places)][at(f)] > 0)
                    least = std::min(least, to_laid[at(i * model_.fabrics + f)]);
            sum += least;
        }
        if (prices_->closest_use() <= 0) return sum;
        for (int f = 0; f < model_.fabrics; ++f) {
            if (model_.exempt(f)) continue;
            int uses = 0;
            for (const std::vector<int>& in_place : left_) uses += in_place[at(f)];
            sum += prices_->closest_use() * uses * (uses - 1) / 2;
        }
        return sum;
    }

    void lay(int i, double cost) {
        if (i == model_.patches) return keep(cost);
        std::vector<double>& next = to_laid_[at(i + 1)];
        for (int f = 0; f < model_.fabrics; ++f) {
            int& left = left_[at(i % model_.places)][at(f)];
            if (left == 0 || !keeps_rules(i, f)) continue;
            if (--steps_ < 0) return;
            const double so_far = cost + to_laid_[at(i)][at(i * model_.fabrics + f)];
            --left;
            shown_[at(i)] = f;
            for (int j = i + 1; j < model_.patches; ++j)
                for (int g = 0; g < model_.fabrics; ++g)
                    next[at(j * model_.fabrics + g)] =
                        to_laid_[at(i)][at(j * model_.fabrics + g)] + prices_->pair(i, f, j, g);
            if (so_far + at_least(i + 1) < best_cost_ - tiny) lay(i + 1, so_far);
            ++left;
        }
    }

    /// The bound took the prices a little low where they depend on which fabrics meet in a unit.
    void keep(double cost) {
        if (model_.places > 1) cost = prices_->whole(shown_);
        if (cost >= best_cost_ - tiny) return;
        best_cost_ = cost;
        for (int i = 0; i < model_.patches; ++i)
            best_.patches[at(i)] = layout::FabricId{static_cast<std::uint16_t>(shown_[at(i)])};
        if (model_.places > 1) best_.turns.assign(turns_.begin(), turns_.end());
    }

    // ---- where that is too much: exchanges downhill from many beginnings near the best so far

    void wander() {
        constexpr int descents = 800, shaken = 4;
        Chance chance(0, 0);
        turns_.assign(best_.turns.begin(), best_.turns.end());
        conflicts_ = conflicting_pairs();
        for (std::vector<int>& in_place : left_) std::fill(in_place.begin(), in_place.end(), 0);
        std::vector<int> best;
        for (int i = 0; i < model_.patches; ++i) {
            best.push_back(static_cast<int>(layout::index(best_.patches[at(i)])));
            ++left_[at(i % model_.places)][at(best.back())];
        }
        prices_.emplace(model_, turns_, left_);
        for (int k = 0; k < descents; ++k) {
            shown_ = best;
            for (int moves = 0, tries = 0; moves < shaken + k % model_.patches && tries < 200; ++tries) {
                const int i = chance.below(model_.patches);
                moves += exchange(i, chance.below(model_.patches));
            }
            double cost = prices_->whole(shown_);
            for (bool better = true; better;) {
                better = false;
                for (int i = 0; i < model_.patches; ++i)
                    for (int j = i + 1; j < model_.patches; ++j) {
                        if (!exchange(i, j)) continue;
                        const double other = prices_->whole(shown_);
                        if (other < cost - tiny)
                            cost = other, better = true;
                        else
                            std::swap(shown_[at(i)], shown_[at(j)]);
                    }
            }
            if (cost < best_cost_ - tiny) best = shown_, keep(cost);
        }
    }

    /// False, and nothing changed, where that would change nothing or break a rule.
    bool exchange(int i, int j) {
        const auto pinned = [&](int patch) { return model_.brief.pinned[at(patch)] != layout::no_fabric; };
        if (i % model_.places != j % model_.places || shown_[at(i)] == shown_[at(j)] || pinned(i) ||
            pinned(j))
            return false;
        std::swap(shown_[at(i)], shown_[at(j)]);
        for (int patch = 0; patch < model_.patches; ++patch)
            if (!keeps_rules(patch, shown_[at(patch)])) {
                std::swap(shown_[at(i)], shown_[at(j)]);
                return false;
            }
        return true;
    }

    double cost_of(const layout::Assignment& whole) const {
        const layout::Wishes& w = model_.brief.wishes;
        const layout::Sums sums = layout::sums(model_.brief, whole);
        const auto ratio = [](const layout::Sum& sum) {
            return sum.expected > 1e-12 ? sum.found / sum.expected : 0.0;
        };
        return (w.spread * ratio(sums.spread) + w.colour * ratio(sums.colour) + w.value * ratio(sums.value)) /
               (w.spread + w.colour + w.value);
    }

    static constexpr double tiny = 1e-12; // Sums of one layout in two orders differ by less.

    const Model& model_;
    layout::Assignment best_;
    double best_cost_;
    std::int64_t steps_;
    std::vector<int> shown_;                  // [patch]
    std::vector<std::vector<int>> left_;      // [place][fabric]
    std::vector<std::vector<int>> pinned_;    // [place][fabric]
    std::vector<int> total_, turns_;          // [fabric], [cell]
    std::vector<std::vector<int>> conflicts_; // [patch] earlier patches.
    std::optional<Prices> prices_;
    std::vector<std::vector<double>> to_laid_; // [patches laid][patch][fabric] what it would add.
};

} // namespace

Exhausted cheapest(const Model& model, const layout::Assignment& start, std::int64_t steps) {
    constexpr int most_patches = 16; // An even value is not defined on so few cells.
    const layout::Wishes& wishes = model.brief.wishes;
    if (model.patches > most_patches || wishes.spread + wishes.colour + wishes.value <= 0)
        return {start, model.patches <= most_patches};
    return Exhaustion(model, start, steps).run();
}

} // namespace motley::placement
