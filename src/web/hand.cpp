#include "web/hand.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace motley::web {

namespace {

using document::in_quotes;
using document::Json;
using layout::FabricId;

[[noreturn]] void refuse(const std::string& what, const std::string& remedy = {}) {
    throw Fault(Cause::input, "", what, remedy);
}

const Laid& laid(const Wall& wall) {
    if (!wall.state.laid) refuse("there is nothing on the wall yet", "shuffle first");
    return *wall.state.laid;
}

std::size_t cell_of(const Wall& wall, const layout::Board& board, int cell) {
    (void)laid(wall);
    if (cell < 0 || cell >= board.cells() || !board.present(cell)) refuse("there is no unit in this place");
    return static_cast<std::size_t>(cell);
}

std::size_t places(const Laid& top) {
    return top.assignment.patches.size() / top.assignment.turns.size();
}

FabricId fabric_of(const Wall& wall, const std::string& id) {
    const auto& fabrics = wall.state.palette.fabrics;
    for (std::size_t f = 0; f < fabrics.size(); ++f)
        if (fabrics[f].id == id) return FabricId{static_cast<std::uint16_t>(f)};
    refuse(fmt::format("there is no fabric {} on the shelf", in_quotes(id)));
}

const std::string& name_of(const Wall& wall, FabricId id) {
    return wall.state.palette.fabrics[palette::index(id)].name;
}

void refuse_sewn(const Laid& top, const layout::Board& board, std::size_t cell) {
    if (top.sewn[cell])
        refuse(fmt::format("the unit at {} is sewn already", board.place(static_cast<int>(cell))),
               "take the mark \"sewn\" off it first");
}

std::string units(std::size_t count) {
    return count == 1 ? "a unit" : fmt::format("{} units", count);
}

/// What the plan says of a cell's pin, as the wall shows the cell.
Json pin_json(const Wall& wall, const layout::Board& board, std::size_t cell) {
    const Laid& top = *wall.state.laid;
    Json fabrics = Json::array();
    const auto form = static_cast<std::size_t>(top.assignment.form(cell));
    for (std::size_t p = 0; p < wall.plan().forms()[form].patches.size(); ++p)
        fabrics.push_back(
            wall.state.palette.fabrics[palette::index(top.assignment.patches[cell * places(top) + p])].id);
    Json pin = {{"row", board.row(static_cast<int>(cell)) + 1},
                {"column", board.column(static_cast<int>(cell)) + 1},
                {"fabrics", std::move(fabrics)}};
    if (wall.plan().turns == layout::Turns::any) pin["turn"] = top.assignment.turns[cell];
    return pin;
}

/// The plan's pins without those of some cells.
Json pins_without(const Wall& wall, const layout::Board& board, const std::vector<char>& cells) {
    Json kept = Json::array();
    const std::vector<layout::Pin>& pins = wall.plan().pins;
    for (std::size_t i = 0; i < pins.size(); ++i)
        if (!cells[static_cast<std::size_t>(board.cell(pins[i].row, pins[i].column))])
            kept.push_back(wall.state.plan.at("pins").at(i));
    return kept;
}

void set_pins(Json& plan, Json pins) {
    if (pins.empty())
        plan.erase("pins");
    else
        plan["pins"] = std::move(pins);
}

/// Pins of cells that now show something else say what they show now.
void renew_pins(State& next, const Wall& wall, const std::vector<int>& cells) {
    const layout::Board board = wall.plan().board();
    const Wall after{next, wall.outlook};
    std::vector<char> named(next.laid->pinned.size(), 0);
    for (const int cell : cells)
        named[static_cast<std::size_t>(cell)] = next.laid->pinned[static_cast<std::size_t>(cell)];
    if (std::none_of(named.begin(), named.end(), [](char n) { return n != 0; })) return;
    Json pins = pins_without(wall, board, named);
    for (std::size_t cell = 0; cell < named.size(); ++cell)
        if (named[cell]) pins.push_back(pin_json(after, board, cell));
    set_pins(next.plan, std::move(pins));
}

} // namespace

Handled swap(const Wall& wall, int one, int other) {
    const layout::Board board = wall.plan().board();
    const std::size_t a = cell_of(wall, board, one), b = cell_of(wall, board, other);
    refuse_sewn(laid(wall), board, a);
    refuse_sewn(laid(wall), board, b);
    Handled out{wall.state, fmt::format("Swap {} and {}", board.place(one), board.place(other))};
    Laid& top = *out.next.laid;
    layout::Assignment& units = top.assignment;
    const std::size_t per = places(top);
    for (std::size_t p = 0; p < per; ++p) std::swap(units.patches[a * per + p], units.patches[b * per + p]);
    if (!units.forms.empty()) std::swap(units.forms[a], units.forms[b]);
    if (!units.units.empty()) std::swap(units.units[a], units.units[b]);
    if (wall.plan().turns == layout::Turns::any) std::swap(units.turns[a], units.turns[b]);
    renew_pins(out.next, wall, {one, other});
    return out;
}

Handled turn(const Wall& wall, const std::vector<int>& cells, int quarters) {
    const layout::Board board = wall.plan().board();
    Handled out{wall.state, fmt::format("Turn {}", units(cells.size()))};
    for (const int cell : cells) {
        const std::size_t at = cell_of(wall, board, cell);
        refuse_sewn(laid(wall), board, at);
        std::uint8_t& turned = out.next.laid->assignment.turns[at];
        turned = static_cast<std::uint8_t>((turned + quarters % 4 + 4) % 4);
    }
    renew_pins(out.next, wall, cells);
    return out;
}

Handled pin(const Wall& wall, const std::vector<int>& cells, bool on) {
    const layout::Board board = wall.plan().board();
    if (on && layout::sewn_in_batches(wall.plan().sewn))
        refuse("these units are sewn in batches, so their fabrics cannot be pinned one by one",
               "keep the wall as a version, and swap units by hand");
    Handled out{wall.state, fmt::format("{} {}", on ? "Pin" : "Unpin", units(cells.size()))};
    std::vector<char> named(static_cast<std::size_t>(board.cells()), 0);
    for (const int cell : cells) named[cell_of(wall, board, cell)] = 1;
    Json pins = pins_without(wall, board, named);
    for (std::size_t cell = 0; on && cell < named.size(); ++cell)
        if (named[cell]) pins.push_back(pin_json(wall, board, cell));
    set_pins(out.next.plan, std::move(pins));
    return out;
}

Handled mark_sewn(const Wall& wall, const std::vector<int>& cells, bool on) {
    const layout::Board board = wall.plan().board();
    Handled out{wall.state, fmt::format("Mark {} as {}", units(cells.size()), on ? "sewn" : "not sewn yet")};
    for (const int cell : cells) out.next.laid->sewn[cell_of(wall, board, cell)] = on;
    return out;
}

Handled replace_here(const Wall& wall, int cell, int patch, const std::string& fabric) {
    const layout::Board board = wall.plan().board();
    const std::size_t at = cell_of(wall, board, cell);
    refuse_sewn(laid(wall), board, at);
    const FabricId to = fabric_of(wall, fabric);
    const auto form = static_cast<std::size_t>(laid(wall).assignment.form(at));
    if (patch < 0 || std::cmp_greater_equal(patch, wall.plan().forms()[form].patches.size()))
        refuse("there is no patch in this place");
    Handled out{wall.state, fmt::format("Put {} at {}", name_of(wall, to), board.place(cell))};
    layout::Assignment& units = out.next.laid->assignment;
    const std::size_t per = places(*out.next.laid);
    if (units.units.empty()) {
        const int input = wall.plan().forms()[form].patches[static_cast<std::size_t>(patch)].input;
        const auto& patches = wall.plan().forms()[form].patches;
        for (std::size_t p = 0; p < patches.size(); ++p) // Cut from one piece, they change together.
            if (patches[p].input == input) units.patches[at * per + p] = to;
        renew_pins(out.next, wall, {cell});
        return out;
    }
    const layout::Kit kit = layout::make_kit(wall.plan().sewn, board.units(), wall.plan().usable_width);
    const auto unit = static_cast<std::size_t>(units.units[at]);
    units.slots[static_cast<std::size_t>(kit.units[unit].slots[static_cast<std::size_t>(patch)])] = to;
    layout::spell_out(kit, static_cast<int>(per),
                      FabricId{static_cast<std::uint16_t>(wall.state.palette.fabrics.size())}, units);
    out.what += ", and where it is cut from the same strip or square";
    return out;
}

Handled replace_everywhere(const Wall& wall, const std::string& from_id, const std::string& to_id) {
    const FabricId from = fabric_of(wall, from_id), to = fabric_of(wall, to_id);
    const layout::Board board = wall.plan().board();
    const Laid& was = laid(wall);
    Handled out{wall.state, fmt::format("Put {} for {} everywhere", name_of(wall, to), name_of(wall, from))};
    Laid& top = *out.next.laid;
    const std::size_t per = places(top);
    std::vector<int> changed;
    if (top.assignment.units.empty()) {
        for (std::size_t i = 0; i < top.assignment.patches.size(); ++i) {
            if (top.assignment.patches[i] != from || was.sewn[i / per]) continue;
            top.assignment.patches[i] = to;
            if (changed.empty() || changed.back() != static_cast<int>(i / per))
                changed.push_back(static_cast<int>(i / per));
        }
        renew_pins(out.next, wall, changed);
    } else {
        const layout::Kit kit = layout::make_kit(wall.plan().sewn, board.units(), wall.plan().usable_width);
        std::replace(top.assignment.slots.begin(), top.assignment.slots.end(), from, to);
        layout::spell_out(kit, static_cast<int>(per),
                          FabricId{static_cast<std::uint16_t>(wall.state.palette.fabrics.size())},
                          top.assignment);
    }
    std::replace(top.cornerstones.begin(), top.cornerstones.end(), from, to);
    for (auto& border : top.borders) std::replace(border.begin(), border.end(), from, to);
    if (top == was)
        refuse(fmt::format("{} is nowhere on the wall where it could be replaced", name_of(wall, from)));
    return out;
}

Handled let_counts_follow(const Wall& wall) {
    const Laid& top = laid(wall);
    const layout::Assignment& units = top.assignment;
    std::map<std::size_t, int> uses;
    for (const FabricId id : units.units.empty() ? units.patches : units.slots)
        if (palette::index(id) < wall.state.palette.fabrics.size()) ++uses[palette::index(id)];
    Handled out{wall.state, "Let the counts follow the wall"};
    Json counts = Json::object();
    for (const auto& [f, count] : uses) counts[wall.state.palette.fabrics[f].id] = count;
    if (uses.size() < wall.state.palette.fabrics.size()) counts["*"] = 0;
    out.next.plan["counts"] = std::move(counts);
    return out;
}

} // namespace motley::web
