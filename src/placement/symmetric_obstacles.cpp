// What stands in the way of a symmetric top, and what would take it away.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <optional>
#include <utility>

#include "placement/symmetric.h"

namespace motley::placement {

namespace {

using layout::Brief;
using layout::Symmetry;
using layout::Touching;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

bool clear(const Brief& brief) {
    return layout::orbits(brief, brief.symmetry).possible();
}

/// What of the setting images depend on.
layout::Setting setting_of(const Brief& brief) {
    const layout::Board& board = brief.board;
    layout::Setting setting;
    setting.arrangement = board.on_point() ? layout::Arrangement::on_point
                          : board.bricks() ? layout::Arrangement::brick
                                           : layout::Arrangement::straight;
    setting.columns = board.list_columns(0);
    setting.rows = board.on_point() ? (board.list_rows() + 1) / 2 : board.list_rows();
    if (!board.plain_blocks().empty()) setting.alternate = "plain";
    return setting;
}

/// The same top with more or fewer rows and columns, without pins; a pattern of turns goes on as it began.
/// Nothing where the symmetry has no such top.
std::optional<Brief> resized(const Brief& brief, int columns, int rows) {
    layout::Setting setting = setting_of(brief);
    setting.columns += columns;
    setting.rows += rows;
    if (setting.columns < 2 || setting.rows < 2) return std::nullopt;
    if (brief.symmetry == Symmetry::quarter_turn && setting.columns != setting.rows) return std::nullopt;
    if (brief.board.bricks() && brief.symmetry != Symmetry::mirror && setting.rows % 2 == 0)
        return std::nullopt;
    Brief trial = brief;
    trial.board = layout::Board(setting, {measure::Length::per_inch});
    trial.columns = trial.board.columns();
    trial.rows = trial.board.rows();
    trial.pinned.assign(at(trial.patches()), layout::no_fabric);
    trial.pinned_turn.assign(at(trial.cells()), 0);
    trial.turns.clear();
    for (int cell = 0; cell < trial.cells(); ++cell)
        trial.turns.push_back(brief.turns[at(cell / trial.columns % brief.rows * brief.columns +
                                             cell % trial.columns % brief.columns)]);
    return trial;
}

bool free_turns(Brief& brief) {
    bool changed = false;
    for (std::size_t cell = 0; cell < brief.turns.size(); ++cell)
        if (brief.pinned_turn[cell] == 0 && brief.turns[cell] >= 0) brief.turns[cell] = -1, changed = true;
    return changed && brief.patches_per_unit() > 1;
}

/// "7 columns, 8 rows" for the nearest size without the obstacle; empty when there is none near.
std::string size_without(const Brief& brief) {
    constexpr std::array<std::pair<int, int>, 8> steps{
        {{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-1, -1}, {1, 1}, {-1, 1}, {1, -1}}};
    const layout::Setting setting = setting_of(brief);
    for (const auto& [columns, rows] : steps)
        if (const auto trial = resized(brief, columns, rows); trial && clear(*trial))
            return fmt::format("{} columns and {} rows", setting.columns + columns, setting.rows + rows);
    return "";
}

std::string remedy_with(const Brief& brief, const std::string& also) {
    if (!also.empty() && clear(brief)) return also;
    Brief turned = brief;
    const std::string and_also = also.empty() ? "" : also + ", and ";
    const std::string turning = and_also + "let the turns of the units be chosen: \"turns\": \"any\"";
    const bool freed = free_turns(turned);
    if (freed && clear(turned)) return turning;
    if (const std::string size = size_without(brief); !size.empty()) return and_also + "use " + size;
    if (freed)
        if (const std::string size = size_without(turned); !size.empty())
            return turning + ", and use " + size;
    return "";
}

/// The smallest change, of those tried, without which the obstacle is gone.
std::string remedy(const Brief& brief) {
    if (std::string found = remedy_with(brief, ""); !found.empty()) return found;
    Brief eased = brief;
    if (brief.rules.touching == Touching::corner) {
        eased.rules.touching = Touching::edge;
        if (std::string found = remedy_with(eased, "set \"touching\" to \"edge\""); !found.empty())
            return found;
    }
    eased = brief;
    std::string words;
    const auto ease = [&](const std::string& more) { words += (words.empty() ? "" : ", ") + more; };
    if (brief.rules.touching != Touching::free) ease("set \"touching\" to \"free\"");
    if (brief.rules.apart > 1) ease("leave \"apart\" out");
    if (brief.rules.line) ease("leave \"line\" out");
    eased.rules.touching = Touching::free;
    eased.rules.apart = 1;
    eased.rules.line = false;
    if (std::string found = remedy_with(eased, words); !found.empty() && !words.empty()) return found;
    for (const auto& [other, name] :
         {std::pair{Symmetry::mirror, "mirror"}, std::pair{Symmetry::half_turn, "half-turn"}}) {
        Brief trial = brief;
        trial.symmetry = other;
        if (brief.board.bricks() && other == Symmetry::half_turn && brief.board.list_rows() % 2 == 0)
            continue;
        if (clear(trial)) return fmt::format("use the symmetry \"{}\"", name);
    }
    return "leave \"symmetry\" out";
}

/// Orbits that a fabric may fill, and what counts they can make.
struct Makings {
    std::vector<char> can; ///< By count.
    int pieces = 0;

    int nearest(int wanted) const {
        for (int step = 0; step <= static_cast<int>(can.size()) + wanted; ++step)
            for (const int n : {wanted - step, wanted + step})
                if (n >= 0 && n < static_cast<int>(can.size()) && can[at(n)]) return n;
        return 0;
    }
};

Makings makings(const Brief& brief, const layout::Orbits& orbits, int f) {
    const int places = brief.patches_per_unit();
    std::array<int, 5> many{}; // By size: 1, 2 and 4.
    Makings made;
    for (const auto& orbit : orbits.patches)
        if (std::all_of(orbit.begin(), orbit.end(),
                        [&](int patch) { return brief.role_counts[at(patch % places)][at(f)].most > 0; }))
            ++many[orbit.size()], made.pieces += static_cast<int>(orbit.size());
    made.can.assign(at(made.pieces + 1), 0);
    for (int n = 0; n <= made.pieces; ++n) { // Large ones first leave the most to the small ones.
        int rest = n;
        for (const int size : {4, 2, 1}) rest -= size * std::min(many[at(size)], rest / size);
        made.can[at(n)] = rest == 0;
    }
    return made;
}

std::vector<Problem> count_obstacles(const Brief& brief, const layout::Orbits& orbits) {
    const int fabrics = static_cast<int>(brief.names.size()) - (brief.names.back().empty() ? 1 : 0);
    const int alone = static_cast<int>(std::count_if(orbits.patches.begin(), orbits.patches.end(),
                                                     [](const auto& orbit) { return orbit.size() == 1; }));
    std::vector<Problem> found;
    std::vector<std::string> odd;
    for (int f = 0; f < fabrics; ++f) {
        const layout::Range range = brief.counts[at(f)];
        const Makings made = makings(brief, orbits, f);
        bool any = false;
        for (int n = range.least; n <= std::min(range.most, made.pieces); ++n) any = any || made.can[at(n)];
        if (!any && range.least <= made.pieces)
            found.push_back(
                {"",
                 fmt::format("impossible: with this symmetry patches come by twos or fours, and no "
                             "choice of them makes {} of {}",
                             range.least, brief.names[at(f)]),
                 fmt::format("ask for {} of it, or let it be \"even\"", made.nearest(range.least))});
        else if (range.least == range.most && range.most % 2 == 1)
            odd.push_back(brief.names[at(f)]);
    }
    if (found.empty() && static_cast<int>(odd.size()) > alone)
        found.push_back(
            {"",
             fmt::format("impossible: the counts of {} fabrics are odd ({}{}), and with this symmetry "
                         "only {} patch{} without an image to match",
                         odd.size(), odd.front(), odd.size() > 1 ? " and others" : "", alone,
                         alone == 1 ? " is" : "es are"),
             fmt::format("make {} of those counts even by asking for one more or one fewer",
                         static_cast<int>(odd.size()) - alone)});
    return found;
}

} // namespace

std::vector<Problem> symmetry_obstacles(const layout::Brief& brief, const layout::Orbits& orbits) {
    if (!orbits.obstacle.empty())
        return {
            {"", "impossible: " + orbits.obstacle, orbits.remedy.empty() ? remedy(brief) : orbits.remedy}};
    if (orbits.near >= 0)
        return {
            {"",
             fmt::format("impossible: with this symmetry the units at {} and {} show the same fabric, and "
                         "they come too near to each other for the rules",
                         brief.board.place(orbits.near), brief.board.place(orbits.near_to)),
             remedy(brief)}};
    return count_obstacles(brief, orbits);
}

} // namespace motley::placement
