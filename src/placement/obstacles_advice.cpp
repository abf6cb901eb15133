#include "placement/obstacles_advice.h"

#include <fmt/format.h>

#include <algorithm>

#include "placement/obstacles_pins.h"
#include "placement/obstacles_search.h"
#include "placement/start.h"
#include "placement/start_balance.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

using layout::Brief;
using layout::Touching;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

Brief with_any_counts(Brief brief) {
    for (std::size_t f = 0; f < brief.counts.size(); ++f) {
        int most = 0;
        for (auto& role : brief.role_counts)
            if (role[f].most > 0) role[f] = {0, brief.cells()}, most += brief.cells();
        brief.counts[f] = {0, most};
    }
    return brief;
}

Brief with_counts_within(Brief brief, int step) {
    const auto widen = [&](layout::Range& range) {
        if (range.most > 0) range = {std::max(0, range.least - step), range.most + step};
    };
    for (std::size_t f = 0; f < brief.counts.size(); ++f) {
        widen(brief.counts[f]);
        for (auto& role : brief.role_counts) widen(role[f]);
    }
    return brief;
}

} // namespace

/// Small tops are decided; where turns are open, that decides only what holds however they turn.
bool Advice::is_small(const Brief& changed) const {
    constexpr int few_patches = 64;
    const bool turning = changed.patches_per_unit() > 1 &&
                         std::any_of(changed.turns.begin(), changed.turns.end(), [](int t) { return t < 0; });
    return changed.patches() <= few_patches && !turning;
}

/// The fabrics of a layout that meets the brief; nothing where none was found.
std::optional<std::vector<int>> Advice::any_filling(const Brief& changed) {
    if (work_ <= 0) return std::nullopt;
    if (is_small(changed)) {
        const std::optional<Board> board = Board::lay_out(changed);
        if (!board) return std::nullopt;
        const Demand demand(changed);
        Search search(*board, demand, work_);
        Finding finding = search.decide();
        work_ = search.work_left();
        if (finding.answer != Answer::possible) return std::nullopt;
        return std::move(finding.filling);
    }
    constexpr std::int64_t for_one_patch = 1'000;
    work_ -= for_one_patch * changed.patches();
    const Model model(changed);
    Chance chance(1, 0);
    int asked = 0;
    const layout::Assignment found = first_layout(model, chance, [&] { return ++asked > 1; }, {});
    std::vector<int> shown;
    for (const layout::FabricId f : found.patches) shown.push_back(static_cast<int>(layout::index(f)));
    if (State(model, found, Watch{false, false, false}).tally().broken > 0 || Numbers(model, shown).off() > 0)
        return std::nullopt;
    return shown;
}

bool Advice::can_be_laid(const Brief& changed) {
    return any_filling(changed).has_value();
}

std::optional<std::string> Advice::unpin(const std::vector<int>& patches) {
    const int most_tried = is_small(brief_) ? 12 : 6;
    for (int k = 0; k < std::min(most_tried, static_cast<int>(patches.size())); ++k) {
        Brief changed = brief_;
        changed.pinned[at(patches[at(k)])] = layout::no_fabric;
        if (can_be_laid(changed)) return fmt::format("unpin {}", place_of(brief_, patches[at(k)]));
    }
    return std::nullopt;
}

/// Small tops: the least step by which every number may be off. Larger ones: the rules alone, then exchanges
/// towards the numbers as far as they go.
std::optional<std::vector<int>> Advice::near_filling() {
    if (is_small(brief_)) {
        for (int step = 1; step <= brief_.cells(); step += step)
            if (auto filling = any_filling(with_counts_within(brief_, step))) return filling;
        return std::nullopt;
    }
    return any_filling(with_any_counts(brief_));
}

std::optional<std::string> Advice::other_counts() {
    constexpr std::size_t most_changes = 6;
    const bool turning = std::any_of(brief_.turns.begin(), brief_.turns.end(), [](int t) { return t < 0; });
    if (brief_.patches_per_unit() > 1) {
        if (turning) return std::nullopt; // The turns found would have to be told, too.
        // A plan says numbers over all roles: where a fabric has two, there is no saying which.
        for (std::size_t f = 0; f < brief_.counts.size(); ++f)
            if (std::count_if(brief_.role_counts.begin(), brief_.role_counts.end(),
                              [&](const auto& role) { return role[f].most > 0; }) > 1)
                return std::nullopt;
    }
    std::optional<std::vector<int>> filling = near_filling();
    if (!filling) return std::nullopt;
    const Model model(brief_);
    layout::Assignment top;
    for (const int f : *filling) top.patches.push_back(layout::FabricId{static_cast<std::uint16_t>(f)});
    for (const int turn : brief_.turns) top.turns.push_back(static_cast<std::uint8_t>(std::max(0, turn)));
    Chance chance(1, 1);
    constexpr std::int64_t looks = 2'000'000;
    lean_towards_numbers(model, puzzle_of(model, top), *filling, chance, looks);
    std::vector<int> used(brief_.names.size());
    for (const int f : *filling) ++used[at(f)];
    std::vector<std::string> changes;
    for (std::size_t f = 0; f < used.size(); ++f) {
        const layout::Range& range = brief_.counts[f];
        if (used[f] < range.least || used[f] > range.most)
            changes.push_back(fmt::format("{} of {} instead of {}", used[f], brief_.names[f],
                                          used[f] < range.least ? range.least : range.most));
    }
    if (changes.empty() || changes.size() > most_changes) return std::nullopt;
    return fmt::format("use {}", fmt::join(changes, " and "));
}

std::optional<std::string> Advice::looser_rule() {
    Brief changed = brief_;
    layout::Rules& rules = changed.rules;
    if (rules.touching == Touching::corner && rules.apart < 2) {
        rules.touching = Touching::edge;
        if (can_be_laid(changed)) return "let corners touch (\"touching\": \"edge\")";
        rules = brief_.rules;
    }
    for (--rules.apart; rules.apart >= 1; --rules.apart)
        if (can_be_laid(changed)) return fmt::format("set \"apart\" to {}", rules.apart);
    rules = brief_.rules;
    if (rules.line) {
        rules.line = false;
        if (can_be_laid(changed)) return "leave the line rule out";
        rules = brief_.rules;
    }
    const auto most_asked = std::max_element(brief_.counts.begin(), brief_.counts.end(),
                                             [](auto a, auto b) { return a.least < b.least; });
    const std::size_t f = static_cast<std::size_t>(most_asked - brief_.counts.begin());
    if (2 * most_asked->least >= brief_.patches() && changed.exempt[f] == 0) {
        changed.exempt[f] = 1;
        if (can_be_laid(changed))
            return fmt::format("list {} under rules.exempt as a background", brief_.names[f]);
    }
    return std::nullopt;
}

std::string Advice::all(const std::vector<int>& pins) {
    std::vector<std::string> found;
    for (std::optional<std::string> one : {unpin(pins), other_counts(), looser_rule()})
        if (one) found.push_back(std::move(*one));
    if (!found.empty()) return fmt::format("{}", fmt::join(found, ", or "));
    return "no single change was found that is enough: lift pins, ask for other numbers, or loosen rules";
}

} // namespace motley::placement
