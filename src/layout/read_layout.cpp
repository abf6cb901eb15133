#include <fmt/format.h>

#include <map>
#include <optional>
#include <utility>

#include "layout/complaints.h"
#include "layout/layout_file.h"
#include "layout/top.h"

namespace motley::layout {

namespace {

using document::Json;
using document::Node;

class Reader {
public:
    explicit Reader(const Node& root) : root_(root) {}

    Layout read() {
        root_.allow_only({"format", "plan", "seed", "version", "columns", "rows", "fabrics", "palette",
                          "units", "cells", "makings", "cornerstones", "borders", "score"});
        layout_.plan = read_plan(root_.at("plan"));
        layout_.plan.file.clear();
        board_ = layout_.plan.board();
        read_size("columns", layout_.plan.columns);
        read_size("rows", layout_.plan.rows);
        if (const auto node = root_.find("seed"))
            layout_.seed = read_seed(*node);
        else
            layout_.seed = layout_.plan.seed;
        if (const auto node = root_.find("version")) layout_.version = node->text();
        places_ = places_of(layout_.plan);
        if (sewn_in_batches(layout_.plan.sewn))
            kit_ = make_kit(layout_.plan.sewn, board_.units(), layout_.plan.usable_width);
        read_palette();
        read_units();
        if (kit_) read_makings();
        read_cells();
        read_extras();
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
        const std::vector<unit::Form>& forms = layout_.plan.forms();
        for (const Node& item : root_.at("units").items()) {
            item.allow_only({"recipe", "form", "fabrics", "count"});
            if (const Node recipe = item.at("recipe"); recipe.text() != layout_.plan.recipe)
                recipe.refuse(fmt::format("this unit is sewn as {}, the plan says {}",
                                          in_quotes(recipe.text()), in_quotes(layout_.plan.recipe)),
                              "all units of a layout are of the plan's recipe");
            Kind kind;
            if (const auto form = item.find("form"))
                kind.form = static_cast<int>(form->integer(1, static_cast<std::int64_t>(forms.size()))) - 1;
            const Node list = item.at("fabrics");
            for (const Node& id : list.items()) kind.fabrics.push_back(fabric(id));
            const unit::Form& form = forms[static_cast<std::size_t>(kind.form)];
            if (kind.fabrics.size() != form.patches.size())
                list.refuse(fmt::format("this unit has {} fabrics, a {} has {}", kind.fabrics.size(),
                                        form.name, form.patches.size()),
                            "one fabric for each patch");
            kinds_.push_back(std::move(kind));
        }
    }

    /// What was sewn: the fabrics of every making, by input. Makings that share a strip set agree on it.
    void read_makings() {
        const Node list = root_.at("makings");
        const std::vector<Node> items = list.items();
        if (items.size() != kit_->makings.size())
            list.refuse(
                fmt::format("{} makings are listed, the plan takes {}", items.size(), kit_->makings.size()),
                "one entry for each run of the recipe");
        std::vector<FabricId>& slots = layout_.assignment.slots;
        slots.assign(kit_->slots.size(), no_fabric);
        for (std::size_t m = 0; m < items.size(); ++m) {
            items[m].allow_only({"set", "fabrics"});
            const std::vector<Node> ids = items[m].at("fabrics").items();
            if (ids.size() != kit_->makings[m].size())
                items[m].refuse(fmt::format("this making has {} fabrics, the recipe takes {}", ids.size(),
                                            kit_->makings[m].size()),
                                "one fabric for each piece that goes in");
            for (std::size_t i = 0; i < ids.size(); ++i) {
                FabricId& slot = slots[static_cast<std::size_t>(kit_->makings[m][i])];
                const FabricId said = fabric(ids[i]);
                if (slot != no_fabric && slot != said)
                    ids[i].refuse("this making shares a strip set with the one before, but not its fabric",
                                  "makings of one set have the same strips");
                slot = said;
            }
        }
    }

    /// Fabrics of cornerstones and pieced borders.
    void read_extras() {
        const auto list = [&](const Node& node, int count) {
            std::vector<FabricId> ids;
            for (const Node& id : node.items()) ids.push_back(fabric(id));
            if (std::cmp_not_equal(ids.size(), count))
                node.refuse(
                    fmt::format("there are {} fabrics here, the top has {} places", ids.size(), count),
                    "one fabric for each");
            return ids;
        };
        if (const auto node = root_.find("cornerstones"))
            layout_.cornerstones = list(*node, cornerstones(layout_.plan));
        if (const auto node = root_.find("borders")) {
            const std::vector<Node> items = node->items();
            if (items.size() != layout_.plan.setting.borders.size())
                node->refuse(fmt::format("there are {} borders here, the plan has {}", items.size(),
                                         layout_.plan.setting.borders.size()),
                             "one list for each border, empty where it is not pieced");
            for (std::size_t i = 0; i < items.size(); ++i) {
                const Border& border = layout_.plan.setting.borders[i];
                layout_.borders.push_back(
                    list(items[i], border.pieced ? border_patches(layout_.plan, i) : 0));
                if (border.units) check_border_units(items[i], *border.units, layout_.borders.back());
            }
        }
    }

    /// Patches of one unit that are cut from one piece show one fabric.
    static void check_border_units(const Node& list, const BorderUnits& units,
                                   const std::vector<FabricId>& fabrics) {
        const auto& patches = units.form().patches;
        for (std::size_t i = 0; i < fabrics.size(); ++i)
            for (std::size_t p = 0; p < i % patches.size(); ++p)
                if (patches[p].input == patches[i % patches.size()].input &&
                    fabrics[i - i % patches.size() + p] != fabrics[i])
                    list.items().at(i).refuse(
                        "this patch is cut from one piece with another of its unit, but "
                        "shows another fabric",
                        "patches of one piece show one fabric");
    }

    void read_cells() {
        const Node list = root_.at("cells");
        const std::vector<Node> rows = list.items();
        if (std::cmp_not_equal(rows.size(), board_.list_rows()))
            list.refuse(
                fmt::format("there are {} rows of cells, the layout has {}", rows.size(), board_.list_rows()),
                "one list of cells for each row");
        seen_.assign(kinds_.size(), 0);
        const std::size_t cells = static_cast<std::size_t>(board_.cells());
        layout_.assignment.patches.assign(cells * places_,
                                          FabricId{static_cast<std::uint16_t>(layout_.fabrics.size())});
        layout_.assignment.turns.assign(cells, 0);
        if (layout_.plan.forms().size() > 1 || kit_) layout_.assignment.forms.assign(cells, 0);
        if (kit_) layout_.assignment.units.assign(cells, -1);
        layout_.pinned.assign(cells, 0);
        layout_.sewn.assign(cells, 0);
        for (std::size_t r = 0; r < rows.size(); ++r) {
            const std::vector<Node> items = rows[r].items();
            const int columns = board_.list_columns(static_cast<int>(r));
            if (std::cmp_not_equal(items.size(), columns))
                rows[r].refuse(
                    fmt::format("this row has {} cells, the layout has {} columns", items.size(), columns),
                    "one cell for each column");
            for (std::size_t c = 0; c < items.size(); ++c) {
                const int cell = board_.cell(static_cast<int>(r), static_cast<int>(c));
                if (cell >= 0)
                    read_cell(items[c], static_cast<std::size_t>(cell));
                else if (!items[c].is_null())
                    items[c].refuse("the plan has a plain block here", "write null");
            }
        }
    }

    void read_cell(const Node& cell, std::size_t at) {
        cell.allow_only({"unit", "turn", "pinned", "sewn", "making", "copy"});
        const Node unit = cell.at("unit");
        if (kinds_.empty()) unit.refuse("there are no units to point at", "list them under \"units\"");
        const auto kind =
            static_cast<std::size_t>(unit.integer(0, static_cast<std::int64_t>(kinds_.size()) - 1));
        ++seen_[kind];
        std::copy(kinds_[kind].fabrics.begin(), kinds_[kind].fabrics.end(),
                  layout_.assignment.patches.begin() + static_cast<std::ptrdiff_t>(at * places_));
        if (!layout_.assignment.forms.empty())
            layout_.assignment.forms[at] = static_cast<std::uint8_t>(kinds_[kind].form);
        if (kit_) read_copy(cell, at, kinds_[kind]);
        layout_.assignment.turns[at] = static_cast<std::uint8_t>(cell.at("turn").integer(0, 3));
        const auto flag = [&](const char* key) {
            const auto node = cell.find(key);
            return static_cast<char>(node && node->boolean());
        };
        layout_.pinned[at] = flag("pinned");
        layout_.sewn[at] = flag("sewn");
    }

    /// Which unit of which making lies in a cell; it must show what was sewn, and lie nowhere else.
    void read_copy(const Node& cell, std::size_t at, const Kind& kind) {
        const std::int64_t copies = static_cast<std::int64_t>(layout_.plan.sewn.copies.size());
        const std::int64_t making =
            cell.at("making").integer(1, static_cast<std::int64_t>(kit_->makings.size())) - 1;
        const std::int64_t copy = cell.at("copy").integer(1, copies) - 1;
        const int unit = static_cast<int>(making * copies + copy);
        const auto& units = layout_.assignment.units;
        if (std::find(units.begin(), units.end(), unit) != units.end())
            cell.refuse("this unit of this making lies in another cell already", "each lies in one cell");
        const KitUnit& made = kit_->units[static_cast<std::size_t>(unit)];
        Kind shown{made.form, {}};
        for (const int slot : made.slots)
            shown.fabrics.push_back(layout_.assignment.slots[static_cast<std::size_t>(slot)]);
        if (shown != kind)
            cell.refuse("the making of this cell gives a unit of other fabrics than the cell shows",
                        "a cell shows what was sewn");
        layout_.assignment.units[at] = unit;
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
        for (const FabricId id : used_fabrics(layout_)) used[index(id)] = 1;
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
    Board board_{1, 1};
    std::size_t places_ = 1;
    std::optional<Kit> kit_;
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

} // namespace motley::layout
