#include <algorithm>
#include <climits>

#include "placement/obstacles_search.h"
#include "placement/start.h"
#include "placement/start_balance.h"
#include "placement/start_deduction.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class First {
public:
    First(const Model& model, Chance& chance, const std::function<bool()>& over, const std::stop_token& stop)
        : model_(model), chance_(chance), over_(over), stop_(stop) {}

    layout::Assignment find() {
        constexpr int pourings = 24;
        for (int attempt = 0; attempt < pourings; ++attempt) {
            if (attempt > 0 && over_()) return best_;
            layout::Assignment start = pour(model_, chance_);
            if (keep(start)) return best_;
            if (attempt == 0 || model_.turns_matter()) {
                start = mend_rules(model_, start, chance_, mending_steps(), stop_);
                if (keep(start)) return best_;
            }
            const Solved solved = deduce(start, attempt);
            if (solved == Solved::found) return best_;
            if (solved == Solved::impossible) {
                impossible_ = true;
                return best_;
            }
        }
        if (!model_.turns_matter() && !over_()) try_all();
        return best_;
    }

    bool impossible() const { return impossible_; }

private:
    /// Looking for a partner goes through the whole top: few steps on a large one.
    std::int64_t mending_steps() const {
        return std::clamp<std::int64_t>(10'000'000 / model_.patches, 100,
                                        2000 + 4 * std::int64_t{model_.patches});
    }

    bool keep(const layout::Assignment& start) {
        const std::int64_t broken = State(model_, start, Watch{false, false, false}).tally().broken;
        if (broken < fewest_) fewest_ = broken, best_ = start;
        return broken == 0;
    }

    void take(const layout::Assignment& start, const std::vector<int>& shown) {
        best_ = start;
        for (int patch = 0; patch < model_.patches; ++patch)
            best_.patches[at(patch)] = layout::FabricId{static_cast<std::uint16_t>(shown[at(patch)])};
        fewest_ = 0;
    }

    /// The rules first, then the numbers by exchanges along chains; on smaller tops, where chains may all be
    /// barred by pins, both at once. Each attempt leans on another layout and is given up early: what is hard
    /// from one beginning is often easy from another.
    Solved deduce(layout::Assignment start, int attempt) {
        constexpr int few_patches = 600;
        Puzzle puzzle = model_.turns_matter() ? puzzle_with_turns(model_, start) : puzzle_of(model_, start);
        if (attempt % 3 == 1 && model_.places == 1) puzzle.wanted = purely_poured(model_, attempt % 2 == 0);
        if (attempt % 3 == 2) puzzle.wanted.clear();
        const bool exactly = attempt % 2 == 1 && model_.patches <= few_patches;
        if (exactly) {
            puzzle.most.assign(at(puzzle.fabrics), INT_MAX);
            for (int f = 0; f < model_.fabrics; ++f) puzzle.most[at(f)] = model_.brief.counts[at(f)].most;
        }
        const int length = luby(attempt + 1), nodes = static_cast<int>(puzzle.choices.size());
        Deduction deduction(puzzle, chance_);
        const Solved solved =
            deduction.solve(length * (500 + nodes / 2),
                            length * (500'000 + std::int64_t{(model_.turns_matter() ? 600 : 200)} * nodes));
        if (solved == Solved::found && !right_numbers(start, puzzle, deduction.filling()))
            return Solved::given_up;
        return solved;
    }

    bool right_numbers(layout::Assignment start, const Puzzle& puzzle, std::vector<int> filling) {
        const std::int64_t free =
            std::count(model_.brief.pinned.begin(), model_.brief.pinned.end(), layout::no_fabric);
        const std::int64_t steps = std::min(60'000 * free, 10'000'000 + std::int64_t{5000} * model_.patches);
        std::size_t next = at(model_.patches);
        for (int cell = 0; cell < model_.cells && model_.turns_matter(); ++cell)
            if (model_.brief.turns[at(cell)] < 0)
                start.turns[at(cell)] = static_cast<std::uint8_t>(filling[next++] - model_.fabrics);
        filling.resize(at(model_.patches));
        if (!balance(model_, model_.turns_matter() ? puzzle_of(model_, start) : puzzle, filling, chance_,
                     steps))
            return false;
        take(start, filling);
        return true;
    }

    /// A knot that nothing undoes: small tops can be filled by trying.
    void try_all() {
        constexpr std::int64_t work = 4'000'000;
        const Finding finding = decide(model_.brief, work);
        if (finding.answer == Answer::possible) take(best_, finding.filling);
        impossible_ = finding.answer == Answer::impossible;
    }

    const Model& model_;
    Chance& chance_;
    const std::function<bool()>& over_;
    const std::stop_token& stop_;
    layout::Assignment best_;
    std::int64_t fewest_ = INT64_MAX;
    bool impossible_ = false;
};

} // namespace

layout::Assignment first_layout(const Model& model, Chance& chance, const std::function<bool()>& over,
                                const std::stop_token& stop) {
    return look_for_first(model, chance, over, stop).assignment;
}

FirstTop look_for_first(const Model& model, Chance& chance, const std::function<bool()>& over,
                        const std::stop_token& stop) {
    First first(model, chance, over, stop);
    FirstTop found{.assignment = first.find()};
    found.impossible = first.impossible();
    return found;
}

} // namespace motley::placement
