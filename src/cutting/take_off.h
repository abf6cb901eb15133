#pragma once
/// How much of each fabric a top takes, and how much the stock gives.
/// In: a layout, or fabrics with their stock. Out: counts. Areas are of the finished top, in square inches,
/// whatever the plan's measure.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "palette/palette.h"
#include "unit/form.h"

namespace motley::cutting {

/// Side of the square to cut for one patch as a quilter would measure it: rounded up to 1/8 in, or to a whole
/// millimetre.
measure::Length practical_square(const unit::Form& recipe, measure::Length finished, measure::Length seam,
                                 measure::System system);

/// How many patches some stock gives when every piece of it is cut into a grid of squares of `square`.
/// At most 2^31 - 1. Expects square > 0.
int stock_yield(const std::vector<palette::StockPiece>& stock, measure::Length square,
                int patches_from_square);

/// The same for every fabric, with the unit of the plan.
std::vector<int> stock_yields(const std::vector<palette::Fabric>& fabrics, const layout::Plan& plan);

/// What a top shows of one fabric.
struct FabricCount {
    palette::FabricId fabric{};
    int units = 0; ///< Units that show it.
    int patches = 0;
    double area_sq_in = 0; ///< Finished.
    double share = 0;      ///< Of the top, [0, 1].
};

/// In palette order: every fabric that a role may show or that the top shows, those with nothing included.
/// Shares add up to 1.
std::vector<FabricCount> count(const layout::Layout& layout);

/// `counts.csv`: fabric,units,patches,finished_area_sqin,share; a line for each count (RFC 4180 quoting,
/// lines end with a newline).
std::string counts_csv(const layout::Layout& layout, const std::vector<FabricCount>& counts);

} // namespace motley::cutting
