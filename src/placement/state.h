#pragma once
/// A placement being worked on: what an exchange would change, and what it did.
/// Asking costs O(1) in the size of the top: uses of the two fabrics (a running sum instead, for a fabric
/// used very often), the near neighbours of the two patches for `colour`, two table entries for `value`, two
/// for the rules. Making an exchange costs the zone of the rules and 49 entries of `value`. Every figure is a
/// whole number: a walk of exchanges leaves the state equal to a fresh count of the result.

#include <cstdint>
#include <vector>

#include "placement/model.h"

namespace motley::placement {

/// The three wishes and the rules, in whole numbers of the model's fixed point. For a change: after less
/// before.
struct Tally {
    std::int64_t spread = 0; ///< 2^24 / d^2 over pairs of patches of one fabric.
    std::int64_t colour = 0; ///< 2^32 likeness / d^2 over near pairs.
    std::int64_t value = 0;  ///< Squares of window sums less `base`, or of differences from the aim.
    std::int64_t light =
        0; ///< Of all cells. With `windows` it tells how far the mean has moved from `base` (see `Price`).
    std::int64_t windows = 0; ///< Window sums less `base`, added up; 0 with an aim.
    std::int64_t broken = 0;  ///< Pairs of patches in conflict, and units with too little contrast.
    bool operator==(const Tally&) const = default;
    Tally operator-(const Tally& before) const {
        return {spread - before.spread, colour - before.colour,   value - before.value,
                light - before.light,   windows - before.windows, broken - before.broken};
    }
};

/// Which wishes are worth counting: those without weight are left at 0.
struct Watch {
    bool spread = true, colour = true, value = true;
};

class State {
public:
    /// The window sums of an even aim are taken from `base`, the mean lightness of this first assignment
    /// times the units of a window. Replacing a fabric, or exchanging patches of unequal size, moves that
    /// mean.
    State(const Model& model, const layout::Assignment& start, Watch watch = {});

    int fabric(int patch) const { return fabric_[static_cast<std::size_t>(patch)]; }
    int pose(int cell) const { return pose_[static_cast<std::size_t>(cell)]; }
    const Tally& tally() const { return tally_; }
    std::int64_t base() const { return base_; }
    layout::Assignment assignment() const;

    /// Pairs in conflict if `patch` showed `f` and all else stayed.
    int conflicts(int patch, int f) const {
        return conflicts_[static_cast<std::size_t>(f) * static_cast<std::size_t>(model_.patches) +
                          static_cast<std::size_t>(patch)];
    }
    bool in_trouble(int patch) const {
        return conflicts(patch, fabric(patch)) > 0 || troubled_units(patch / model_.places) > 0;
    }
    int uses(int f) const { return static_cast<int>(uses_[static_cast<std::size_t>(f)].size()); }
    int uses_in_place(int place, int f) const {
        return role_uses_[static_cast<std::size_t>(place * model_.fabrics + f)];
    }

    /// Change in broken rules if two patches exchanged fabrics.
    std::int64_t exchange_breaks(int i, int j) const;
    /// Whether an exchange in a state without broken rules leaves it so.
    bool exchange_keeps_rules(int i, int j) const;
    /// Change in the wishes (not `broken`) if two patches exchanged fabrics.
    Tally exchange_gain(int i, int j) const;
    /// The part of it that is cheap to ask: `value`, `light` and `windows`; `add_far_gain` adds the rest.
    Tally light_gain(int i, int j) const;
    void add_far_gain(int i, int j, Tally& gain) const;
    void exchange(int i, int j);

    /// The same for a patch that takes another fabric; whether the counts leave room for that is the caller's
    /// business.
    std::int64_t replace_breaks(int i, int f) const;
    Tally replace_gain(int i, int f) const;
    void replace(int i, int f);

    /// Turns a unit, or gives it another form; the tally follows. Only where the search may choose that.
    void pose_to(int cell, int pose);

private:
    static constexpr int lifted = -1; // Fabric of a patch that is off the wall for a moment.

    void lift(int patch);
    void lay(int patch, int f);
    void add_conflicts(int patch, int f, int sign);
    void add_pulls(int patch, int f, int sign);
    void recount_conflicts_at(int patch);
    void shift_light(int cell, std::int64_t by);
    int troubled_units(int cell) const;
    std::int64_t contrast_step(int i, int f, int j, int g) const;
    std::int64_t pull_of(int patch, int f) const;
    std::int64_t own_pull(int patch) const;
    std::int64_t shift_own_pulls(int patch, int f, int sign);
    std::int64_t likeness_step(int patch, int from, int to) const;
    std::int64_t likeness_between(int i, int j) const;
    void add_value_step(Tally& gain, int a, std::int64_t by_a, int b, std::int64_t by_b) const;
    std::int64_t windows_over(int a, int b) const;
    std::int64_t windows_in(int top, int left, int bottom, int right) const;
    void shift_windows(int cell, std::int64_t by);
    void count_light();
    void list_near();
    void list_zones();
    template <class Visit>
    void for_near(int patch, Visit visit) const;

    const Model& model_;
    Watch watch_;
    Tally tally_;
    std::vector<int> fabric_;                      // [patch]
    std::vector<int> pose_;                        // [cell]
    std::vector<std::int32_t> site_, row_;         // [patch] where its centre lies now.
    std::vector<std::vector<int>> uses_;           // [fabric] patches.
    std::vector<std::vector<std::int32_t>> sites_; // [fabric] their sites, in the same order.
    std::vector<int> slot_;                        // [patch] its place in uses_.
    std::vector<std::int64_t> own_;                // [patch] pulls of the other uses of its fabric.
    std::vector<int> role_uses_;                   // [place][fabric]
    std::vector<std::int32_t> zone_;               // Patches in conflict, patch by patch; empty where turns
    std::vector<std::int32_t> zone_from_;          // change that. [patch] where its own begin; one more.
    std::vector<std::uint16_t> conflicts_;         // [fabric][patch]
    std::vector<std::vector<std::int64_t>>
        heavy_; // [fabric][patch] sum of pulls; empty for fabrics used seldom.
    struct Near {
        std::int32_t patch, weight;
    };
    std::vector<Near>
        near_; // Neighbours within the reach of `colour`, patch by patch; empty where turns move the centres.
    std::vector<std::int32_t> near_from_; // [patch] where its neighbours begin; one more at the end.
    std::vector<std::int64_t> light_;     // [cell]
    std::vector<std::int64_t> windows_;   // [top left cell] sums less as many times the mean.
    std::vector<std::int64_t> around_;    // [cell] sum of the windows over it.
    struct Line {
        int row, column;
    };
    std::vector<Line> line_; // [cell]
    // [row][step + 3] rows of windows that lie over a row and the one `step` below it; columns likewise.
    std::vector<std::int32_t> rows_over_, columns_over_;
    std::int64_t base_ = 0;
    std::vector<std::int32_t>
        windows_above_; // [row][column] windows that count with a first cell above and to
                        // the left, one row and column more than cells; empty when all do.
};

} // namespace motley::placement
