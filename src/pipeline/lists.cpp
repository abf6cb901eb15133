#include "pipeline/lists.h"

#include <fmt/format.h>

#include <algorithm>

#include "layout/complaints.h"
#include "layout/heap.h"
#include "layout/top.h"

namespace motley::pipeline {

using measure::Length;

Lists lists_of(const layout::Layout& layout) {
    Lists lists;
    const layout::MakingUp& asked = layout.plan.making_up;
    lists.counts = cutting::count(layout);
    lists.cutting = cutting::cutting_for(layout, layout.plan.usable_width);
    const layout::Extent extent = layout::extent_of(layout.plan);
    lists.finishing = cutting::finishing_for(Length::inches(extent.width), Length::inches(extent.height),
                                             asked.finish, asked.cloth, layout.plan.usable_width);
    lists.buying = cutting::buying_for(layout, lists.cutting, lists.finishing);
    return lists;
}

std::vector<document::Output> list_files(const layout::Layout& layout, const Lists& lists) {
    return {{"counts.csv", document::bytes_of(cutting::counts_csv(layout, lists.counts))},
            {"cutting.csv", document::bytes_of(cutting::cutting_csv(layout, lists.cutting))},
            {"buying.csv", document::bytes_of(cutting::buying_csv(layout, lists.buying))}};
}

void refuse_narrow_cloth(const layout::Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    layout::Complaints complaints;
    const cutting::TakeOff take_off = cutting::take_off(layout::heaped(plan, fabrics), plan.usable_width);
    for (const cutting::Need& need : take_off.needs) {
        const palette::Fabric& fabric = fabrics[palette::index(need.fabric)];
        const bool turns = !fabric.one_way || need.joined;
        const Length across = turns ? std::min(need.width, need.length) : need.width;
        if (across <= plan.usable_width) continue;
        const auto [width, length] = measure::print_sides(need.width, need.length, plan.measure);
        complaints.add(plan.where("/cloth/usable_width"),
                       fmt::format("{}: a {} of {} x {} is wider than the cloth, {}{}", fabric.id, need.name,
                                   width, length, measure::print_set(plan.usable_width, plan.measure),
                                   turns ? "" : ", and the print is one-way"),
                       "choose smaller pieces, or say how wide the cloth really is");
    }
    complaints.raise();
}

} // namespace motley::pipeline
