// Among equally few changes: the ones nearest in colour, then the ones the wishes like best.

#include <algorithm>
#include <cmath>
#include <tuple>

#include "placement/mend_walk.h"
#include "placement/mend_wall.h"
#include "placement/price.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Polishing {
public:
    Polishing(const MendTask& task, const layout::Assignment& top, Chance& chance)
        : task_(task),
          model_(task.model),
          chance_(chance),
          price_(model_, top),
          top_(top),
          wall_(task, top, price_.watch()) {
        price_.set_base(wall_.state().base());
        for (const int cell : task.changed(top)) changed_.push_back(cell);
        for (int cell = 0; cell < model_.cells; ++cell)
            if (task.may_change(cell)) movable_.push_back(cell);
    }

    layout::Assignment run(std::int64_t moves, const std::stop_token& stop) {
        if (changed_.empty()) return top_;
        shift_all();
        for (std::int64_t k = 0; k < moves && !changed_.empty() && !stop.stop_requested(); ++k) {
            const int cell = changed_[at(chance_.below(static_cast<int>(changed_.size())))];
            switch (chance_.below(3)) {
                case 0:
                    refill(cell);
                    break;
                case 1:
                    shift(cell, movable_[at(chance_.below(static_cast<int>(movable_.size())))]);
                    break;
                default:
                    swap(cell, changed_[at(chance_.below(static_cast<int>(changed_.size())))]);
            }
        }
        return top_;
    }

private:
    using Rank = std::tuple<std::int64_t, int, std::int64_t, double>;

    Rank rank() const {
        const double wishes = std::round(price_.of(wall_.state().tally()) * 1e9);
        return {wall_.wrong(), wall_.changed(), wall_.dearness(), wishes};
    }

    /// Keeps what is on the wall when it ranks better than the top did; else puts the cells back.
    bool keep_if_better(const Rank& before, std::initializer_list<int> cells) {
        if (rank() < before) {
            for (const int cell : cells) {
                for (int p = cell * model_.places; p < (cell + 1) * model_.places; ++p)
                    top_.patches[at(p)] = layout::FabricId{static_cast<std::uint16_t>(wall_.fabric(p))};
                top_.turns[at(cell)] = static_cast<std::uint8_t>(wall_.state().turn(cell));
                std::erase(changed_, cell);
                if (wall_.differs(cell)) changed_.push_back(cell);
            }
            return true;
        }
        for (const int cell : cells) wall_.show(cell, top_);
        return false;
    }

    void replace_if_allowed(int patch, int f) {
        if (task_.may_show(patch, f)) wall_.replace(patch, f);
    }

    /// A changed cell shows another fabric, or is turned otherwise.
    void refill(int cell) {
        const Rank before = rank();
        const int patch = cell * model_.places + chance_.below(model_.places);
        const std::vector<int>& turns = task_.turns(cell);
        if (turns.size() > 1 && chance_.below(2) == 0)
            wall_.turn_to(cell, turns[at(chance_.below(static_cast<int>(turns.size())))]);
        else
            replace_if_allowed(patch, chance_.below(model_.fabrics));
        keep_if_better(before, {cell});
    }

    /// A changed cell is put back and another changes in its stead, patch by patch.
    bool shift(int from, int to) {
        if (wall_.differs(to) || task_.must_change(from)) return false;
        const Rank before = rank();
        std::vector<int> shown;
        for (int p = from * model_.places; p < (from + 1) * model_.places; ++p)
            shown.push_back(wall_.fabric(p) == task_.old_fabric(p) ? -1 : wall_.fabric(p));
        wall_.show(from, task_.worn.assignment);
        for (int k = 0; k < model_.places; ++k)
            if (shown[at(k)] >= 0) replace_if_allowed(to * model_.places + k, shown[at(k)]);
        return keep_if_better(before, {from, to});
    }

    void swap(int one, int other) {
        if (one == other) return;
        const Rank before = rank();
        const int k = chance_.below(model_.places);
        const int i = one * model_.places + k, j = other * model_.places + k;
        const int f = wall_.fabric(i), g = wall_.fabric(j);
        replace_if_allowed(i, g);
        replace_if_allowed(j, f);
        keep_if_better(before, {one, other});
    }

    /// Every change tried in every cell that showed the same, until none is better.
    void shift_all() {
        constexpr std::size_t few = 60;
        if (changed_.size() > few) return;
        for (bool better = true; better;) {
            better = false;
            const std::vector<int> changed = changed_;
            for (const int from : changed)
                for (const int to : movable_)
                    if (task_.old_fabric(from * model_.places) == task_.old_fabric(to * model_.places) &&
                        wall_.differs(from))
                        better = shift(from, to) || better;
        }
    }

    const MendTask& task_;
    const Model& model_;
    Chance& chance_;
    Price price_;
    layout::Assignment top_;
    MendWall wall_;
    std::vector<int> changed_, movable_;
};

} // namespace

layout::Assignment polish(const MendTask& task, const layout::Assignment& top, Chance& chance,
                          std::int64_t moves, const std::stop_token& stop) {
    return Polishing(task, top, chance).run(moves, stop);
}

} // namespace motley::placement
