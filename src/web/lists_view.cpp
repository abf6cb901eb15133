// The lists of a top, as the page shows them: texts in the plan's measure.

#include <fmt/format.h>

#include "layout/top.h"
#include "pipeline/lists.h"
#include "web/view.h"

namespace motley::web {

namespace {

using document::Json;
using measure::Length;

Json buying_json(const layout::Layout& top, const cutting::BuyingList& buying) {
    const measure::System system = top.plan.measure;
    Json lines = Json::array();
    for (const cutting::BuyLine& line : buying.lines) {
        const bool none = line.buy.ticks == 0;
        lines.push_back({{"fabric", line.id},
                         {"what", line.what},
                         {"buy", none ? "nothing" : cutting::print_cloth(line.buy, system)},
                         {"spare", none ? "" : measure::print_measured(line.spare, system)},
                         {"stock", !line.from_stock ? ""
                                   : none           ? "all"
                                                    : "in part"},
                         {"price", line.price ? Json(*line.price) : Json()}});
    }
    return lines;
}

Json cutting_json(const layout::Layout& top, const cutting::Cutting& cutting) {
    Json rows = Json::array();
    for (const cutting::Need& need : cutting.take_off.needs) {
        const auto [width, length] = measure::print_sides(need.width, need.length, top.plan.measure);
        rows.push_back({{"fabric", top.fabrics[palette::index(need.fabric)].name},
                        {"piece", need.name},
                        {"size", fmt::format("{} x {}", width, length)},
                        {"cut", need.count},
                        {"used", need.used}});
    }
    return rows;
}

} // namespace

Json lists_json(const layout::Layout& layout) {
    const pipeline::Lists lists = pipeline::lists_of(layout);
    const measure::System system = layout.plan.measure;
    const layout::Extent extent = layout::extent_of(layout.plan);
    const auto [width, height] =
        measure::print_sides(Length::inches(extent.width), Length::inches(extent.height), system);
    const auto [batting_width, batting_height] =
        measure::print_sides(lists.buying.batting_width, lists.buying.batting_height, system);
    Json json = {{"size", fmt::format("{} x {}", width, height)},
                 {"buying", buying_json(layout, lists.buying)},
                 {"cutting", cutting_json(layout, lists.cutting)},
                 {"total", cutting::print_cloth(lists.buying.total, system)},
                 {"cloth_width", measure::print_set(lists.buying.usable_width, system)},
                 {"batting", fmt::format("{} x {}", batting_width, batting_height)}};
    json["cost"] =
        lists.buying.cost
            ? Json(fmt::format("{}{:.2f}", layout.plan.making_up.cloth.currency, *lists.buying.cost))
            : Json();
    return json;
}

} // namespace motley::web
