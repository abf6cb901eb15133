#pragma once
/// What is to be mended, in numbers: which cells may and which must change, and what a change costs.

#include <cstdint>
#include <vector>

#include "placement/mend.h"
#include "placement/model.h"

namespace motley::placement {

class MendTask {
public:
    MendTask(const Model& model, const Worn& worn);

    const Model& model;
    const Worn& worn;

    int old_fabric(int patch) const { return old_[static_cast<std::size_t>(patch)]; }
    int old_turn(int cell) const { return worn.assignment.turns[static_cast<std::size_t>(cell)]; }
    /// Pin and role allow it.
    bool may_show(int patch, int f) const;
    /// The turns a cell may take; where turning changes nothing, only one.
    const std::vector<int>& turns(int cell) const { return turns_[static_cast<std::size_t>(cell)]; }
    bool may_change(int cell) const { return may_change_[static_cast<std::size_t>(cell)] != 0; }
    /// As it was it breaks a pin, a role, a turn or the contrast inside the unit, whatever else the top
    /// shows.
    bool must_change(int cell) const { return must_change_[static_cast<std::size_t>(cell)] != 0; }
    /// Whether any cell's turn can become another one that matters to the rules.
    bool turning() const { return turning_; }

    /// CIEDE2000 in hundredths.
    std::int32_t far(int f, int g) const { return far_[static_cast<std::size_t>(f * model.fabrics + g)]; }
    /// How dear so many uses of a fabric are: 20000 for each one beyond what is liked.
    std::int64_t dislike(int f, int uses) const;

    bool differs(const layout::Assignment& top, int cell) const;
    std::vector<int> changed(const layout::Assignment& top) const;
    /// `far` of all changed patches.
    std::int64_t strangeness(const layout::Assignment& top) const;
    /// `strangeness` and `dislike` together: what is made least once the fewest cells change.
    std::int64_t dearness(const layout::Assignment& top) const;

private:
    std::vector<int> uses(const layout::Assignment& top) const;
    void look_at(int cell);

    std::vector<int> old_;
    std::vector<std::vector<int>> turns_;
    std::vector<char> may_change_, must_change_;
    std::vector<std::int32_t> far_;
    bool turning_ = false;
};

} // namespace motley::placement
