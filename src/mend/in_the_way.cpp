#include "mend/in_the_way.h"

#include <algorithm>
#include <optional>

#include "fault/fault.h"
#include "placement/model.h"

namespace motley::mend {

namespace {

using Why = Hindrance::Why;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Takes sewn units off the wall, and puts back as many as can stay.
class Unpicking {
public:
    Unpicking(const layout::Brief& brief, const Worn& worn, const std::vector<char>& sewn,
              const Effort& effort)
        : brief_(brief), worn_(worn), sewn_(sewn), effort_(effort) {
        whole_work_ = effort_.work;
        effort_.work /= 50;
        effort_.only_rules = true;
        effort_.progress = {};
    }

    /// Cells, rising; empty when no way was found.
    std::vector<int> run() {
        std::vector<int> all;
        for (int cell = 0; cell < static_cast<int>(sewn_.size()); ++cell)
            if (sewn_[at(cell)]) all.push_back(cell);
        const auto first = needed_of(all);
        if (!first) return {};
        std::vector<int> unpicked = *first;
        // Put back by halves, quarters, ... and last one by one.
        for (std::size_t size = unpicked.size(); size > 0; size /= 2) {
            // Whom the message will name is worth a closer look.
            constexpr std::size_t few = 12;
            if (size == 1 && unpicked.size() <= few) effort_.work = whole_work_ / 8;
            for (std::size_t from = 0; from < unpicked.size() && unpicked.size() > 1;) {
                std::vector<int> fewer = unpicked;
                const auto begin = fewer.begin() + static_cast<std::ptrdiff_t>(from);
                fewer.erase(begin,
                            begin + static_cast<std::ptrdiff_t>(std::min(size, unpicked.size() - from)));
                const auto needed = fewer.empty() ? std::nullopt : needed_of(fewer);
                if (needed)
                    unpicked = *needed;
                else
                    from += size;
            }
        }
        return unpicked;
    }

private:
    /// With these off the wall: those of them that come back otherwise. Empty where nothing is found.
    std::optional<std::vector<int>> needed_of(const std::vector<int>& unpicked) {
        if (++trials_ > most_trials) return std::nullopt;
        std::vector<char> sewn = sewn_;
        for (const int cell : unpicked) sewn[at(cell)] = 0;
        const Mended mended = mend(held(brief_, worn_.assignment, sewn), worn_, effort_);
        if (mended.ending != Mended::Ending::every_rule_met) return std::nullopt;
        std::vector<int> needed;
        std::set_intersection(unpicked.begin(), unpicked.end(), mended.changed.begin(), mended.changed.end(),
                              std::back_inserter(needed));
        return needed;
    }

    static constexpr int most_trials = 80;

    const layout::Brief& brief_;
    const Worn& worn_;
    const std::vector<char>& sewn_;
    Effort effort_;
    std::int64_t whole_work_ = 0;
    int trials_ = 0;
};

class Reasons {
public:
    Reasons(const layout::Brief& brief, const Worn& worn, const std::vector<char>& sewn)
        : model_(brief), worn_(worn), sewn_(sewn) {}

    Hindrance of(int cell) const {
        const int first = cell * model_.places, last = first + model_.places;
        for (int p = first; p < last; ++p) {
            if (!is_allowed(p)) return {cell, Why::itself, -1, fabric(p), {}};
            for (int q = first; q < p; ++q)
                if (!model_.contrasts(shown(p), shown(q)))
                    return {cell, Why::contrast, -1, fabric(q), fabric(p)};
        }
        Hindrance found{cell, Why::room, -1, fabric(first), {}};
        model_.for_zone(cell, [&](int other) {
            for (int p = first; p < last; ++p)
                for (int q = other * model_.places; q < (other + 1) * model_.places; ++q)
                    if (found.why != Why::pair && clash(p, q))
                        found = {cell, Why::pair, other, fabric(p), held_fabric(q)};
        });
        return found;
    }

private:
    bool is_allowed(int patch) const {
        const layout::Brief& brief = model_.brief;
        return brief.role_counts[at(patch % model_.places)][at(shown(patch))].most > 0 &&
               brief.counts[at(shown(patch))].most > 0;
    }

    layout::FabricId fabric(int patch) const { return worn_.assignment.patches[at(patch)]; }
    int shown(int patch) const {
        return static_cast<int>(layout::index(worn_.assignment.patches[at(patch)]));
    }
    int turn(int patch) const { return worn_.assignment.turns[at(patch / model_.places)]; }

    layout::FabricId held_fabric(int patch) const {
        return sewn_[at(patch / model_.places)] ? worn_.assignment.patches[at(patch)]
                                                : model_.brief.pinned[at(patch)];
    }

    bool clash(int p, int q) const {
        const layout::FabricId other = held_fabric(q);
        return other != layout::no_fabric && model_.same(shown(p), static_cast<int>(layout::index(other))) &&
               model_.conflict(p, turn(p), q, turn(q));
    }

    placement::Model model_;
    const Worn& worn_;
    const std::vector<char>& sewn_;
};

} // namespace

layout::Brief held(layout::Brief brief, const layout::Assignment& worn, const std::vector<char>& sewn) {
    const std::size_t places = worn.patches.size() / worn.turns.size();
    for (std::size_t cell = 0; cell < sewn.size(); ++cell) {
        if (!sewn[cell]) continue;
        brief.turns[cell] = worn.turns[cell];
        for (std::size_t p = cell * places; p < (cell + 1) * places; ++p) brief.pinned[p] = worn.patches[p];
    }
    return brief;
}

std::vector<Hindrance> in_the_way(const layout::Brief& brief, const Worn& worn, const std::vector<char>& sewn,
                                  const Effort& effort) {
    expects(sewn.size() == worn.assignment.turns.size());
    const Reasons reasons(brief, worn, sewn);
    std::vector<Hindrance> out;
    for (const int cell : Unpicking(brief, worn, sewn, effort).run()) out.push_back(reasons.of(cell));
    return out;
}

} // namespace motley::mend
