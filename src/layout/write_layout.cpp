#include <cmath>
#include <map>
#include <utility>

#include "fault/fault.h"
#include "layout/layout_file.h"

namespace motley::layout {

namespace {

using document::Json;

Json rounded(double number) {
    expects(std::isfinite(number));
    const double whole = std::round(number * 1e6) / 1e6;
    return whole == 0 ? 0.0 : whole; // No "-0.0".
}

Json write_score(const Score& score) {
    const auto ratio = [](const std::optional<double>& value) {
        return value ? rounded(*value) : Json(nullptr);
    };
    Json closest = Json::object();
    for (const auto& [id, units] : score.closest) closest[id] = units;
    Json written = Json::object();
    written["touching"] = score.touching;
    written["closest"] = std::move(closest);
    written["spread"] = ratio(score.spread);
    written["colour"] = ratio(score.colour);
    written["value"] = ratio(score.value);
    if (score.spread_bound) written["spread_bound"] = rounded(*score.spread_bound); // Rounded down before.
    written["broken"] = score.broken;
    return written;
}

/// The kinds of unit in order of first appearance, row by row as files list them, and which one each cell is.
struct Kinds {
    std::vector<Kind> kinds;
    std::vector<int> counts;
    std::vector<int> of_cell;
};

Kinds kinds_of(const Layout& layout, const Board& board) {
    Kinds found;
    std::map<Kind, int> numbers;
    found.of_cell.assign(static_cast<std::size_t>(board.cells()), -1);
    for (int r = 0; r < board.list_rows(); ++r)
        for (int c = 0; c < board.list_columns(r); ++c) {
            if (board.cell(r, c) < 0) continue;
            const std::size_t cell = static_cast<std::size_t>(board.cell(r, c));
            const auto [at, fresh] =
                numbers.try_emplace(kind_of(layout, cell), static_cast<int>(numbers.size()));
            if (fresh) {
                found.kinds.push_back(at->first);
                found.counts.push_back(0);
            }
            ++found.counts[static_cast<std::size_t>(at->second)];
            found.of_cell[cell] = at->second;
        }
    return found;
}

Json write_fabric_ids(const Layout& layout, const std::vector<FabricId>& fabrics) {
    Json ids = Json::array();
    for (const FabricId id : fabrics) ids.push_back(layout.fabrics[index(id)].id);
    return ids;
}

Json write_makings(const Layout& layout) {
    const Kit kit = make_kit(layout.plan.sewn, layout.plan.board().units(), layout.plan.usable_width);
    Json makings = Json::array();
    for (const std::vector<int>& making : kit.makings) {
        std::vector<FabricId> ids;
        for (const int slot : making) ids.push_back(layout.assignment.slots[static_cast<std::size_t>(slot)]);
        const int set = kit.units[makings.size() * layout.plan.sewn.copies.size()].twins + 1;
        makings.push_back(Json{{"set", set}, {"fabrics", write_fabric_ids(layout, ids)}});
    }
    return makings;
}

} // namespace

Json write_layout(const Layout& layout) {
    const Plan& plan = layout.plan;
    const Board board = plan.board();
    const std::size_t patches = places_of(plan);
    const std::size_t cells = static_cast<std::size_t>(board.cells());
    expects(layout.assignment.patches.size() == cells * patches && layout.assignment.turns.size() == cells);
    expects(layout.pinned.size() == cells && layout.sewn.size() == cells);

    std::vector<char> used(layout.fabrics.size(), 0);
    for (const FabricId id : used_fabrics(layout)) used[index(id)] = 1;
    Json fabrics = Json::array();
    for (std::size_t f = 0; f < used.size(); ++f)
        if (used[f]) fabrics.push_back(layout.fabrics[f].id);

    const Kinds found = kinds_of(layout, board);
    Json units = Json::array();
    for (std::size_t kind = 0; kind < found.kinds.size(); ++kind) {
        Json one{{"recipe", plan.recipe}};
        if (plan.forms().size() > 1) one["form"] = found.kinds[kind].form + 1;
        one["fabrics"] = write_fabric_ids(layout, found.kinds[kind].fabrics);
        one["count"] = found.counts[kind];
        units.push_back(std::move(one));
    }
    Json grid = Json::array();
    for (int r = 0; r < board.list_rows(); ++r) {
        grid.push_back(Json::array());
        for (int c = 0; c < board.list_columns(r); ++c) {
            if (board.cell(r, c) < 0) {
                grid.back().push_back(nullptr);
                continue;
            }
            const std::size_t cell = static_cast<std::size_t>(board.cell(r, c));
            Json one{{"unit", found.of_cell[cell]}, {"turn", layout.assignment.turns[cell]}};
            if (const auto& units_of = layout.assignment.units; !units_of.empty()) {
                const int copies = static_cast<int>(plan.sewn.copies.size());
                one["making"] = units_of[cell] / copies + 1;
                one["copy"] = units_of[cell] % copies + 1;
            }
            if (layout.pinned[cell]) one["pinned"] = true;
            if (layout.sewn[cell]) one["sewn"] = true;
            grid.back().push_back(std::move(one));
        }
    }

    Json root = Json::object();
    root["format"] = layout_format;
    root["plan"] = plan.json;
    root["seed"] = layout.seed;
    root["version"] = layout.version;
    root["columns"] = plan.columns;
    root["rows"] = plan.rows;
    root["fabrics"] = std::move(fabrics);
    root["palette"] = palette::write_fabrics(layout.fabrics, plan.measure, false);
    root["units"] = std::move(units);
    root["cells"] = std::move(grid);
    if (!layout.assignment.units.empty()) root["makings"] = write_makings(layout);
    if (!layout.cornerstones.empty()) root["cornerstones"] = write_fabric_ids(layout, layout.cornerstones);
    if (!layout.borders.empty()) {
        Json borders = Json::array();
        for (const auto& patches_of : layout.borders) borders.push_back(write_fabric_ids(layout, patches_of));
        root["borders"] = std::move(borders);
    }
    root["score"] = write_score(layout.score);
    return root;
}

} // namespace motley::layout
