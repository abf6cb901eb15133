// Among equally few changes: the nearest in colour, then the evenly shared, then what the wishes like best.

#include <algorithm>
#include <cmath>
#include <tuple>

#include "mend/walk.h"
#include "mend/wall.h"
#include "placement/price.h"

namespace motley::mend {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Polishing {
public:
    Polishing(const Task& task, const layout::Assignment& top, Chance& chance, Budget& tries)
        : task_(task),
          model_(task.model),
          chance_(chance),
          tries_(tries),
          price_(model_, top),
          top_(top),
          wall_(task, top, price_.watch()) {
        price_.set_base(wall_.state().base());
        for (const int cell : task.changed(top)) changed_.push_back(cell);
        for (int cell = 0; cell < model_.cells; ++cell)
            if (task.may_change(cell)) movable_.push_back(cell);
    }

    layout::Assignment run() {
        if (changed_.empty()) return top_;
        // Many changes are left to chance alone: trying all pairs of them would take too long.
        constexpr std::size_t many = 300, few = 60;
        if (changed_.size() <= many) settle();
        constexpr int kicks = 40;
        for (int k = 0; k < kicks && changed_.size() > 1 && changed_.size() <= few && !tries_.spent(); ++k)
            kick();
        // As often as that finds nearly everything one step away, and no oftener.
        std::int64_t moves = 8 * std::int64_t{static_cast<int>(changed_.size())} *
                             (static_cast<int>(movable_.size()) + model_.fabrics * model_.places);
        for (; moves > 0 && !changed_.empty() && !tries_.spent(); --moves) {
            const int cell = any(changed_);
            switch (chance_.below(3)) {
                case 0:
                    refill_by_chance(cell);
                    break;
                case 1:
                    shift(cell, any(movable_));
                    break;
                default:
                    swap(cell, any(changed_), chance_.below(model_.places));
            }
        }
        return top_;
    }

private:
    using Rank = std::tuple<std::int64_t, int, std::int64_t, std::int64_t, double>;

    int any(const std::vector<int>& cells) {
        return cells[at(chance_.below(static_cast<int>(cells.size())))];
    }

    Rank rank() const {
        const double wishes = std::round(price_.of(wall_.tally()) * 1e9);
        return {wall_.wrong(), wall_.changed(), wall_.dearness(), wall_.piled(), wishes};
    }

    /// What is on the wall becomes the top.
    void keep(std::initializer_list<int> cells) {
        for (const int cell : cells) {
            for (int p = cell * model_.places; p < (cell + 1) * model_.places; ++p)
                top_.patches[at(p)] = layout::FabricId{static_cast<std::uint16_t>(wall_.fabric(p))};
            top_.turns[at(cell)] = static_cast<std::uint8_t>(wall_.state().pose(cell));
            std::erase(changed_, cell);
            if (wall_.differs(cell)) changed_.push_back(cell);
        }
    }

    /// Keeps what is on the wall when it ranks better than the top did; else puts the cells back. A kick
    /// takes all that keeps the rules and the number of changes.
    bool keep_if_better(const Rank& before, std::initializer_list<int> cells) {
        tries_.spend(1);
        const bool fit = wall_.wrong() == 0 && wall_.changed() == std::get<1>(before);
        if (kicking_ ? fit : rank() < before) {
            keep(cells);
            return true;
        }
        for (const int cell : cells) wall_.show(cell, top_);
        return false;
    }

    void replace_if_allowed(int patch, int f) {
        if (task_.may_show(patch, f)) wall_.replace(patch, f);
    }

    bool refill(int patch, int f) {
        if (!task_.may_show(patch, f) || wall_.fabric(patch) == f) return false;
        const Rank before = rank();
        wall_.replace(patch, f);
        return keep_if_better(before, {patch / model_.places});
    }

    void refill_by_chance(int cell) {
        const std::vector<int>& turns = task_.turns(cell);
        if (turns.size() > 1 && chance_.below(2) == 0) {
            const Rank before = rank();
            wall_.turn_to(cell, turns[at(chance_.below(static_cast<int>(turns.size())))]);
            keep_if_better(before, {cell});
        } else {
            refill(cell * model_.places + chance_.below(model_.places), chance_.below(model_.fabrics));
        }
    }

    /// A changed cell is put back and another changes in its stead, patch by patch; one patch to `f` where
    /// that is said.
    bool shift(int from, int to, int place = -1, int f = -1) {
        if (wall_.differs(to) || task_.must_change(from)) return false;
        const Rank before = rank();
        std::vector<int> shown;
        for (int p = from * model_.places; p < (from + 1) * model_.places; ++p)
            shown.push_back(wall_.fabric(p) == task_.old_fabric(p) ? -1 : wall_.fabric(p));
        if (place >= 0) shown[at(place)] = f;
        wall_.show(from, task_.worn.assignment);
        for (int k = 0; k < model_.places; ++k)
            if (shown[at(k)] >= 0) replace_if_allowed(to * model_.places + k, shown[at(k)]);
        return keep_if_better(before, {from, to});
    }

    bool swap(int one, int other, int place) {
        const int i = one * model_.places + place, j = other * model_.places + place;
        const int f = wall_.fabric(i), g = wall_.fabric(j);
        if (one == other || f == g) return false;
        const Rank before = rank();
        replace_if_allowed(i, g);
        replace_if_allowed(j, f);
        return keep_if_better(before, {one, other});
    }

    /// Fabrics no stranger in place of the old one than what the patch shows now.
    std::vector<int> as_near(int patch) const {
        std::vector<int> found;
        for (int f = 0; f < model_.fabrics; ++f)
            if (f != task_.old_fabric(patch) && task_.odd(patch, f) <= task_.odd(patch, wall_.fabric(patch)))
                found.push_back(f);
        return found;
    }

    bool showed_the_same(int from, int to) const {
        for (int k = 0; k < model_.places; ++k) {
            const int p = from * model_.places + k;
            if (wall_.fabric(p) != task_.old_fabric(p) &&
                task_.old_fabric(p) != task_.old_fabric(to * model_.places + k))
                return false;
        }
        return true;
    }

    /// Every step of the change in one cell: other fabrics, an exchange with another change, the same or a
    /// fabric as near in another cell that showed the same.
    bool improve(int from) {
        bool better = false;
        for (int k = 0; k < model_.places; ++k) {
            const int patch = from * model_.places + k;
            for (int f = 0; f < model_.fabrics; ++f) better = refill(patch, f) || better;
            for (const int other : std::vector<int>(changed_)) better = swap(from, other, k) || better;
        }
        for (const int to : movable_) {
            if (tries_.spent() || !wall_.differs(from)) break;
            if (wall_.differs(to) || !showed_the_same(from, to)) continue;
            if (shift(from, to)) return true;
            for (int k = 0; k < model_.places; ++k) {
                const int patch = from * model_.places + k;
                if (wall_.fabric(patch) == task_.old_fabric(patch)) continue;
                for (const int f : as_near(patch))
                    if (shift(from, to, k, f)) return true;
            }
        }
        return better;
    }

    void settle() {
        for (bool better = true; better;) {
            better = false;
            for (const int from : std::vector<int>(changed_)) {
                if (tries_.spent()) return;
                if (wall_.differs(from)) better = improve(from) || better;
            }
        }
    }

    /// Two changes to somewhere else or to another fabric, and down again; what is no better is undone.
    void kick() {
        const Rank before = rank();
        const layout::Assignment kept = top_;
        const std::vector<int> kept_changes = changed_;
        kicking_ = true;
        for (int k = 0; k < 2; ++k) {
            const int from = any(changed_);
            std::vector<int> others;
            for (const int to : movable_)
                if (!wall_.differs(to) && showed_the_same(from, to)) others.push_back(to);
            others.push_back(from);
            const int to = any(others), place = chance_.below(model_.places),
                      patch = from * model_.places + place;
            const std::vector<int> fabrics = as_near(patch);
            if (fabrics.empty() || wall_.fabric(patch) == task_.old_fabric(patch)) continue;
            if (to == from)
                refill(patch, any(fabrics));
            else
                shift(from, to, place, any(fabrics));
        }
        kicking_ = false;
        settle();
        if (rank() < before) return;
        for (int cell = 0; cell < model_.cells; ++cell) wall_.show(cell, kept);
        top_ = kept;
        changed_ = kept_changes;
    }

    const Task& task_;
    const Model& model_;
    Chance& chance_;
    Budget& tries_;
    placement::Price price_;
    layout::Assignment top_;
    Wall wall_;
    std::vector<int> changed_, movable_;
    bool kicking_ = false;
};

} // namespace

layout::Assignment polish(const Task& task, const layout::Assignment& top, Chance& chance, Budget& tries) {
    return Polishing(task, top, chance, tries).run();
}

} // namespace motley::mend
