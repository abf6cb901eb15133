#pragma once
/// A top on the wall while it is being mended: `State` with what mending asks besides: counts kept, cells
/// changed.

#include <vector>

#include "mend/task.h"
#include "placement/state.h"

namespace motley::mend {

using placement::State;
using placement::Watch;

class Wall {
public:
    Wall(const Task& task, const layout::Assignment& top, Watch watch);

    const State& state() const { return state_; }
    int fabric(int patch) const { return state_.fabric(patch); }
    bool differs(int cell) const;
    int changed() const { return changed_; }
    std::int64_t dearness() const { return dearness_; }
    /// Sum over fabrics of (uses more than before)^2.
    std::int64_t piled() const { return piled_; }
    /// The state's, with what mending wishes besides in `spread`: stand-ins apart, and near in colour.
    placement::Tally tally() const;
    /// Broken rules and uses outside the ranges, added up.
    std::int64_t wrong() const { return state_.tally().broken + off_; }
    std::int64_t off_counts() const { return off_; }
    /// How far so many uses lie outside the range of the fabric, over all places or in one.
    int off(int f, int uses) const;
    int off_in_place(int place, int f, int uses) const;

    /// What `wrong` would become more by.
    std::int64_t replace_wrongs(int patch, int f) const;
    std::int64_t exchange_wrongs(int i, int j) const;

    void replace(int patch, int f);
    void turn_to(int cell, int turn);
    /// A cell shows what it did in another top.
    void show(int cell, const layout::Assignment& top);

private:
    bool stands_in(int patch) const;
    void count_stand_in(int patch, int sign);
    std::int64_t pile(int f) const;

    const Task& task_;
    bool watch_stand_ins_;
    State state_;
    std::vector<int> had_;       // [fabric] uses in the top as it was.
    std::vector<int> stand_ins_; // Patches; in no order.
    int changed_ = 0;
    std::int64_t dearness_ = 0, off_ = 0, piled_ = 0, strangeness_ = 0;
    std::int64_t together_ = 0; // Pulls between stand-ins.
};

} // namespace motley::mend
