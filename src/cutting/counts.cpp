#include "cutting/counts.h"

#include <fmt/format.h>

#include <algorithm>

#include "cutting/csv.h"
#include "layout/top.h"

namespace motley::cutting {

std::vector<FabricCount> count(const layout::Layout& layout) {
    const layout::Top top = layout::top_of(layout);
    std::vector<FabricCount> all(layout.fabrics.size());
    std::vector<int> last_cell(all.size(), -1); // Shapes of one unit follow each other.
    for (const layout::Shape& shape : top.shapes) {
        const std::size_t f = palette::index(shape.fabric);
        FabricCount& one = all.at(f);
        ++one.patches;
        one.area_sq_in += unit::area(shape.outline);
        if (shape.part == layout::Part::unit && last_cell[f] != shape.cell) {
            ++one.units;
            last_cell[f] = shape.cell;
        }
    }
    const auto taken = layout::takers(layout.plan, layout.fabrics);
    std::vector<FabricCount> counts;
    for (std::size_t f = 0; f < all.size(); ++f) {
        all[f].fabric = palette::FabricId{static_cast<std::uint16_t>(f)};
        all[f].share = all[f].area_sq_in / (top.width * top.height);
        const bool may_be_used =
            std::any_of(taken.begin(), taken.end(), [f](const auto& role) { return role[f] != 0; });
        if (may_be_used || all[f].patches > 0) counts.push_back(all[f]);
    }
    return counts;
}

std::string counts_csv(const layout::Layout& layout, const std::vector<FabricCount>& counts) {
    std::string text = "fabric,units,patches,finished_area_sqin,share\n";
    for (const FabricCount& one : counts)
        text += csv_line({csv_field(layout.fabrics[palette::index(one.fabric)].id), std::to_string(one.units),
                          std::to_string(one.patches), csv_number(one.area_sq_in),
                          fmt::format("{:.4f}", one.share)});
    return text;
}

} // namespace motley::cutting
