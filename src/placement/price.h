#pragma once
/// What the wishes make of a tally: the one currency of annealing and of mending.

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "placement/state.h"

namespace motley::placement {

/// What a tally costs: each wish's weight times its ratio to a shuffle, over the sum of the weights.
///
/// With an even aim the score takes window sums s_w (of 16 units) from 16 times the mean of the top as it is
/// now. The tally takes them from a fixed base; with D = 16 mean - base and W windows, sum (s_w - D)^2 = sum
/// s_w^2 - 2 D sum s_w + W D^2.
class Price {
public:
    Price(const Model& model, const layout::Assignment& start)
        : units_(model.brief.board.units()), in_window_(model.brief.board.window_units()) {
        const layout::Wishes& wishes = model.brief.wishes;
        const layout::Sums sums = layout::sums(model.brief, start);
        const double weights = wishes.spread + wishes.colour + wishes.value;
        if (weights <= 0) return;
        const auto per = [&](double weight, double expected, double unit) {
            return expected > 1e-12 ? weight / weights / (expected * unit) : 0.0;
        };
        spread_ = per(wishes.spread, sums.spread.expected, std::ldexp(1.0, Model::distance_bits));
        colour_ = per(wishes.colour, sums.colour.expected,
                      std::ldexp(1.0, Model::likeness_bits + Model::near_bits));
        // The score takes means over windows (of means over their units) or over cells; the tally adds
        // squares of sums.
        const double light = Model::light_steps * Model::light_steps;
        if (!model.has_aim())
            for (int first = 0; first < model.cells; ++first)
                windows_ += model.brief.board.window_counts(first);
        const double squares = model.has_aim() ? light * units_ : light * in_window_ * in_window_ * windows_;
        value_ = squares > 0 ? per(wishes.value, sums.value.expected, squares) : 0.0;
    }

    Watch watch() const { return {spread_ > 0, colour_ > 0, value_ > 0}; }
    bool asks_nothing() const { return spread_ <= 0 && colour_ <= 0 && value_ <= 0; }
    /// `State::base` of the state whose tallies are priced.
    void set_base(std::int64_t base) { base_ = static_cast<double>(base); }

    /// The price of a whole tally; comparable between tops of one state.
    double of(const Tally& all) const {
        const double off = windows_ > 0 ? offset(all.light) : 0;
        const double value =
            static_cast<double>(all.value) + off * (windows_ * off - 2 * static_cast<double>(all.windows));
        return spread_ * static_cast<double>(all.spread) + colour_ * static_cast<double>(all.colour) +
               value_ * value;
    }

    /// The price of `gain` on top of `now`: small steps without the rounding of a difference of wholes.
    double of(const Tally& now, const Tally& gain) const {
        double value = static_cast<double>(gain.value);
        if (windows_ > 0 && gain.light == 0) { // The mean stays.
            value -= 2 * offset(now.light) * static_cast<double>(gain.windows);
        } else if (windows_ > 0) {
            const double off = offset(now.light), off_then = offset(now.light + gain.light);
            value += off_then * (windows_ * off_then - 2 * static_cast<double>(now.windows + gain.windows)) -
                     off * (windows_ * off - 2 * static_cast<double>(now.windows));
        }
        return spread_ * static_cast<double>(gain.spread) + colour_ * static_cast<double>(gain.colour) +
               value_ * value;
    }

private:
    double offset(std::int64_t light) const { return per_light_ * static_cast<double>(light) - base_; }

    double spread_ = 0, colour_ = 0, value_ = 0;
    double units_, in_window_, per_light_ = in_window_ / units_, base_ = 0;
    int windows_ = 0;
};

} // namespace motley::placement
