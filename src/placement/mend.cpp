#include "placement/mend.h"

#include <algorithm>

#include "layout/apportion.h"
#include "placement/mend_task.h"
#include "placement/mend_tree.h"
#include "placement/mend_walk.h"
#include "placement/obstacles_search.h"
#include "placement/placement.h"

namespace motley::placement {

namespace {

using Ending = Mended::Ending;

/// From nothing to a mended top: the state between the steps.
class Mending {
public:
    Mending(const layout::Brief& brief, const Worn& worn, const MendEffort& effort)
        : brief_(brief),
          effort_(effort),
          model_(brief),
          task_(model_, worn),
          chance_(effort.seed, 0),
          top_(worn.assignment) {}

    Mended run() {
        if (layout::broken_rules(brief_, top_).empty()) return told(Ending::every_rule_met);
        const Finding finding = decide(brief_, effort_.work / 20);
        if (finding.answer == Answer::impossible) return told(Ending::impossible);
        climb();
        if (ending_ == Ending::impossible) return told(ending_);
        if (ending_ != Ending::every_rule_met) walk(finding);
        if (ending_ != Ending::every_rule_met) return told(Ending::none_found);
        refine();
        return told(Ending::every_rule_met);
    }

private:
    /// One change more each time fewer are proved not to do.
    void climb() {
        MendTree tree(task_, task_.worn.assignment);
        at_least_ = tree.fewest_at_root();
        std::int64_t work = effort_.work / 2;
        for (; at_least_ <= model_.cells && !effort_.stop.stop_requested(); ++at_least_) {
            const MendTree::Answer answer = tree.search(at_least_, work);
            if (answer == MendTree::Answer::out_of_work) return;
            if (answer == MendTree::Answer::none) continue;
            top_ = *tree.best();
            ending_ = Ending::every_rule_met;
            return;
        }
        if (at_least_ > model_.cells) ending_ = Ending::impossible;
    }

    /// Some top that keeps the rules, with as few changes as can be found.
    void walk(const Finding& finding) {
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
            if (auto found = walk_to_rules(task_, chance_, steps, effort_.stop))
                offer(std::move(*found));
            else if (k == 0)
                break; // What is wrong is too much for a walk.
        }
        if (fewest == SIZE_MAX)
            if (auto found = anew(finding)) offer(std::move(*found));
        if (ending_ == Ending::every_rule_met)
            top_ = with_fewer_changes(task_, std::move(top_), chance_, effort_.work / 4, effort_.stop);
    }

    /// A top that keeps the rules and owes nothing to the one that was.
    std::optional<layout::Assignment> anew(const Finding& finding) const {
        layout::Assignment found = task_.worn.assignment;
        if (finding.answer == Answer::possible && !task_.turning()) {
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
        layout::Bounds bounds{model_.cells, brief_.role_counts, brief_.counts};
        for (std::size_t place = 0; place < held.size(); ++place)
            for (std::size_t f = 0; f < held[place].size(); ++f)
                bounds.roles[place][f].least = std::max(bounds.roles[place][f].least, held[place][f]);
        if (!layout::misfits(bounds).empty()) return std::nullopt;
        layout::Brief brief = brief_;
        brief.shares = layout::apportion(bounds);
        Effort effort;
        effort.seed = effort_.seed;
        effort.moves = 1;
        effort.restarts = 1;
        effort.stop = effort_.stop;
        Outcome outcome = place(brief, effort);
        if (!outcome.broken.empty()) return std::nullopt;
        return std::move(outcome.assignment);
    }

    /// The same number of changes, dearness and wishes better.
    void refine() {
        const int changes = static_cast<int>(task_.changed(top_).size());
        constexpr std::int64_t moves = 20'000;
        top_ = polish(task_, std::move(top_), chance_, moves, effort_.stop);
        if (changes > at_least_) return; // The tree has shown that it is too small for this.
        std::int64_t work = effort_.work / 4;
        MendTree tree(task_, task_.worn.assignment);
        tree.search_dearest(changes, task_.dearness(top_), work);
        if (tree.best()) top_ = polish(task_, *tree.best(), chance_, moves, effort_.stop);
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

    const layout::Brief& brief_;
    const MendEffort& effort_;
    Model model_;
    MendTask task_;
    Chance chance_;
    layout::Assignment top_;
    Ending ending_ = Ending::none_found;
    int at_least_ = 0;
};

} // namespace

Mended mend(const layout::Brief& brief, const Worn& worn, const MendEffort& effort) {
    return Mending(brief, worn, effort).run();
}

} // namespace motley::placement
