#include "pipeline/other_sizes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "cutting/fabric_cuts.h"
#include "cutting/finishing.h"
#include "fault/fault.h"
#include "layout/heap.h"
#include "layout/top.h"

namespace motley::pipeline {

namespace {

using measure::Length;

layout::Plan resized(const layout::Plan& plan, int columns, int rows) {
    layout::Plan other = plan;
    other.columns = other.setting.columns = columns;
    other.rows = other.setting.rows = rows;
    return other;
}

/// How far a number of units is from the size wanted; nothing where it does not cover the mattress.
struct Fit {
    int units;
    double off;
};

std::vector<Fit> fits(double wanted, double least, const auto& size_of) {
    constexpr int most = 200;
    std::vector<Fit> found;
    for (int n = 1; n <= most; ++n) {
        const double size = size_of(n);
        if (size >= least - 1e-9) found.push_back({n, std::abs(size - wanted)});
        if (size > wanted && size >= least && found.size() > 1) break; // From here on only further away.
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Fit& a, const Fit& b) { return a.off < b.off - 1e-9; });
    return found;
}

/// Columns and rows that come nearest to the size; units of a pieced border must fill its sides. {0, 0} where
/// none does.
std::pair<int, int> units_for(const layout::Plan& plan, const layout::OtherSize& asked) {
    const auto across = fits(asked.wanted_width().in_inches(), asked.mattress ? asked.width.in_inches() : 0,
                             [&](int n) { return layout::extent_of(resized(plan, n, 2)).width; });
    const auto down = fits(asked.wanted_length().in_inches(), asked.mattress ? asked.length.in_inches() : 0,
                           [&](int n) { return layout::extent_of(resized(plan, 2, n)).height; });
    std::pair<int, int> best{0, 0};
    double least = 1e9;
    for (const Fit& columns : across)
        for (const Fit& rows : down) {
            if (columns.off + rows.off >= least - 1e-9 || columns.units * rows.units > layout::most_cells)
                continue;
            if (!layout::borders_fit(resized(plan, columns.units, rows.units))) continue;
            least = columns.off + rows.off;
            best = {columns.units, rows.units};
        }
    return best;
}

void scale_counts(layout::Plan& plan, double ratio) {
    const auto scaled = [&](int count) { return static_cast<int>(std::lround(count * ratio)); };
    for (auto& [id, count] : plan.counts) {
        constexpr int no_limit = 1'000'000;
        if (count.kind == layout::Count::Kind::stock) count = {};
        count.least = scaled(count.least);
        if (count.most < no_limit) count.most = scaled(count.most);
    }
}

void take(cutting::SizeRow& row, const layout::Layout& top) {
    const layout::Extent extent = layout::extent_of(top.plan);
    row.columns = top.plan.columns;
    row.rows = top.plan.rows;
    row.width = Length::inches(extent.width);
    row.height = Length::inches(extent.height);
    const cutting::Cutting cutting = cutting::cutting_for(top, top.plan.usable_width);
    row.units = cutting.take_off.units;
    bool binding = false;
    for (const cutting::Need& need : cutting.take_off.needs) {
        row.pieces += need.count;
        binding = binding || need.use == cutting::Use::binding;
    }
    for (const cutting::FabricCuts& cuts : cutting.fabrics) row.cloth = row.cloth + cuts.buy;
    const cutting::FinishingPlan finishing = cutting::finishing_for(
        row.width, row.height, top.plan.making_up.finish, top.plan.making_up.cloth, top.plan.usable_width);
    row.backing_buy = finishing.backing.buy;
    row.binding_strips = finishing.binding.strips;
    if (!binding) row.binding_buy = finishing.binding.buy;
    row.batting_width = finishing.batting_width;
    row.batting_height = finishing.batting_height;
}

} // namespace

std::vector<cutting::SizeRow> other_sizes(const layout::Layout& layout) {
    if (layout.plan.making_up.sizes.empty()) return {};
    std::vector<palette::Fabric> fabrics = layout.fabrics;
    for (palette::Fabric& fabric : fabrics) fabric.stock.clear();
    std::vector<cutting::SizeRow> rows(1);
    rows.front().asked.name = "this quilt";
    {
        layout::Layout own = layout;
        own.fabrics = fabrics;
        take(rows.front(), own);
    }
    const double cells = layout.plan.board().units();
    for (const layout::OtherSize& asked : layout.plan.making_up.sizes) {
        cutting::SizeRow row;
        row.asked = asked;
        const auto [columns, down] = units_for(layout.plan, asked);
        if (columns == 0) {
            row.trouble = layout::borders_fit(layout.plan) && !layout.plan.setting.borders.empty()
                              ? "no number of units both fills the borders and comes to this size"
                              : "no number of units comes to this size";
        } else {
            try {
                layout::Plan plan = resized(layout.plan, columns, down);
                scale_counts(plan, plan.board().units() / cells);
                take(row, layout::heaped(plan, fabrics));
            } catch (const Fault& fault) {
                row.trouble = fault.problems().front().what;
            }
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

} // namespace motley::pipeline
