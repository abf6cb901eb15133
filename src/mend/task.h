#pragma once
/// What is to be mended, in numbers: which cells may and which must change, and what a change costs.

#include <cstdint>
#include <vector>

#include "mend/mend.h"
#include "placement/model.h"

namespace motley::mend {

using placement::Model;

class Task {
public:
    Task(const Model& model, const Worn& worn);

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

    /// The place, or the whole top, showed more of it than there may be: some of it must give way.
    bool is_short(int place, int f) const {
        return short_[static_cast<std::size_t>(place * model.fabrics + f)] != 0;
    }
    /// CIEDE2000 in hundredths.
    std::int32_t far(int f, int g) const { return far_[static_cast<std::size_t>(f * model.fabrics + g)]; }
    /// `far` from what the patch showed; where that fabric is short, only how much farther than *near* (see
    /// mend.h), 0 for all that are near.
    std::int32_t odd(int patch, int f) const {
        const int place = patch % model.places;
        return odd_[static_cast<std::size_t>((place * model.fabrics + old_fabric(patch)) * model.fabrics +
                                             f)];
    }
    /// How dear so many uses of a fabric are: 20000 for each one beyond what is liked.
    std::int64_t dislike(int f, int uses) const;

    bool differs(const layout::Assignment& top, int cell) const;
    std::vector<int> changed(const layout::Assignment& top) const;
    /// `far` of all changed patches.
    std::int64_t strangeness(const layout::Assignment& top) const;
    /// `odd` of all changed patches.
    std::int64_t oddness(const layout::Assignment& top) const;
    /// `oddness` and `dislike` together: what is made least once the fewest cells change.
    std::int64_t dearness(const layout::Assignment& top) const;

private:
    std::vector<int> uses(const layout::Assignment& top) const;
    void look_at(int cell);
    void measure_oddness();
    int nearest_with_room(int place, int f, const std::vector<int>& used,
                          const std::vector<int>& used_here) const;

    std::vector<int> old_;
    std::vector<std::vector<int>> turns_;
    std::vector<char> may_change_, must_change_;
    std::vector<char> short_; // [place * fabrics + f]
    std::vector<std::int32_t> far_, odd_;
    bool turning_ = false;
};

} // namespace motley::mend
