#include "web/view.h"

#include <fmt/format.h>

#include <algorithm>

#include "assembly/letters.h"
#include "cutting/counts.h"
#include "cutting/stock.h"
#include "unit/recipe.h"

namespace motley::web {

using document::Json;

int Geometries::number(const std::string& text) {
    const std::lock_guard lock(mutex_);
    for (auto it = known_.begin(); it != known_.end(); ++it)
        if (it->text == text) {
            Known found = std::move(*it);
            known_.erase(it);
            known_.push_front(std::move(found));
            return known_.front().number;
        }
    known_.push_front({++last_, text});
    if (known_.size() > most) known_.pop_back();
    return last_;
}

std::optional<std::string> Geometries::text(int number) const {
    const std::lock_guard lock(mutex_);
    for (const Known& one : known_)
        if (one.number == number) return one.text;
    return std::nullopt;
}

namespace {

/// A thousandth of an inch is finer than any screen.
void put(fmt::memory_buffer& out, double number) {
    const auto thousandths = static_cast<std::int64_t>(number * 1000 + (number < 0 ? -0.5 : 0.5));
    if (thousandths % 1000 == 0)
        fmt::format_to(fmt::appender(out), "{}", thousandths / 1000);
    else
        fmt::format_to(fmt::appender(out), "{}", static_cast<double>(thousandths) / 1000);
}

void put_shape(fmt::memory_buffer& out, const layout::Shape& shape) {
    fmt::format_to(fmt::appender(out), "[{},{},{},{},[", static_cast<int>(shape.part), shape.cell,
                   shape.patch, shape.piece);
    for (std::size_t i = 0; i < shape.outline.size(); ++i) {
        if (i > 0) out.push_back(',');
        put(out, shape.outline[i].x);
        out.push_back(',');
        put(out, shape.outline[i].y);
    }
    const unit::Motion& m = shape.to_cloth;
    fmt::format_to(fmt::appender(out), "],[{:.5g},{:.5g},{:.5g},{:.5g},", m.xx, m.xy, m.yx, m.yy);
    put(out, m.x);
    out.push_back(',');
    put(out, m.y);
    fmt::format_to(fmt::appender(out), "]]");
}

} // namespace

std::string geometry_text(const layout::Top& top, const layout::Plan& plan) {
    fmt::memory_buffer out;
    fmt::format_to(fmt::appender(out),
                   "{{\"width\":{:.6g},\"height\":{:.6g},\"left\":{:.6g},\"top\":{:.6g},\"unit\":{:.6g},"
                   "\"on_point\":{},\"shapes\":[",
                   top.width, top.height, top.left, top.top, plan.finished.in_inches(),
                   plan.board().on_point());
    for (std::size_t i = 0; i < top.shapes.size(); ++i) {
        if (i > 0) out.push_back(',');
        put_shape(out, top.shapes[i]);
    }
    fmt::format_to(fmt::appender(out), "],\"cells\":[");
    const layout::Board board = plan.board();
    const std::vector<unit::Point> middles = layout::middles_of(plan);
    bool first = true;
    for (int cell = 0; cell < board.cells(); ++cell) {
        if (!board.present(cell)) continue;
        const unit::Point middle = middles[static_cast<std::size_t>(cell)];
        fmt::format_to(fmt::appender(out), "{}[{},{},{},", first ? "" : ",", cell, board.row(cell),
                       board.column(cell));
        put(out, middle.x + top.left);
        out.push_back(',');
        put(out, middle.y + top.top);
        out.push_back(']');
        first = false;
    }
    fmt::format_to(fmt::appender(out), "]}}");
    return fmt::to_string(out);
}

Json top_json(const layout::Layout& layout, Geometries& geometries) {
    const layout::Top top = layout::top_of(layout);
    Json fabrics = Json::array();
    for (const layout::Shape& shape : top.shapes) fabrics.push_back(static_cast<int>(shape.fabric));
    return {{"geometry", geometries.number(geometry_text(top, layout.plan))},
            {"fabrics", std::move(fabrics)}};
}

namespace {

Json cells_json(const std::vector<char>& marked) {
    Json cells = Json::array();
    for (std::size_t cell = 0; cell < marked.size(); ++cell)
        if (marked[cell]) cells.push_back(cell);
    return cells;
}

Json ratio_json(const std::optional<double>& ratio) {
    return ratio ? Json(*ratio) : Json();
}

Json score_json(const layout::Score& score) {
    int closest = 0;
    for (const auto& [fabric, steps] : score.closest)
        if (closest == 0 || steps < closest) closest = steps;
    return {{"spread", ratio_json(score.spread)},
            {"colour", ratio_json(score.colour)},
            {"value", ratio_json(score.value)},
            {"closest", closest}};
}

/// What is on the wall of each fabric, and what the stock would give.
struct Shelf {
    std::vector<int> patches, yields;
    std::vector<double> shares;
    std::vector<std::string> letters;
    bool by_piece = false; ///< Stock and counts are of pieces to cut: units are sewn in batches.
};

Shelf shelf_of(const Project& project) {
    const std::vector<palette::Fabric>& fabrics = project.state().palette.fabrics;
    Shelf shelf;
    shelf.patches.assign(fabrics.size(), 0);
    shelf.shares.assign(fabrics.size(), 0);
    shelf.letters.assign(fabrics.size(), "");
    shelf.yields = cutting::stock_yields(fabrics, project.plan());
    const auto& top = project.outlook().layout;
    if (!top) return shelf;
    for (const cutting::FabricCount& count : cutting::count(*top))
        shelf.shares[palette::index(count.fabric)] = count.share;
    shelf.by_piece = !top->assignment.slots.empty();
    for (const layout::FabricId id : shelf.by_piece ? top->assignment.slots : top->assignment.patches)
        if (palette::index(id) < fabrics.size()) ++shelf.patches[palette::index(id)];
    shelf.letters = assembly::letters(*top);
    return shelf;
}

Json fabric_json(const palette::Fabric& fabric, std::size_t f, const Shelf& shelf, measure::System measure) {
    Json json = {{"id", fabric.id}, {"name", fabric.name}, {"letter", shelf.letters[f]}};
    if (fabric.colour) {
        const colour::Srgb srgb = fabric.colour->srgb;
        json["colour"] = fmt::format("#{:02x}{:02x}{:02x}", srgb.r, srgb.g, srgb.b);
        json["lightness"] = fabric.colour->lab.l;
        const std::uint8_t grey = colour::grey_of(fabric.colour->lab.l);
        json["grey"] = fmt::format("#{:02x}{:02x}{:02x}", grey, grey, grey);
        if (fabric.colour->value) json["value"] = colour::name(*fabric.colour->value);
        json["busy"] = fabric.colour->busy;
        if (!fabric.photo.empty()) json["cloth"] = fabric.colour->photo_hash;
    }
    if (!fabric.photo.empty()) json["width"] = measure::print_exact(fabric.photo_width, measure);
    json["value_said"] = fabric.value_said.has_value();
    json["one_way"] = fabric.one_way;
    json["used"] = shelf.patches[f];
    json["share"] = shelf.shares[f];
    if (!fabric.stock.empty()) {
        json["gives"] = shelf.yields[f];
        json["left"] = shelf.yields[f] - shelf.patches[f];
    }
    return json;
}

} // namespace

Json troubles_json(const std::vector<Trouble>& troubles) {
    Json list = Json::array();
    for (const Trouble& trouble : troubles) {
        Json ways = Json::array();
        for (const Way& way : trouble.ways) ways.push_back({{"says", way.says}, {"act", way.act}});
        list.push_back({{"what", trouble.what}, {"remedy", trouble.remedy}, {"ways", std::move(ways)}});
    }
    return list;
}

Json recipes_json() {
    Json list = Json::array();
    for (const unit::Recipe& recipe : unit::recipes())
        list.push_back({{"id", recipe.id}, {"name", recipe.name}, {"about", recipe.about}});
    return list;
}

Json view_json(const Project& project, Geometries& geometries) {
    const Outlook& outlook = project.outlook();
    const State& state = project.state();
    Json view = {{"name", project.plan().name},
                 {"folder", project.folder().string()},
                 {"plan", state.plan},
                 {"measure", project.plan().measure == measure::System::metric ? "metric" : "inch"},
                 {"finished", measure::print(project.plan().finished, project.plan().measure)},
                 {"remarks", project.remarks()}};
    const Shelf shelf = shelf_of(project);
    Json fabrics = Json::array();
    for (std::size_t f = 0; f < state.palette.fabrics.size(); ++f)
        fabrics.push_back(fabric_json(state.palette.fabrics[f], f, shelf, state.palette.measure));
    view["fabrics"] = std::move(fabrics);
    view["counted"] = shelf.by_piece ? "pieces" : "patches";
    Json roles = Json::array();
    for (const unit::Patch& patch : project.plan().forms().front().patches) roles.push_back(patch.role);
    view["roles"] = std::move(roles);
    view["turnable"] = project.plan().turns == layout::Turns::any;
    view["batches"] = layout::sewn_in_batches(project.plan().sewn);
    view["troubles"] = troubles_json(troubles(state, outlook));
    view["top"] = nullptr;
    if (outlook.layout) {
        view["top"] = top_json(*outlook.layout, geometries);
        view["pinned"] = cells_json(outlook.layout->pinned);
        view["sewn"] = cells_json(outlook.layout->sewn);
        view["score"] = score_json(outlook.layout->score);
        Json pairs = Json::array();
        if (outlook.brief)
            for (const auto& [a, b] : conflicts(*outlook.brief, outlook.layout->assignment))
                pairs.push_back({a, b});
        view["conflicts"] = std::move(pairs);
    }
    const History& history = project.history();
    view["undo"] = history.to_undo() ? Json(history.to_undo()->what()) : Json();
    view["redo"] = history.to_redo() ? Json(history.to_redo()->what()) : Json();
    view["steps"] = history.undoable();
    Json versions = Json::array();
    for (const Version& version : project.versions())
        versions.push_back({{"file", version.file}, {"name", version.name}});
    view["versions"] = std::move(versions);
    return view;
}

} // namespace motley::web
