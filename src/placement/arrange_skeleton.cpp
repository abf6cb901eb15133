#include "placement/arrange_skeleton.h"

#include <algorithm>
#include <set>
#include <utility>

#include "fault/fault.h"
#include "placement/start.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// The slot of a role that a unit shows; -1 when it shows none or several.
int slot_of(const layout::Kit& kit, int unit, int role) {
    int found = -1;
    for (const int slot : kit.units[at(unit)].slots) {
        if (kit.slots[at(slot)].role != role || slot == found) continue;
        if (found >= 0) return -1;
        found = slot;
    }
    return found;
}

/// What the touching rule asks of a piece of this role and its like in the next unit.
layout::Touching touching_of(const Units& units, int role) {
    const Wall& wall = units.wall;
    const auto plays = [&](int pose, int part) {
        const int form = pose / (wall.poses() / static_cast<int>(wall.brief.forms.size()));
        const auto& patches = wall.brief.forms[at(form)].patches;
        return patches[at(wall.parts(form)[at(part)].front())].role == wall.kit.roles[at(role)];
    };
    bool edge = false, corner = false;
    for (int way = 0; way < 8 * wall.brief.board.parities(); ++way)
        for (int pose = 0; pose < wall.poses(); ++pose)
            for (int other = 0; other < wall.poses(); ++other)
                for (const Wall::Touch touch : wall.touches(way, pose, other))
                    if (plays(pose, touch.part) && plays(other, touch.other))
                        (wall.beside(way) ? edge : corner) = true;
    return corner ? layout::Touching::corner : edge ? layout::Touching::edge : layout::Touching::free;
}

/// A top of plain squares with as many of each fabric as units show it in this role.
layout::Brief plain_brief(const Units& units, int role) {
    const layout::Brief& kit_brief = units.wall.brief;
    layout::Brief plain;
    plain.columns = kit_brief.columns;
    plain.rows = kit_brief.rows;
    plain.board = kit_brief.board;
    unit::Patch square{.role = kit_brief.kit->roles[at(role)],
                       .outline = {{0, 0}, {1, 0}, {1, 1}, {0, 1}},
                       .centre = {0.5, 0.5},
                       .area = 1};
    plain.forms = {unit::Form{.id = "square", .name = "square", .patches = {std::move(square)}}};
    plain.names = kit_brief.names;
    plain.labs = kit_brief.labs;
    plain.exempt = kit_brief.exempt;
    std::vector<int> shares(plain.names.size());
    for (int u = 0; u < units.count(); ++u)
        ++shares[layout::index(units.slots[at(slot_of(*kit_brief.kit, u, role))])];
    const int spare = units.count() - static_cast<int>(units.wall.places.size());
    for (const int have : shares) plain.counts.push_back({std::max(0, have - spare), have});
    for (int k = 0; k < spare; ++k) --*std::max_element(shares.begin(), shares.end());
    const int absent = plain.cells() - kit_brief.board.units();
    shares.back() = absent;
    plain.counts.back() = {absent, absent};
    plain.role_counts = {plain.counts};
    plain.shares = {shares};
    plain.turns.assign(at(plain.cells()), 0);
    plain.pinned.assign(at(plain.cells()), layout::no_fabric);
    plain.pinned_turn.assign(at(plain.cells()), 0);
    for (int cell = 0; cell < plain.cells(); ++cell)
        if (!plain.board.present(cell)) {
            plain.pinned[at(cell)] = plain.none();
            plain.pinned_turn[at(cell)] = 1;
        }
    plain.rules = kit_brief.rules;
    plain.rules.contrast = 0;
    plain.rules.touching = touching_of(units, role);
    plain.wishes = {.spread = 0, .colour = 0, .value = 0, .aim = layout::Aim::even, .picture = {}};
    return plain;
}

} // namespace

std::vector<int> skeleton_roles(const Units& units) {
    std::vector<std::pair<std::size_t, int>> found;
    for (int role = 0; role < static_cast<int>(units.wall.kit.roles.size()); ++role) {
        std::set<layout::FabricId> fabrics;
        bool one_each = true, exempt = false;
        for (int u = 0; u < units.count() && one_each; ++u) {
            const int slot = slot_of(units.wall.kit, u, role);
            one_each = slot >= 0;
            if (!one_each) break;
            fabrics.insert(units.slots[at(slot)]);
            exempt = exempt || units.exempt(static_cast<int>(layout::index(units.slots[at(slot)])));
        }
        if (one_each && !exempt) found.emplace_back(fabrics.size(), role);
    }
    std::sort(found.begin(), found.end());
    std::vector<int> roles;
    for (const auto& [fabrics, role] : found) roles.push_back(role);
    return roles;
}

Hung hang_by_role(const Units& units, int role, Chance& chance, const std::function<bool()>& over,
                  const std::stop_token& stop) {
    const layout::Brief plain = plain_brief(units, role);
    const Model model(plain);
    const layout::Assignment skeleton = first_layout(model, chance, over, stop);
    std::vector<std::vector<int>> showing(plain.names.size()); // Units, by fabric.
    for (int u = 0; u < units.count(); ++u)
        showing[layout::index(units.slots[at(slot_of(units.wall.kit, u, role))])].push_back(u);
    for (auto& group : showing) chance.shuffle(group);
    Hung hung;
    hung.units.assign(at(units.wall.cells), -1);
    for (const int turn : units.wall.brief.turns)
        hung.turns.push_back(static_cast<std::uint8_t>(turn >= 0 ? turn : chance.below(4)));
    for (const int cell : units.wall.places) {
        auto& group = showing[layout::index(skeleton.patches[at(cell)])];
        expects(!group.empty());
        hung.units[at(cell)] = group.back();
        group.pop_back();
    }
    return hung;
}

std::vector<layout::FabricId> refit(const Wall& wall, const KitModel& model,
                                    std::vector<layout::FabricId> slots, const Hung& hung, Chance& chance,
                                    const std::function<bool()>& over) {
    const auto rules = [&](const std::vector<layout::FabricId>& fabrics) {
        const Units units(wall, fabrics);
        return Hanging(units, Prices{}, hung, false).tally().rules;
    };
    const auto inside = [&](const std::vector<layout::FabricId>& fabrics) {
        std::vector<int> numbers;
        for (const layout::FabricId f : fabrics) numbers.push_back(static_cast<int>(layout::index(f)));
        return Batches(model, numbers).tally().broken;
    };
    std::int64_t broken = rules(slots);
    const std::int64_t broken_inside = inside(slots);
    constexpr int tries = 300;
    for (int i = 0; i < tries && broken > 0 && !over(); ++i) {
        const int role = chance.below(static_cast<int>(wall.kit.roles.size()));
        const std::vector<int>& group = model.slots_of(role);
        const int a = group[at(chance.below(static_cast<int>(group.size())))];
        const int b = group[at(chance.below(static_cast<int>(group.size())))];
        if (slots[at(a)] == slots[at(b)]) continue;
        std::swap(slots[at(a)], slots[at(b)]);
        const std::int64_t now = inside(slots) <= broken_inside ? rules(slots) : INT64_MAX;
        if (now > broken)
            std::swap(slots[at(a)], slots[at(b)]);
        else
            broken = now;
    }
    return slots;
}

} // namespace motley::placement
