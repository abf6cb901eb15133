#include "layout/layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "layout/complaints.h"

namespace motley::layout {

namespace {

using document::Json;
using document::Node;

constexpr std::string_view layout_format = "motley layout 1";

/// One kind of unit: the fabrics of its patches.
using Kind = std::vector<FabricId>;

Kind kind_of(const Layout& layout, std::size_t cell, std::size_t patches) {
    const auto first = layout.assignment.patches.begin() + static_cast<std::ptrdiff_t>(cell * patches);
    return {first, first + static_cast<std::ptrdiff_t>(patches)};
}

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

/// The kinds of unit in order of first appearance, and which one each cell is.
struct Kinds {
    std::vector<Kind> kinds;
    std::vector<int> counts;
    std::vector<int> of_cell;
};

Kinds kinds_of(const Layout& layout, std::size_t cells, std::size_t patches) {
    Kinds found;
    std::map<Kind, int> numbers;
    for (std::size_t cell = 0; cell < cells; ++cell) {
        const auto [at, fresh] =
            numbers.try_emplace(kind_of(layout, cell, patches), static_cast<int>(numbers.size()));
        if (fresh) {
            found.kinds.push_back(at->first);
            found.counts.push_back(0);
        }
        ++found.counts[static_cast<std::size_t>(at->second)];
        found.of_cell.push_back(at->second);
    }
    return found;
}

class Reader {
public:
    explicit Reader(const Node& root) : root_(root) {}

    Layout read() {
        root_.allow_only({"format", "plan", "seed", "version", "columns", "rows", "fabrics", "palette",
                          "units", "cells", "score"});
        layout_.plan = read_plan(root_.at("plan"));
        layout_.plan.file.clear();
        recipe_ = unit::find_form(layout_.plan.recipe);
        read_size("columns", layout_.plan.columns);
        read_size("rows", layout_.plan.rows);
        if (const auto node = root_.find("seed"))
            layout_.seed = read_seed(*node);
        else
            layout_.seed = layout_.plan.seed;
        if (const auto node = root_.find("version")) layout_.version = node->text();
        read_palette();
        read_units();
        read_cells();
        check_counts();
        check_fabrics();
        if (const auto node = root_.find("score")) read_score(*node);
        return std::move(layout_);
    }

private:
    void read_size(const std::string& key, int planned) {
        const Node node = root_.at(key);
        if (const auto found = node.integer(1, most_cells); found != planned)
            node.refuse(fmt::format("this layout has {} {}, the plan inside it {}", found, key, planned),
                        "the two must agree");
    }

    void read_palette() {
        const Node list = root_.at("palette");
        layout_.fabrics = palette::read_fabrics(list, layout_.plan.measure);
        const std::vector<Node> items = list.items();
        for (std::size_t f = 0; f < layout_.fabrics.size(); ++f) {
            const palette::Fabric& fabric = layout_.fabrics[f];
            if (!fabric.colour)
                items.at(f).refuse(fmt::format("the fabric {} has no colour", in_quotes(fabric.id)),
                                   "a layout carries the colour of every fabric");
            ids_.push_back(fabric.id);
            numbers_[fabric.id] = FabricId{static_cast<std::uint16_t>(f)};
        }
    }

    FabricId fabric(const Node& node) const {
        const std::string id = node.text();
        if (const auto found = numbers_.find(id); found != numbers_.end()) return found->second;
        node.refuse(fmt::format("the palette of this layout has no fabric {}", in_quotes(id)),
                    suggestion(id, ids_, "the ids are under \"palette\""));
    }

    void read_units() {
        for (const Node& item : root_.at("units").items()) {
            item.allow_only({"recipe", "fabrics", "count"});
            if (const Node recipe = item.at("recipe"); recipe.text() != recipe_->id)
                recipe.refuse(fmt::format("this unit is sewn as {}, the plan says {}",
                                          in_quotes(recipe.text()), in_quotes(recipe_->id)),
                              "all units of this version's layouts are of the plan's recipe");
            Kind kind;
            const Node list = item.at("fabrics");
            for (const Node& id : list.items()) kind.push_back(fabric(id));
            if (kind.size() != recipe_->patches.size())
                list.refuse(fmt::format("this unit has {} fabrics, a {} has {}", kind.size(), recipe_->name,
                                        recipe_->patches.size()),
                            "one fabric for each patch");
            kinds_.push_back(std::move(kind));
        }
    }

    void read_cells() {
        const Node list = root_.at("cells");
        const std::vector<Node> rows = list.items();
        if (std::cmp_not_equal(rows.size(), layout_.plan.rows))
            list.refuse(
                fmt::format("there are {} rows of cells, the layout has {}", rows.size(), layout_.plan.rows),
                "one list of cells for each row");
        seen_.assign(kinds_.size(), 0);
        for (const Node& row : rows) {
            const std::vector<Node> cells = row.items();
            if (std::cmp_not_equal(cells.size(), layout_.plan.columns))
                row.refuse(fmt::format("this row has {} cells, the layout has {} columns", cells.size(),
                                       layout_.plan.columns),
                           "one cell for each column");
            for (const Node& cell : cells) read_cell(cell);
        }
    }

    void read_cell(const Node& cell) {
        cell.allow_only({"unit", "turn", "pinned", "sewn"});
        const Node unit = cell.at("unit");
        if (kinds_.empty()) unit.refuse("there are no units to point at", "list them under \"units\"");
        const auto kind =
            static_cast<std::size_t>(unit.integer(0, static_cast<std::int64_t>(kinds_.size()) - 1));
        ++seen_[kind];
        auto& patches = layout_.assignment.patches;
        patches.insert(patches.end(), kinds_[kind].begin(), kinds_[kind].end());
        layout_.assignment.turns.push_back(static_cast<std::uint8_t>(cell.at("turn").integer(0, 3)));
        const auto flag = [&](const char* key) {
            const auto node = cell.find(key);
            return static_cast<char>(node && node->boolean());
        };
        layout_.pinned.push_back(flag("pinned"));
        layout_.sewn.push_back(flag("sewn"));
    }

    void check_counts() const {
        const std::vector<Node> units = root_.at("units").items();
        for (std::size_t kind = 0; kind < units.size(); ++kind) {
            const Node count = units[kind].at("count");
            if (const auto said = count.integer(0, most_cells); said != seen_[kind])
                count.refuse(fmt::format("this unit is counted {} times, the cells show it {} times", said,
                                         seen_[kind]),
                             "the two must agree");
        }
    }

    /// The list of used fabrics: the same as what the cells show.
    void check_fabrics() const {
        std::vector<char> listed(ids_.size(), 0), used(ids_.size(), 0);
        const Node list = root_.at("fabrics");
        for (const Node& item : list.items()) {
            char& at = listed[index(fabric(item))];
            if (at)
                item.refuse(fmt::format("{} is listed twice", in_quotes(item.text())),
                            "list each fabric once");
            at = 1;
        }
        for (const FabricId id : layout_.assignment.patches) used[index(id)] = 1;
        for (std::size_t f = 0; f < ids_.size(); ++f)
            if (listed[f] != used[f])
                list.refuse(fmt::format("{} is {}", in_quotes(ids_[f]),
                                        used[f] ? "used in the cells but not listed here"
                                                : "listed here but used in no cell"),
                            "list exactly the fabrics that the cells show");
    }

    void read_score(const Node& node) {
        node.allow_only({"touching", "closest", "spread", "colour", "value", "spread_bound", "broken"});
        Score& score = layout_.score;
        constexpr std::int64_t most_pairs = std::int64_t{1} << 30;
        if (const auto touching = node.find("touching"))
            score.touching = static_cast<int>(touching->integer(0, most_pairs));
        if (const auto closest = node.find("closest"))
            for (const auto& [id, units] : closest->members()) {
                if (!numbers_.contains(id))
                    units.refuse(fmt::format("the palette of this layout has no fabric {}", in_quotes(id)),
                                 suggestion(id, ids_, "the ids are under \"palette\""));
                score.closest[id] = static_cast<int>(units.integer(0, most_cells));
            }
        const auto ratio = [&](const char* key, std::optional<double>& to) {
            if (const auto number = node.find(key)) to = number->number();
        };
        ratio("spread", score.spread);
        ratio("colour", score.colour);
        ratio("value", score.value);
        ratio("spread_bound", score.spread_bound);
        if (const auto broken = node.find("broken"))
            for (const Node& item : broken->items()) score.broken.push_back(item.text());
    }

    const Node& root_;
    Layout layout_;
    const unit::Form* recipe_ = nullptr;
    std::vector<std::string> ids_;
    std::map<std::string, FabricId> numbers_;
    std::vector<Kind> kinds_;
    std::vector<int> seen_; ///< By kind: how many cells show it.
};

} // namespace

Layout read_layout(const Node& root) {
    if (!root.is_object()) root.refuse("this is not a layout", "a layout is a JSON object, { ... }");
    if (const Node format = root.at("format"); format.text() != layout_format)
        format.refuse(
            fmt::format("the format is {}", in_quotes(format.text())),
            fmt::format("this version of motley reads layouts of the format {}", in_quotes(layout_format)));
    return Reader(root).read();
}

Json write_layout(const Layout& layout) {
    const Plan& plan = layout.plan;
    const unit::Form* recipe = unit::find_form(plan.recipe);
    expects(recipe != nullptr);
    const std::size_t patches = recipe->patches.size();
    const std::size_t cells = static_cast<std::size_t>(plan.columns) * static_cast<std::size_t>(plan.rows);
    expects(layout.assignment.patches.size() == cells * patches && layout.assignment.turns.size() == cells);
    expects(layout.pinned.size() == cells && layout.sewn.size() == cells);

    std::vector<char> used(layout.fabrics.size(), 0);
    for (const FabricId id : layout.assignment.patches) used.at(index(id)) = 1;
    Json fabrics = Json::array();
    for (std::size_t f = 0; f < used.size(); ++f)
        if (used[f]) fabrics.push_back(layout.fabrics[f].id);

    const Kinds found = kinds_of(layout, cells, patches);
    Json units = Json::array();
    for (std::size_t kind = 0; kind < found.kinds.size(); ++kind) {
        Json ids = Json::array();
        for (const FabricId id : found.kinds[kind]) ids.push_back(layout.fabrics[index(id)].id);
        units.push_back(
            Json{{"recipe", plan.recipe}, {"fabrics", std::move(ids)}, {"count", found.counts[kind]}});
    }
    Json grid = Json::array();
    for (std::size_t cell = 0; cell < cells; ++cell) {
        if (cell % static_cast<std::size_t>(plan.columns) == 0) grid.push_back(Json::array());
        Json one{{"unit", found.of_cell[cell]}, {"turn", layout.assignment.turns[cell]}};
        if (layout.pinned[cell]) one["pinned"] = true;
        if (layout.sewn[cell]) one["sewn"] = true;
        grid.back().push_back(std::move(one));
    }

    Json root = Json::object();
    root["format"] = layout_format;
    root["plan"] = plan.json;
    root["seed"] = layout.seed;
    root["version"] = layout.version;
    root["columns"] = plan.columns;
    root["rows"] = plan.rows;
    root["fabrics"] = std::move(fabrics);
    root["palette"] = palette::write_fabrics(layout.fabrics, plan.measure);
    root["units"] = std::move(units);
    root["cells"] = std::move(grid);
    root["score"] = write_score(layout.score);
    return root;
}

} // namespace motley::layout
