#include "mend/walk.h"

#include <algorithm>
#include <cstdlib>
#include <limits>

#include "mend/tree.h"
#include "mend/wall.h"

namespace motley::mend {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

constexpr Watch rules_only{false, false, false};

/// The top as it was, with what pins, roles and turns force already done.
layout::Assignment forced(const Task& task) {
    layout::Assignment top = task.worn.assignment;
    for (int cell = 0; cell < task.model.cells; ++cell) {
        const std::vector<int>& turns = task.turns(cell);
        if (turns.size() == 1) top.turns[at(cell)] = static_cast<std::uint8_t>(turns.front());
        for (int p = cell * task.model.places; p < (cell + 1) * task.model.places; ++p)
            for (int f = 0; f < task.model.fabrics && !task.may_show(p, task.old_fabric(p)); ++f)
                if (task.may_show(p, f)) {
                    top.patches[at(p)] = layout::FabricId{static_cast<std::uint16_t>(f)};
                    break;
                }
    }
    return top;
}

class Walk {
public:
    Walk(const Task& task, Chance& chance)
        : task_(task), model_(task.model), chance_(chance), wall_(task, forced(task), rules_only) {
        forbidden_.assign(at(model_.patches) * at(model_.fabrics), 0);
    }

    std::optional<layout::Assignment> run(Budget& steps) {
        best_ = wall_.wrong();
        for (step_ = 1; wall_.wrong() > 0 && steps.spend(1); ++step_) {
            const int patch = troubled();
            if (patch < 0) return std::nullopt;
            move(patch);
            best_ = std::min(best_, wall_.wrong());
        }
        if (wall_.wrong() > 0) return std::nullopt;
        return wall_.state().assignment();
    }

private:
    struct Move {
        int patch = -1, other = -1, fabric = -1, turn = -1;
    };

    bool may_move(int patch) const { return task_.may_change(patch / model_.places); }

    /// A patch in conflict, by chance; where there is none, one of a fabric used too often, or any where one
    /// is owed.
    int troubled() {
        int found = -1, seen = 0;
        const auto offer = [&](int patch) {
            if (may_move(patch) && chance_.below(++seen) == 0) found = patch;
        };
        constexpr int picks = 40; // Where much is wrong, one is found so without looking at all.
        for (int k = 0; k < picks && found < 0 && wall_.state().tally().broken > picks; ++k) {
            const int p = chance_.below(model_.patches);
            if (wall_.state().in_trouble(p)) offer(p);
        }
        if (found < 0 && wall_.state().tally().broken > 0)
            for (int p = 0; p < model_.patches; ++p)
                if (wall_.state().in_trouble(p)) offer(p);
        if (found >= 0 && (wall_.off_counts() == 0 || chance_.below(4) != 0)) return found;
        for (int p = 0; p < model_.patches; ++p) {
            const int f = wall_.fabric(p), place = p % model_.places;
            if (wall_.state().uses(f) > model_.brief.counts[at(f)].most ||
                wall_.state().uses_in_place(place, f) > model_.brief.role_counts[at(place)][at(f)].most)
                offer(p);
        }
        if (found >= 0) return found;
        for (int p = 0; p < model_.patches; ++p) offer(p);
        return found;
    }

    /// 8 for each wrong, 1 for each cell changed; ties by chance.
    void consider(const Move& move, std::int64_t wrongs, int change, bool tabu) {
        if (tabu && wall_.wrong() + wrongs >= best_) return;
        const std::int64_t cost = 8 * wrongs + change;
        if (cost > least_) return;
        if (cost < least_) ties_ = 0;
        least_ = cost;
        if (chance_.below(++ties_) == 0) chosen_ = move;
    }

    bool is_forbidden(int patch, int f) const {
        return forbidden_[at(patch) * at(model_.fabrics) + at(f)] >= step_;
    }

    /// How many more cells differ when a patch shows f.
    int change(int patch, int f) const {
        const int cell = patch / model_.places;
        bool then = wall_.state().pose(cell) != task_.old_turn(cell);
        for (int q = cell * model_.places; q < (cell + 1) * model_.places; ++q)
            then = then || (q == patch ? f : wall_.fabric(q)) != task_.old_fabric(q);
        return static_cast<int>(then) - static_cast<int>(wall_.differs(cell));
    }

    void move(int patch) {
        chosen_ = {};
        least_ = std::numeric_limits<std::int64_t>::max();
        ties_ = 0;
        const int f = wall_.fabric(patch);
        for (int g = 0; g < model_.fabrics; ++g)
            if (g != f && task_.may_show(patch, g))
                consider({.patch = patch, .fabric = g}, wall_.replace_wrongs(patch, g), change(patch, g),
                         is_forbidden(patch, g));
        constexpr int most = 600;
        const int tried = std::min(model_.patches, most);
        const int from = model_.patches > most ? chance_.below(model_.patches) : 0;
        for (int k = 0; k < tried; ++k) {
            const int other = (from + k) % model_.patches, g = wall_.fabric(other);
            if (g == f || !may_move(other) || other / model_.places == patch / model_.places ||
                !task_.may_show(patch, g) || !task_.may_show(other, f))
                continue;
            consider({.patch = patch, .other = other}, wall_.exchange_wrongs(patch, other),
                     change(patch, g) + change(other, f), is_forbidden(patch, g) || is_forbidden(other, f));
        }
        consider_turns(patch / model_.places);
        take();
    }

    void consider_turns(int cell) {
        if (!task_.turning()) return;
        const int before = wall_.state().pose(cell);
        const std::int64_t wrong = wall_.wrong();
        for (const int turn : task_.turns(cell)) {
            if (turn == before) continue;
            const int changed = wall_.changed();
            wall_.turn_to(cell, turn);
            const std::int64_t wrongs = wall_.wrong() - wrong;
            const int change = wall_.changed() - changed;
            wall_.turn_to(cell, before);
            consider({.patch = cell * model_.places, .turn = turn}, wrongs, change, false);
        }
    }

    void take() {
        if (chosen_.patch < 0) return;
        if (chosen_.turn >= 0) {
            wall_.turn_to(chosen_.patch / model_.places, chosen_.turn);
            return;
        }
        const int f = wall_.fabric(chosen_.patch);
        forbid(chosen_.patch, f);
        if (chosen_.other >= 0) {
            const int g = wall_.fabric(chosen_.other);
            forbid(chosen_.other, g);
            wall_.replace(chosen_.other, f);
            wall_.replace(chosen_.patch, g);
        } else {
            wall_.replace(chosen_.patch, chosen_.fabric);
        }
    }

    void forbid(int patch, int f) {
        forbidden_[at(patch) * at(model_.fabrics) + at(f)] = step_ + 8 + chance_.below(12);
    }

    const Task& task_;
    const Model& model_;
    Chance& chance_;
    Wall wall_;
    std::vector<std::int64_t> forbidden_; // [patch][fabric] until which step.
    std::int64_t step_ = 0, best_ = 0, least_ = 0;
    int ties_ = 0;
    Move chosen_;
};

} // namespace

std::optional<layout::Assignment> walk_to_rules(const Task& task, Chance& chance, Budget& steps) {
    return Walk(task, chance).run(steps);
}

layout::Assignment put_back(const Task& task, layout::Assignment top) {
    Wall wall(task, top, rules_only);
    const layout::Assignment& old = task.worn.assignment;
    std::int64_t tries = 400'000;
    const auto try_back = [&](std::initializer_list<int> cells) {
        --tries;
        for (const int cell : cells) wall.show(cell, old);
        if (wall.wrong() == 0) return true;
        for (const int cell : cells) wall.show(cell, top);
        return false;
    };
    for (bool fewer = true; fewer && tries > 0;) {
        fewer = false;
        std::vector<int> cells = task.changed(top);
        std::erase_if(cells, [&](int cell) { return task.must_change(cell); });
        constexpr std::size_t most_pairs = 400;
        for (std::size_t i = 0; i < cells.size() && tries > 0; ++i) {
            if (!wall.differs(cells[i])) continue;
            bool back = try_back({cells[i]});
            for (std::size_t j = i + 1; j < std::min(cells.size(), i + most_pairs) && !back && tries > 0; ++j)
                back = wall.differs(cells[j]) && try_back({cells[i], cells[j]});
            fewer = fewer || back;
        }
        top = wall.state().assignment();
    }
    return top;
}

layout::Assignment with_fewer_changes(const Task& task, layout::Assignment top, Chance& chance,
                                      Budget& work) {
    const int columns = task.model.columns;
    for (int idle = 0; idle < 200 && !work.spent(); ++idle) {
        std::vector<int> cells = task.changed(top);
        if (cells.size() < 2) break;
        const int middle = cells[at(chance.below(static_cast<int>(cells.size())))];
        const auto steps = [&](int cell) {
            return std::max(std::abs(cell / columns - middle / columns),
                            std::abs(cell % columns - middle % columns));
        };
        // Half the time neighbours, which hinder one another; else any, which make up for one another's
        // counts.
        chance.shuffle(cells);
        if (chance.below(2) == 0)
            std::stable_sort(cells.begin(), cells.end(), [&](int a, int b) { return steps(a) < steps(b); });
        cells.resize(std::min(cells.size(), at(2 + chance.below(6))));
        layout::Assignment base = top;
        for (const int cell : cells) {
            base.turns[at(cell)] = task.worn.assignment.turns[at(cell)];
            for (int p = cell * task.model.places; p < (cell + 1) * task.model.places; ++p)
                base.patches[at(p)] = task.worn.assignment.patches[at(p)];
        }
        Budget share = work.part(2'000 * std::int64_t{task.model.patches + 32});
        Tree tree(task, base);
        work.spend(20 * std::int64_t{task.model.patches});
        if (tree.search(static_cast<int>(cells.size()) - 1, share) != Tree::Answer::found) continue;
        top = *tree.best();
        idle = -1;
    }
    return top;
}

} // namespace motley::mend
