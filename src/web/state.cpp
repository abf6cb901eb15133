#include "web/state.h"

#include <algorithm>
#include <map>

#include "cutting/stock.h"
#include "layout/top.h"
#include "mend/in_the_way.h"
#include "pipeline/job.h"

namespace motley::web {

using layout::FabricId;

layout::Plan read_plan(const document::Json& plan, const std::filesystem::path& file) {
    layout::Plan read = layout::read_plan(document::Node(plan, file.string()));
    return read;
}

layout::Layout hang(const State& state, const layout::Plan& plan) {
    const Laid& laid = *state.laid;
    layout::Layout top;
    top.plan = plan;
    top.seed = laid.seed;
    top.version = pipeline::version();
    top.fabrics = state.palette.fabrics;
    top.assignment = laid.assignment;
    top.cornerstones = laid.cornerstones;
    top.borders = laid.borders;
    top.pinned = laid.pinned;
    top.sewn = laid.sewn;
    return top;
}

Laid taken_down(const layout::Layout& layout) {
    return {layout.seed, layout.assignment, layout.cornerstones, layout.borders, layout.pinned, layout.sewn};
}

namespace {

bool extras_fit(const Laid& laid, const layout::Plan& plan) {
    const auto& borders = plan.setting.borders;
    if (laid.cornerstones.size() != static_cast<std::size_t>(layout::cornerstones(plan)) &&
        !laid.cornerstones.empty())
        return false;
    if (!laid.borders.empty() && laid.borders.size() != borders.size()) return false;
    for (std::size_t i = 0; i < laid.borders.size(); ++i)
        if (std::cmp_not_equal(laid.borders[i].size(),
                               borders[i].pieced ? layout::border_patches(plan, i) : 0))
            return false;
    // What is pieced from several fabrics has to say which.
    const bool mixed = std::any_of(borders.begin(), borders.end(), [](const auto& b) { return b.pieced; });
    return !(mixed && laid.borders.empty());
}

bool batches_fit(const Laid& laid, const layout::Plan& plan, int units) {
    const layout::Assignment& top = laid.assignment;
    if (!layout::sewn_in_batches(plan.sewn)) return top.units.empty() && top.slots.empty();
    const layout::Kit kit = layout::make_kit(plan.sewn, units, plan.usable_width);
    if (top.slots.size() != kit.slots.size() || top.units.size() != top.turns.size()) return false;
    return std::all_of(top.units.begin(), top.units.end(),
                       [&](int unit) { return unit >= -1 && std::cmp_less(unit, kit.units.size()); });
}

} // namespace

bool fits(const Laid& laid, const layout::Plan& plan, const palette::Palette& palette) {
    const layout::Board board = plan.board();
    const layout::Assignment& top = laid.assignment;
    const auto cells = static_cast<std::size_t>(board.cells());
    std::size_t places = 0;
    for (const unit::Form& form : plan.forms()) places = std::max(places, form.patches.size());
    if (top.turns.size() != cells || top.patches.size() != cells * places || laid.pinned.size() != cells ||
        laid.sewn.size() != cells)
        return false;
    const bool forms_wanted = plan.forms().size() > 1 || layout::sewn_in_batches(plan.sewn);
    if (top.forms.size() != (forms_wanted ? cells : 0)) return false;
    for (std::size_t cell = 0; cell < cells; ++cell) {
        if (!board.present(static_cast<int>(cell))) continue;
        const auto form = static_cast<std::size_t>(top.form(cell));
        if (form >= plan.forms().size()) return false;
        for (std::size_t p = 0; p < plan.forms()[form].patches.size(); ++p)
            if (palette::index(top.patches[cell * places + p]) >= palette.fabrics.size()) return false;
    }
    return batches_fit(laid, plan, board.units()) && extras_fit(laid, plan);
}

std::optional<Laid> renumbered(const Laid& laid, const std::vector<palette::Fabric>& from,
                               const std::vector<palette::Fabric>& to) {
    std::map<std::string, FabricId> numbers;
    for (std::size_t f = 0; f < to.size(); ++f) numbers[to[f].id] = FabricId{static_cast<std::uint16_t>(f)};
    const FabricId none{static_cast<std::uint16_t>(to.size())};
    bool whole = true;
    const auto renumber = [&](FabricId& id) {
        if (id == layout::no_fabric) return;
        if (palette::index(id) >= from.size()) {
            id = none; // A patch that is not there.
            return;
        }
        const auto found = numbers.find(from[palette::index(id)].id);
        if (found == numbers.end())
            whole = false;
        else
            id = found->second;
    };
    Laid out = laid;
    for (FabricId& id : out.assignment.patches) renumber(id);
    for (FabricId& id : out.assignment.slots) renumber(id);
    for (FabricId& id : out.cornerstones) renumber(id);
    for (auto& border : out.borders)
        for (FabricId& id : border) renumber(id);
    return whole ? std::optional(out) : std::nullopt;
}

void mark_pins(Laid& laid, const layout::Plan& plan) {
    const layout::Board board = plan.board();
    std::fill(laid.pinned.begin(), laid.pinned.end(), 0);
    for (const layout::Pin& pin : plan.pins)
        if (const int cell = board.cell(pin.row, pin.column); cell >= 0)
            laid.pinned[static_cast<std::size_t>(cell)] = 1;
}

layout::Brief said_by_name(layout::Brief brief, const palette::Palette& palette) {
    for (std::size_t f = 0; f < palette.fabrics.size(); ++f) brief.names[f] = palette.fabrics[f].name;
    return brief;
}

Outlook look_at(const State& state, layout::Plan plan, const layout::AimPicture& aim) {
    Outlook out;
    out.plan = std::move(plan);
    out.picture = aim;
    if (state.palette.fabrics.empty()) return out;
    try {
        pipeline::check_setting(out.plan, state.palette);
        out.brief = layout::make_brief(out.plan, state.palette.fabrics,
                                       cutting::stock_yields(state.palette.fabrics, out.plan), aim);
    } catch (const Fault& fault) {
        if (fault.cause() == Cause::system) throw;
        out.problems = fault.problems();
    }
    if (!state.laid) return out;
    try {
        pipeline::check_setting(out.plan, state.palette);
    } catch (const Fault&) {
        return out; // A strip of a fabric that is not there cannot be drawn.
    }
    out.layout = hang(state, out.plan);
    if (out.brief)
        out.layout->score = layout::judge(mend::held(*out.brief, out.layout->assignment, out.layout->sewn),
                                          out.layout->assignment);
    return out;
}

} // namespace motley::web
