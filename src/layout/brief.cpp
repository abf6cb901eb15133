#include "layout/brief.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <set>

#include "layout/complaints.h"
#include "layout/pinning.h"
#include "layout/tally.h"

namespace motley::layout {

namespace {

/// The ids that the plan lists for a role; "*" when it does not mention the role.
std::vector<std::string> listed(const Plan& plan, const std::string& role) {
    const auto found = plan.roles.find(role);
    return found == plan.roles.end() ? std::vector<std::string>{"*"} : found->second;
}

/// Size, recipe and fabrics.
Brief frame(const Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    expects(plan.columns >= 1 && plan.rows >= 1 && std::int64_t{plan.columns} * plan.rows <= most_cells);
    Brief brief;
    brief.columns = plan.columns;
    brief.rows = plan.rows;
    brief.recipe = unit::find_form(plan.recipe);
    expects(brief.recipe != nullptr);
    brief.rules = plan.rules;
    brief.wishes = plan.wishes;
    for (const palette::Fabric& fabric : fabrics) {
        expects(fabric.colour.has_value());
        brief.names.push_back(fabric.id);
        brief.labs.push_back(fabric.colour->lab);
    }
    brief.exempt.assign(fabrics.size(), 0);
    brief.pinned.assign(static_cast<std::size_t>(brief.patches()), no_fabric);
    brief.pinned_turn.assign(static_cast<std::size_t>(brief.cells()), 0);
    return brief;
}

void exempt_fabrics(const Plan& plan, Brief& brief, Complaints& complaints) {
    for (std::size_t i = 0; i < plan.rules.exempt.size(); ++i) {
        const std::string& id = plan.rules.exempt[i];
        const auto found = std::find(brief.names.begin(), brief.names.end(), id);
        if (found != brief.names.end())
            brief.exempt[static_cast<std::size_t>(found - brief.names.begin())] = 1;
        else
            complaints.add(plan.where(fmt::format("/rules/exempt/{}", i)),
                           fmt::format("the palette has no fabric {}", in_quotes(id)),
                           suggestion(id, brief.names, "the ids are in the palette"));
    }
}

/// Whether every role and every fabric in the roles is known, and each role has something to show.
bool check_roles(const Plan& plan, const Brief& brief, const std::vector<std::vector<char>>& taken,
                 Complaints& complaints) {
    bool good = true;
    const auto complain = [&](const std::string& pointer, std::string what, std::string remedy) {
        complaints.add(plan.where(pointer), std::move(what), std::move(remedy));
        good = false;
    };
    std::vector<std::string> known;
    for (const unit::Patch& patch : brief.recipe->patches) known.push_back(patch.role);
    const std::set<std::string> ids(brief.names.begin(), brief.names.end());
    for (const auto& [role, list] : plan.roles) {
        const std::string pointer = fmt::format("/unit/roles/{}", pointer_step(role));
        if (std::find(known.begin(), known.end(), role) == known.end()) {
            complain(pointer, fmt::format("a {} has no role {}", brief.recipe->name, in_quotes(role)),
                     suggestion(role, known, "see motley recipes"));
            continue;
        }
        for (std::size_t i = 0; i < list.size(); ++i)
            if (list[i] != "*" && !ids.contains(list[i]))
                complain(
                    fmt::format("{}/{}", pointer, i),
                    fmt::format("the palette has no fabric {}", in_quotes(list[i])),
                    suggestion(list[i], brief.names, "the ids are in the palette, \"*\" is all the others"));
    }
    if (!good) return false;
    for (std::size_t p = 0; p < known.size(); ++p)
        if (std::find(taken[p].begin(), taken[p].end(), 1) == taken[p].end())
            complain(plan.roles.contains(known[p]) ? fmt::format("/unit/roles/{}", pointer_step(known[p]))
                                                   : "/unit/roles",
                     fmt::format("the role {} has no fabrics", in_quotes(known[p])),
                     "list at least one; \"*\" is every fabric that no other role names");
    return good;
}

std::vector<int> turns_of(const Plan& plan) {
    std::vector<int> turns;
    for (int row = 0; row < plan.rows; ++row)
        for (int column = 0; column < plan.columns; ++column) switch (plan.turns) {
                case Turns::fixed:
                    turns.push_back(0);
                    break;
                case Turns::alternate:
                    turns.push_back((row + column) % 2);
                    break;
                case Turns::pinwheel:
                    turns.push_back(row % 2 == 0 ? column % 2 : 3 - column % 2);
                    break;
                case Turns::any:
                    turns.push_back(-1);
                    break;
                case Turns::grid: {
                    const auto& line = plan.turn_grid[static_cast<std::size_t>(row) % plan.turn_grid.size()];
                    turns.push_back(line[static_cast<std::size_t>(column) % line.size()]);
                    break;
                }
            }
    return turns;
}

/// The L* that the darkest and the lightest unit can have.
std::pair<double, double> reach(const Brief& brief) {
    double dark = 0, light = 0;
    for (std::size_t p = 0; p < brief.recipe->patches.size(); ++p) {
        double least = HUGE_VAL, most = -HUGE_VAL;
        for (std::size_t f = 0; f < brief.names.size(); ++f) {
            if (brief.role_counts[p][f].most == 0) continue;
            least = std::min(least, brief.labs[f].l);
            most = std::max(most, brief.labs[f].l);
        }
        dark += brief.recipe->patches[p].area * least;
        light += brief.recipe->patches[p].area * most;
    }
    return {dark, light};
}

/// How far along a stretch of `many`, [0, 1]; the middle when there is but one.
double along(int at, int many) {
    return many < 2 ? 0.5 : static_cast<double>(at) / (many - 1);
}

/// How far from the middle of a stretch, 0 in the middle, 1 at both ends.
double off_middle(int at, int many) {
    return many < 2 ? 0 : std::abs(2.0 * at - (many - 1)) / (many - 1);
}

/// How dark a cell should be, 0 lightest to 1 darkest.
double darkness(const Brief& brief, int row, int column, const AimPicture& picture) {
    switch (brief.wishes.aim) {
        case Aim::even:
            break;
        case Aim::across:
            return along(column, brief.columns);
        case Aim::down:
            return along(row, brief.rows);
        case Aim::diagonal:
            return along(row + column, brief.rows + brief.columns - 1);
        case Aim::centre:
            return std::max(off_middle(row, brief.rows), off_middle(column, brief.columns));
        case Aim::picture:
            return 1 - picture.light[static_cast<std::size_t>(row * brief.columns + column)];
    }
    return 0.5;
}

void set_aim(Brief& brief, const AimPicture& picture) {
    if (brief.wishes.aim == Aim::even) return;
    if (brief.wishes.aim == Aim::picture)
        expects(picture.columns == brief.columns && picture.rows == brief.rows &&
                picture.light.size() == static_cast<std::size_t>(brief.cells()));
    const auto [dark, light] = reach(brief);
    for (int row = 0; row < brief.rows; ++row)
        for (int column = 0; column < brief.columns; ++column)
            brief.aim.push_back(light + (dark - light) * darkness(brief, row, column, picture));
}

} // namespace

std::vector<std::vector<char>> takers(const Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    const unit::Form* recipe = unit::find_form(plan.recipe);
    expects(recipe != nullptr);
    std::vector<std::set<std::string>> lists;
    std::set<std::string> named; // By any role: no other takes these as "*".
    for (const unit::Patch& patch : recipe->patches) {
        const auto list = listed(plan, patch.role);
        lists.emplace_back(list.begin(), list.end());
        named.insert(list.begin(), list.end());
    }
    std::vector<std::vector<char>> taken;
    for (const auto& list : lists) {
        taken.emplace_back();
        for (const palette::Fabric& fabric : fabrics)
            taken.back().push_back(list.contains(fabric.id) ||
                                   (list.contains("*") && !named.contains(fabric.id)));
    }
    return taken;
}

Brief make_brief(const Plan& plan, const std::vector<palette::Fabric>& fabrics,
                 const std::vector<int>& yields, const AimPicture& picture) {
    Complaints complaints;
    Brief brief = frame(plan, fabrics);
    exempt_fabrics(plan, brief, complaints);
    brief.turns = turns_of(plan);
    const auto taken = takers(plan, fabrics);
    const bool roles_good = check_roles(plan, brief, taken, complaints);
    std::optional<Tally> counts;
    if (roles_good) {
        const PinUses uses = pin_down(plan, taken, brief, complaints);
        counts = tally(plan, brief, taken, yields, uses, complaints);
    }
    complaints.raise();
    expects(counts.has_value());
    if (!counts->short_stock.empty()) throw Fault(Cause::unmet, counts->short_stock);
    brief.role_counts = std::move(counts->ranges.roles);
    brief.counts = std::move(counts->ranges.totals);
    brief.shares = std::move(counts->shares);
    set_aim(brief, picture);
    return brief;
}

} // namespace motley::layout
