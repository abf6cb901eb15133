#include "mend/mend.h"

#include <algorithm>

#include "layout/apportion.h"
#include "mend/task.h"
#include "mend/tree.h"
#include "mend/walk.h"
#include "placement/obstacles_search.h"
#include "placement/placement.h"

namespace motley::mend {

namespace {

using Ending = Mended::Ending;

/// After a shortage `spread` weighs at least as much as any other wish.
layout::Brief with_wishes_of_mending(layout::Brief brief, const Worn& worn) {
    std::vector<int> uses(brief.counts.size());
    for (const layout::FabricId f : worn.assignment.patches) ++uses.at(layout::index(f));
    layout::Wishes& wishes = brief.wishes;
    for (std::size_t f = 0; f < uses.size(); ++f)
        if (uses[f] > brief.counts[f].most) {
            wishes.spread = std::max({wishes.spread, wishes.colour, wishes.value});
            if (wishes.spread <= 0) wishes.spread = 1;
        }
    return brief;
}

/// From nothing to a mended top: the state between the steps.
class Mending {
public:
    Mending(const layout::Brief& brief, const Worn& worn, const Effort& effort)
        : brief_(with_wishes_of_mending(brief, worn)),
          effort_(effort),
          model_(brief_),
          task_(model_, worn),
          chance_(effort.seed, 0),
          top_(worn.assignment) {}

    Mended run() {
        if (layout::broken_rules(brief_, top_).empty()) return told(Ending::every_rule_met);
        const placement::Finding finding = placement::decide(brief_, effort_.work / 20);
        if (finding.answer == placement::Answer::impossible) return told(Ending::impossible);
        climb();
        if (ending_ == Ending::impossible) return told(ending_);
        if (ending_ != Ending::every_rule_met) walk(finding);
        if (ending_ != Ending::every_rule_met) return told(Ending::none_found);
        if (!effort_.only_rules) refine();
        return told(Ending::every_rule_met);
    }

private:
    /// Work whose doing is told as the part [from, to) of all.
    Budget budget(std::int64_t work, double from, double to) const {
        std::function<void(double)> tell;
        if (effort_.progress)
            tell = [this, from, to](double share) { effort_.progress(from + (to - from) * share); };
        return {work, effort_.stop, std::move(tell)};
    }

    /// One change more each time fewer are proved not to do.
    void climb() {
        Tree tree(task_, task_.worn.assignment);
        at_least_ = tree.fewest_at_root();
        Budget work = budget(effort_.work / 2, 0, 0.4);
        for (; at_least_ <= model_.cells; ++at_least_) {
            const Tree::Answer answer = tree.search(at_least_, work);
            if (answer == Tree::Answer::out_of_work) return;
            if (answer == Tree::Answer::none) continue;
            top_ = *tree.best();
            ending_ = Ending::every_rule_met;
            return;
        }
        ending_ = Ending::impossible;
    }

    /// Some top that keeps the rules, with as few changes as can be found.
    void walk(const placement::Finding& finding) {
        constexpr int walks = 3;
        // A step asks for up to 600 exchanges, and may look at every patch.
        const std::int64_t steps =
            std::max<std::int64_t>(1000, effort_.work / walks / (600 + model_.patches / 4));
        std::size_t fewest = SIZE_MAX;
        const auto offer = [&](layout::Assignment found) {
            found = put_back(task_, std::move(found));
            if (task_.changed(found).size() >= fewest) return;
            fewest = task_.changed(found).size();
            top_ = std::move(found);
            ending_ = Ending::every_rule_met;
        };
        for (int k = 0; k < walks && !effort_.stop.stop_requested(); ++k) {
            Budget walking = budget(steps + 2 * model_.patches, 0.4 + 0.1 * k, 0.5 + 0.1 * k);
            if (auto found = walk_to_rules(task_, chance_, walking))
                offer(std::move(*found));
            else if (k == 0)
                break; // What is wrong is too much for a walk.
        }
        if (fewest == SIZE_MAX && !effort_.stop.stop_requested())
            if (auto found = anew(finding)) offer(std::move(*found));
        if (ending_ != Ending::every_rule_met) return;
        Budget work = budget(effort_.work / 4, 0.7, 0.8);
        top_ = with_fewer_changes(task_, std::move(top_), chance_, work);
    }

    /// A top that keeps the rules and owes nothing to the one that was.
    std::optional<layout::Assignment> anew(const placement::Finding& finding) const {
        layout::Assignment found = task_.worn.assignment;
        if (finding.answer == placement::Answer::possible && !task_.turning()) {
            for (std::size_t p = 0; p < finding.filling.size(); ++p)
                found.patches[p] = layout::FabricId{static_cast<std::uint16_t>(finding.filling[p])};
            for (int cell = 0; cell < model_.cells; ++cell)
                found.turns[static_cast<std::size_t>(cell)] =
                    static_cast<std::uint8_t>(task_.turns(cell).front());
            return found;
        }
        // The shares as they are when the units that must stay are counted in.
        layout::Table held(static_cast<std::size_t>(model_.places),
                           std::vector<int>(static_cast<std::size_t>(model_.fabrics)));
        for (std::size_t p = 0; p < brief_.pinned.size(); ++p)
            if (const layout::FabricId pin = brief_.pinned[p]; pin != layout::no_fabric)
                ++held[p % held.size()][layout::index(pin)];
        layout::Bounds bounds{std::vector<int>(held.size(), model_.cells), brief_.role_counts, brief_.counts};
        for (std::size_t place = 0; place < held.size(); ++place)
            for (std::size_t f = 0; f < held[place].size(); ++f)
                bounds.roles[place][f].least = std::max(bounds.roles[place][f].least, held[place][f]);
        if (!layout::misfits(bounds).empty()) return std::nullopt;
        layout::Brief brief = brief_;
        brief.shares = layout::apportion(bounds);
        placement::Effort effort;
        effort.seed = effort_.seed;
        effort.moves = 1;
        effort.restarts = 1;
        effort.stop = effort_.stop;
        placement::Outcome outcome = placement::place(brief, effort);
        if (!outcome.broken.empty()) return std::nullopt;
        return std::move(outcome.assignment);
    }

    /// The same number of changes; what counts besides made better.
    void refine() {
        const int changes = static_cast<int>(task_.changed(top_).size());
        constexpr std::int64_t most_tries = 200'000;
        Budget first = budget(most_tries, 0.8, 0.9), last = budget(most_tries, 0.9, 1);
        top_ = polish(task_, std::move(top_), chance_, first);
        if (changes > at_least_) return; // The tree has shown that it is too small for this.
        Budget work = budget(effort_.work / 4, 0.9, 0.9);
        Tree tree(task_, task_.worn.assignment);
        tree.search_dearest(changes, task_.dearness(top_), work);
        if (tree.best()) top_ = polish(task_, *tree.best(), chance_, last);
    }

    Mended told(Ending ending) const {
        Mended out;
        out.ending = ending;
        out.assignment = ending == Ending::every_rule_met ? top_ : task_.worn.assignment;
        out.broken = layout::broken_rules(brief_, out.assignment);
        expects(out.broken.empty() == (ending == Ending::every_rule_met));
        out.changed = task_.changed(out.assignment);
        out.at_least = at_least_;
        out.strangeness = static_cast<double>(task_.strangeness(out.assignment)) / 100;
        return out;
    }

    layout::Brief brief_;
    const Effort& effort_;
    Model model_;
    Task task_;
    Chance chance_;
    layout::Assignment top_;
    Ending ending_ = Ending::none_found;
    int at_least_ = 0;
};

} // namespace

Mended mend(const layout::Brief& brief, const Worn& worn, const Effort& effort) {
    return Mending(brief, worn, effort).run();
}

} // namespace motley::mend
