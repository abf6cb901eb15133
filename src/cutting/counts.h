#pragma once
/// What a top shows of each fabric. In: a layout. Out: counts. Areas are of the finished top, in square
/// inches, whatever the plan's measure.

#include <string>
#include <vector>

#include "layout/layout.h"

namespace motley::cutting {

struct FabricCount {
    palette::FabricId fabric{};
    int units = 0;         ///< Units that show it.
    int patches = 0;       ///< Of units, and pieces of the setting: blocks, triangles, sashing, borders.
    double area_sq_in = 0; ///< Finished.
    double share = 0;      ///< Of the top, [0, 1].
};

/// In palette order: every fabric that a role may show or that the top shows, those with nothing included.
/// Shares are of the whole top, borders included, and add up to 1.
std::vector<FabricCount> count(const layout::Layout& layout);

/// `counts.csv`: fabric,units,patches,finished_area_sqin,share; a line for each count.
std::string counts_csv(const layout::Layout& layout, const std::vector<FabricCount>& counts);

} // namespace motley::cutting
