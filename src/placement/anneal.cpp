#include "placement/anneal.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "placement/price.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Annealing {
public:
    Annealing(const Model& model, const layout::Assignment& start, Chance& chance, const AnnealEffort& effort)
        : model_(model),
          chance_(chance),
          effort_(effort),
          price_(model, start),
          state_(model, start, price_.watch()) {
        price_.set_base(state_.base());
        for (int patch = 0; patch < model.patches; ++patch)
            if (model.brief.pinned[at(patch)] == layout::no_fabric) movable_.push_back(patch);
        by_place_.resize(at(model.places));
        for (const int patch : movable_) by_place_[at(patch % model.places)].push_back(patch);
        places_mix_ = fabrics_in_two_places();
        near_share_ = model.patches > many_patches ? 224 : 128;
        for (int cell = 0; cell < model.cells; ++cell)
            lies_.push_back({cell / model.columns, cell % model.columns});
        loose_ = has_loose_counts();
        for (int cell = 0; cell < model.cells; ++cell)
            if (model.turns_matter() && model.brief.turns[at(cell)] < 0) turnable_.push_back(cell);
    }

    Annealed run() {
        if (!price_.asks_nothing() && !movable_.empty()) {
            cool();
            descend();
        }
        return {state_.assignment(), moves_};
    }

private:
    static constexpr int near_reach = 3;

    bool fabrics_in_two_places() const {
        for (int f = 0; f < model_.fabrics; ++f) {
            int takers = 0;
            for (int p = 0; p < model_.places; ++p) takers += model_.brief.role_counts[at(p)][at(f)].most > 0;
            if (takers > 1) return true;
        }
        return false;
    }

    bool has_loose_counts() const {
        int loose = 0;
        for (int f = 0; f < model_.fabrics; ++f)
            for (int p = 0; p < model_.places; ++p) {
                const layout::Range& range = model_.brief.role_counts[at(p)][at(f)];
                loose += range.least < range.most &&
                         model_.brief.counts[at(f)].least < model_.brief.counts[at(f)].most;
            }
        return loose > 1;
    }

    // Mean worsening of sampled exchanges, the scale of temperatures. Where nearly every exchange is for the
    // better (a top just poured), what one changes either way.
    double typical_worsening() {
        double worse = 0, change = 0;
        int found = 0, looked = 0, asked = 0;
        for (int k = 0; k < 4000 && found < 400; ++k) {
            const auto [i, j, ring] = pick_pair();
            if (j < 0) continue;
            ++asked;
            if (!state_.exchange_keeps_rules(i, j)) continue;
            const double step = price_.of(state_.tally(), state_.exchange_gain(i, j));
            change += std::abs(step), ++looked;
            if (step > 0) worse += step, ++found;
        }
        rules_last_ = 2 * looked > asked;
        constexpr int telling = 20;
        if (found >= telling) return worse / found;
        return looked > 0 ? change / looked : 0;
    }

    void cool() {
        const double scale = typical_worsening();
        if (scale <= 0) return;
        const bool hurried = !effort_.until && effort_.moves < 10'000 * std::int64_t{model_.patches};
        const double hot = scale * (model_.patches > many_patches ? 0.01 : hurried ? 0.03 : 0.3);
        const double cold = scale * 0.0003;
        const Cooling cooling(effort_, hot, cold);
        while (const std::optional<double> temperature = cooling.after(moves_)) {
            temperature_ = *temperature;
            for (int k = 0; k < batch; ++k) step();
            moves_ += batch;
            if (moves_ % stretch == 0) learn_from_rings();
            if (effort_.tried) effort_.tried(batch);
            if (effort_.glance) effort_.glance([this] { return state_.assignment(); });
        }
    }

    /// No heat left: as many exchanges as it takes for a whole top's worth of them to bring nothing, within
    /// reason.
    void descend() {
        temperature_ = 0;
        const std::int64_t pairs = std::int64_t{1} * static_cast<std::int64_t>(movable_.size()) *
                                   static_cast<std::int64_t>(movable_.size()) / 2;
        if (pairs > 200'000)
            return; // Annealing ends so cold on a large top that a full pass over all pairs is not worth its
                    // time.
        for (bool better = true; better && !effort_.stop.stop_requested();) {
            better = false;
            for (std::size_t a = 0; a < movable_.size(); ++a)
                for (std::size_t b = a + 1; b < movable_.size(); ++b)
                    better = try_exchange(movable_[a], movable_[b], 0, any_) || better;
        }
    }

    void step() {
        if (!turnable_.empty() || loose_) {
            const std::uint32_t kind = chance_.bits();
            if (!turnable_.empty() && kind % 8 == 0)
                return try_turn(turnable_[at(chance_.below(static_cast<int>(turnable_.size())))]);
            if (loose_ && kind % 4 == 1)
                return try_replace(movable_[at(chance_.below(static_cast<int>(movable_.size())))]);
        }
        const auto [i, j, ring] = pick_pair();
        if (j < 0) return;
        const double bar = temperature_ * thresholds_.draw(chance_.bits());
        try_exchange(i, j, bar, rings_[at(ring)]);
    }

    struct Pair {
        int i, j, ring; ///< The larger of the steps across and down; near_reach + 1 for any distance.
    };

    /// Two patches, or a patch and -1. Neighbours are asked about more often than chance would have it: a
    /// short step changes little, so it is taken when the temperature has become too low for long ones, and
    /// it is what evens out value.
    Pair pick_pair() {
        const int i = movable_[at(chance_.below(static_cast<int>(movable_.size())))];
        const std::uint32_t bits = chance_.bits();
        if (bits % 256 >= near_share_) {
            const std::vector<int>& others = places_mix_ ? movable_ : by_place_[at(i % model_.places)];
            return {i, others[at(chance_.below(static_cast<int>(others.size())))], near_reach + 1};
        }
        constexpr int across = 2 * near_reach + 1;
        const int cell = i / model_.places, step = static_cast<int>((bits >> 8) * (across * across) >> 24);
        const int down = step / across - near_reach, right = step % across - near_reach;
        const int r = lies_[at(cell)].row + down, c = lies_[at(cell)].column + right;
        if (r < 0 || r >= model_.rows || c < 0 || c >= model_.columns) return {i, -1, 0};
        const int place = places_mix_ ? chance_.below(model_.places) : i % model_.places;
        const int j = (r * model_.columns + c) * model_.places + place;
        return {i, model_.brief.pinned[at(j)] == layout::no_fabric ? j : -1,
                std::max(std::abs(down), std::abs(right))};
    }

    bool taken(double step) {
        if (step <= 0) return true;
        return temperature_ > 0 && step < temperature_ * thresholds_.draw(chance_.bits());
    }

    /// Whether place p may give up one patch of `out` for one of `in`.
    bool fits(int p, int out, int in) const {
        const auto& ranges = model_.brief.role_counts[at(p)];
        return state_.uses_in_place(p, out) > ranges[at(out)].least &&
               state_.uses_in_place(p, in) < ranges[at(in)].most;
    }

    /// What exchanges over one distance have done of late. Most are refused for value alone, which is cheap
    /// to ask: where spread and colour would have to give back more than they ever did, they are not asked.
    struct Ring {
        double margin = std::numeric_limits<double>::infinity(); ///< More than they give back.
        double most = 0;                                         ///< That they gave back in this stretch.
        int asked = 0, taken = 0;
    };

    void learn_from_rings() {
        constexpr int telling = 1000;
        for (Ring& ring : rings_) {
            if (ring.asked < telling) continue;
            ring.margin = std::max(1.25 * ring.most, std::isinf(ring.margin) ? 0 : ring.margin / 2);
        }
        const Ring& far = rings_.back();
        if (far.asked >= telling && 200 * far.taken < far.asked && model_.patches > many_patches)
            near_share_ = 252;
        for (Ring& ring : rings_) ring = {.margin = ring.margin};
    }

    /// True when the exchange was made and made things better. It is made where the step is below `bar`, or
    /// not for the worse.
    bool try_exchange(int i, int j, double bar, Ring& ring) {
        const int f = state_.fabric(i), g = state_.fabric(j);
        if (f == g) return false;
        if (!rules_last_ && !keeps_rules(i, j, f, g)) return false;
        ++ring.asked;
        Tally gain = state_.light_gain(i, j);
        const double light = price_.of(state_.tally(), gain);
        if (light > 0 && light - ring.margin >= bar) return false;
        state_.add_far_gain(i, j, gain);
        const double step = price_.of(state_.tally(), gain);
        ring.most = std::max(ring.most, light - step);
        if (step > 0 && step >= bar) return false;
        if (rules_last_ && !keeps_rules(i, j, f, g)) return false;
        ++ring.taken;
        if (temperature_ > 0 || step < 0)
            state_.exchange(i, j); // Without heat, sideways steps would go on for ever.
        return step < 0;
    }

    bool keeps_rules(int i, int j, int f, int g) const {
        if (!state_.exchange_keeps_rules(i, j)) return false;
        const int p = i % model_.places, q = j % model_.places;
        return p == q || (fits(p, f, g) && fits(q, g, f));
    }

    void try_replace(int i) {
        const int p = i % model_.places, out = state_.fabric(i), in = chance_.below(model_.fabrics);
        if (in == out || !fits(p, out, in)) return;
        if (state_.uses(out) <= model_.brief.counts[at(out)].least ||
            state_.uses(in) >= model_.brief.counts[at(in)].most)
            return;
        if (state_.replace_breaks(i, in) > 0) return;
        if (taken(price_.of(state_.tally(), state_.replace_gain(i, in)))) state_.replace(i, in);
    }

    void try_turn(int cell) {
        const int before = state_.pose(cell);
        const Tally tally = state_.tally();
        state_.pose_to(cell, (before + 1 + chance_.below(3)) % 4);
        if (state_.tally().broken > tally.broken || !taken(price_.of(tally, state_.tally() - tally)))
            state_.pose_to(cell, before);
    }

    static constexpr int batch = 256, stretch = 256 * batch;
    // Temperatures in `cool` and the shares here were found by trial on tops from 10 x 12 to 100 x 100
    // (tests/bench/placement.md).
    static constexpr int many_patches = 2000;

    const Model& model_;
    Chance& chance_;
    const AnnealEffort& effort_;
    Price price_;
    State state_;
    Thresholds thresholds_;
    struct Lie {
        int row, column;
    };
    std::vector<Lie> lies_;                  // [cell]
    std::array<Ring, near_reach + 2> rings_; // By distance; the last for any.
    Ring any_;                               // Learns nothing, so it refuses nothing.
    bool rules_last_ = false; ///< Where rules bar few exchanges they are asked last: their table is large.
    std::vector<int> movable_, turnable_;
    std::vector<std::vector<int>> by_place_;
    bool places_mix_ = false, loose_ = false;
    std::uint32_t near_share_; ///< Of 256.
    double temperature_ = 0;
    std::int64_t moves_ = 0;
};

} // namespace

Annealed anneal(const Model& model, const layout::Assignment& start, Chance& chance,
                const AnnealEffort& effort) {
    return Annealing(model, start, chance, effort).run();
}

} // namespace motley::placement
