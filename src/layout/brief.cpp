#include "layout/brief.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <set>

#include "layout/complaints.h"
#include "layout/mirror.h"
#include "layout/pinning.h"
#include "layout/tally.h"
#include "layout/top.h"
#include "unit/recipe.h"

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
    expects(!plan.forms().empty());
    Brief brief;
    brief.board = plan.board();
    brief.columns = brief.board.columns();
    brief.rows = brief.board.rows();
    brief.forms = plan.forms();
    if (sewn_in_batches(plan.sewn)) brief.kit = make_kit(plan.sewn, brief.board.units(), plan.usable_width);
    brief.symmetry = plan.setting.symmetry;
    brief.least_edge = plan.rules.least_contact.in_inches() / plan.finished.in_inches();
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

/// What gets fabrics by count.
std::vector<Role> roles_of(const Brief& brief) {
    std::vector<Role> roles;
    if (brief.kit)
        for (std::size_t r = 0; r < brief.kit->roles.size(); ++r)
            roles.push_back({brief.kit->roles[r], brief.kit->places(static_cast<int>(r))});
    else
        for (int p = 0; p < brief.patches_per_unit(); ++p)
            roles.push_back({brief.role(p), brief.board.units()});
    return roles;
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
    for (const Role& role : roles_of(brief)) known.push_back(role.name);
    const std::set<std::string> ids(brief.names.begin(), brief.names.end());
    for (const auto& [role, list] : plan.roles) {
        const std::string pointer = fmt::format("/unit/roles/{}", pointer_step(role));
        if (std::find(known.begin(), known.end(), role) == known.end()) {
            complain(pointer, fmt::format("a {} has no role {}", brief.forms.front().name, in_quotes(role)),
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

/// Cells from the middle of a stretch: 0, 1, 2 ... outwards.
int from_middle(int at, int many) {
    return 2 * at < many ? (many - 1) / 2 - at : at - many / 2;
}

/// A half-square triangle has its print above right at turn 0, below right at 1, below left at 2, above left
/// at 3.
int turn_at(const Plan& plan, const Board& board, int row, int column) {
    constexpr int fields[3][2][2] = {
        {{0, 1}, {3, 2}}, // pinwheel: four prints turn about the middle of every four units.
        {{0, 3}, {1, 2}}, // broken dishes: an hourglass of two prints in every four units.
        {{1, 2}, {0, 3}}, // sunshine and shadow: prints of four units meet in diamonds.
    };
    const int r = row % 2, c = column % 2;
    switch (plan.turns) {
        case Turns::fixed:
            return 0;
        case Turns::alternate:
            return (row + column) % 2;
        case Turns::any:
            return -1;
        case Turns::pinwheel:
            return fields[0][r][c];
        case Turns::broken_dishes:
            return fields[1][r][c];
        case Turns::sunshine_and_shadow:
            return fields[2][r][c];
        case Turns::straight_furrow: // Straight bands from below left to above right.
            return (row + column) % 2 == 0 ? 1 : 3;
        case Turns::streak_of_lightning: // Bands that zigzag across.
            return c == 0 ? (r == 0 ? 1 : 3) : (r == 0 ? 2 : 0);
        case Turns::barn_raising: { // Rings of diamonds around the middle.
            const bool above = 2 * row < board.rows(), left = 2 * column < board.columns();
            const int outward = above ? (left ? 3 : 0) : (left ? 2 : 1);
            const int ring = from_middle(row, board.rows()) + from_middle(column, board.columns());
            return ring % 2 == 0 ? outward : (outward + 2) % 4;
        }
        case Turns::grid:
            break;
    }
    const auto& line = plan.turn_grid[static_cast<std::size_t>(row) % plan.turn_grid.size()];
    return line[static_cast<std::size_t>(column) % line.size()];
}

/// Rows and columns are those of the lattice: neighbours along a unit's own sides.
std::vector<int> turns_of(const Plan& plan, const Board& board) {
    std::vector<int> turns;
    for (int cell = 0; cell < board.cells(); ++cell)
        turns.push_back(
            board.present(cell) ? turn_at(plan, board, cell / board.columns(), cell % board.columns()) : 0);
    return turns;
}

/// The L* that the darkest and the lightest unit can have.
std::pair<double, double> reach(const Brief& brief) {
    double dark = 0, light = 0;
    const std::vector<unit::Patch>& patches = brief.forms.front().patches;
    for (std::size_t p = 0; p < patches.size(); ++p) {
        std::size_t role = p;
        if (brief.kit)
            role = static_cast<std::size_t>(
                std::find(brief.kit->roles.begin(), brief.kit->roles.end(), patches[p].role) -
                brief.kit->roles.begin());
        double least = HUGE_VAL, most = -HUGE_VAL;
        for (std::size_t f = 0; f < brief.names.size(); ++f) {
            if (brief.role_counts[role][f].most == 0) continue;
            least = std::min(least, brief.labs[f].l);
            most = std::max(most, brief.labs[f].l);
        }
        dark += patches[p].area * least;
        light += patches[p].area * most;
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

/// How dark a cell should be, 0 lightest to 1 darkest. Goes by how files list the cells: as the top hangs.
double darkness(const Brief& brief, int cell, const AimPicture& picture) {
    const Board& board = brief.board;
    const int row = board.row(cell), rows = board.list_rows();
    // Rows that are moved half a unit are counted in halves.
    const int shift = board.list_columns(row) < board.list_columns(0) ? 1 : 0;
    const int column = 2 * board.column(cell) + shift, columns = 2 * board.list_columns(0) - 1;
    switch (brief.wishes.aim) {
        case Aim::even:
            break;
        case Aim::across:
            return along(column, columns);
        case Aim::down:
            return along(row, rows);
        case Aim::diagonal:
            return along(2 * row + column, 2 * rows + columns - 2);
        case Aim::centre:
            return std::max(off_middle(row, rows), off_middle(column, columns));
        case Aim::picture:
            return 1 - picture.light[static_cast<std::size_t>(cell)];
    }
    return 0.5;
}

void set_aim(Brief& brief, const AimPicture& picture) {
    if (brief.wishes.aim == Aim::even) return;
    if (brief.wishes.aim == Aim::picture)
        expects(picture.light.size() == static_cast<std::size_t>(brief.cells()));
    const auto [dark, light] = reach(brief);
    for (int cell = 0; cell < brief.cells(); ++cell)
        brief.aim.push_back(
            brief.board.present(cell) ? light + (dark - light) * darkness(brief, cell, picture) : 0);
}

/// Images come by twos and fours: an even share is one as near as they allow. Filling the largest orbits
/// first, always with the fabric that lacks the most, misses a share by less than the largest orbit's size in
/// every role; over the roles these add up.
void loosen_for_symmetry(const Plan& plan, const Orbits& orbits, Brief& brief) {
    std::size_t size = 1;
    for (const auto& orbit : orbits.patches) size = std::max(size, orbit.size());
    const int slack = static_cast<int>(size) - 1;
    for (std::size_t f = 0; f < brief.names.size(); ++f) {
        Count::Kind kind = Count::Kind::even;
        for (const auto& [id, count] : plan.counts)
            if (id == "*") kind = count.kind;
        for (const auto& [id, count] : plan.counts)
            if (id == brief.names[f]) kind = count.kind;
        if (kind == Count::Kind::even) brief.counts[f] = {0, 0};
        for (auto& role : brief.role_counts) {
            if (role[f].most == 0) continue;
            role[f] = {std::max(0, role[f].least - slack), role[f].most + slack};
            if (kind != Count::Kind::even) continue;
            brief.counts[f].least += role[f].least;
            brief.counts[f].most += role[f].most;
        }
    }
}

/// Turns that the plan says for all, not for one unit by a pin, follow their images.
void turn_with_images(const Orbits& orbits, Brief& brief) {
    if (!orbits.obstacle.empty()) return;
    for (std::size_t cell = 0; cell < brief.turns.size(); ++cell)
        if (brief.turns[cell] >= 0) brief.turns[cell] = orbits.turns[cell];
}

/// Patches that are not there get the fabric that is none.
void fill_absent(Brief& brief) {
    const int places = brief.patches_per_unit();
    if (brief.board.full() && !brief.kit) return;
    const int absent = brief.cells() - brief.board.units();
    brief.names.emplace_back();
    brief.labs.push_back({0, 0, 0});
    brief.exempt.push_back(1);
    brief.counts.push_back({absent * places, absent * places});
    for (auto& role : brief.role_counts) role.push_back({absent, absent});
    for (auto& role : brief.shares) role.push_back(absent);
    for (int cell = 0; cell < brief.cells(); ++cell) {
        if (brief.board.present(cell)) continue;
        for (int p = 0; p < places; ++p)
            brief.pinned[static_cast<std::size_t>(cell * places + p)] = brief.none();
        brief.pinned_turn[static_cast<std::size_t>(cell)] = 1;
    }
}

} // namespace

namespace {

/// Fabrics that lie along the edges of units all over the top: sashing, plain blocks, the edge of a setting
/// on point or of bricks. Where touching is ruled they would meet themselves, so "*" leaves them out; but not
/// a background, nor one that the plan gives a number.
std::set<std::string> around_units(const Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    std::set<std::string> ids;
    if (plan.rules.touching == Touching::free) return ids;
    if (plan.setting.sashing) ids.insert(plan.setting.sashing->fabric);
    if (!plan.setting.alternate.empty()) ids.insert(plan.setting.alternate);
    if (plan.setting.arrangement != Arrangement::straight && !fabrics.empty())
        ids.insert(fabrics[index(edge_fabric(plan, fabrics))].id);
    const auto& borders = plan.setting.borders;
    if (!borders.empty() && !borders.front().pieced && sewn_in_batches(plan.sewn))
        ids.insert(borders.front().fabrics.front()); // Of units cut one by one, others come to the edge.
    for (const std::string& id : plan.rules.exempt) ids.erase(id);
    for (const auto& [id, count] : plan.counts) ids.erase(id);
    return ids;
}

} // namespace

std::vector<std::vector<char>> takers(const Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    std::vector<std::string> roles;
    if (sewn_in_batches(plan.sewn)) {
        for (const unit::Input& input : plan.sewn.inputs)
            if (std::find(roles.begin(), roles.end(), input.role) == roles.end()) roles.push_back(input.role);
    } else {
        for (const unit::Patch& patch : plan.forms().front().patches) roles.push_back(patch.role);
    }
    std::vector<std::set<std::string>> lists;
    std::set<std::string> named; // By any role: no other takes these as "*".
    for (const std::string& role : roles) {
        const auto list = listed(plan, role);
        lists.emplace_back(list.begin(), list.end());
        named.insert(list.begin(), list.end());
    }
    const std::set<std::string> around = around_units(plan, fabrics);
    std::vector<std::vector<char>> taken;
    for (const auto& list : lists) {
        std::vector<char> all, fewer;
        for (const palette::Fabric& fabric : fabrics) {
            const bool other = list.contains("*") && !named.contains(fabric.id);
            all.push_back(list.contains(fabric.id) || other);
            fewer.push_back(list.contains(fabric.id) || (other && !around.contains(fabric.id)));
        }
        const bool any = std::find(fewer.begin(), fewer.end(), 1) != fewer.end();
        taken.push_back(any ? std::move(fewer) : std::move(all));
    }
    return taken;
}

Brief make_brief(const Plan& plan, const std::vector<palette::Fabric>& fabrics,
                 const std::vector<int>& yields, const AimPicture& picture) {
    Complaints complaints;
    Brief brief = frame(plan, fabrics);
    exempt_fabrics(plan, brief, complaints);
    brief.turns = turns_of(plan, brief.board);
    if (brief.kit && brief.symmetry != Symmetry::none)
        complaints.add(
            plan.where("/setting/symmetry"),
            "with symmetry every patch of a unit must be cut on its own; the patches of this one "
            "share fabrics, or come from pieces that several units share (sewn in batches)",
            fmt::format("leave \"symmetry\" out, or use one of these recipes: {}",
                        recipes_that([](const unit::Sewn& sewn) { return !sewn_in_batches(sewn); })));
    const auto taken = takers(plan, fabrics);
    const bool roles_good = check_roles(plan, brief, taken, complaints);
    std::optional<Tally> counts;
    if (roles_good) {
        const PinUses uses = pin_down(plan, taken, brief, complaints);
        counts = tally(plan, brief.kit ? Counted::pieces : Counted::patches, brief.names, roles_of(brief),
                       taken, yields, uses, complaints);
    }
    complaints.raise();
    expects(counts.has_value());
    if (!counts->short_stock.empty()) throw Fault(Cause::unmet, counts->short_stock);
    brief.role_counts = std::move(counts->ranges.roles);
    brief.counts = std::move(counts->ranges.totals);
    brief.shares = std::move(counts->shares);
    set_aim(brief, picture);
    if (brief.symmetry != Symmetry::none) {
        const Orbits images = orbits(brief, brief.symmetry);
        turn_with_images(images, brief);
        loosen_for_symmetry(plan, images, brief);
    }
    fill_absent(brief);
    return brief;
}

} // namespace motley::layout
