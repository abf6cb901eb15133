#pragma once
/// How much of each fabric a top takes, and how much the stock gives.
/// In: a layout, or fabrics with their stock. Out: counts. Areas are of the finished top, in square inches,
/// whatever the plan's measure.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "measure/length.h"
#include "palette/palette.h"

namespace motley::cutting {

/// A piece to be cut, and how many slots or patches one such rectangle fills.
struct CutPiece {
    measure::Length width, length;
    int fills = 1;
};

/// What to cut for one input of the plan's recipe: sizes as one would cut them. A strip that is sewn to a set
/// is as long as the usable width.
CutPiece piece_of(const layout::Plan& plan, int input);

/// How many patches some stock gives when every piece of it is cut into a grid of such pieces. At most 2^31
/// - 1. Expects a size.
int stock_yield(const std::vector<palette::StockPiece>& stock, const CutPiece& piece);

/// The same for every fabric, with the largest piece that the plan may want of it.
std::vector<int> stock_yields(const std::vector<palette::Fabric>& fabrics, const layout::Plan& plan);

/// What a top shows of one fabric.
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

/// `counts.csv`: fabric,units,patches,finished_area_sqin,share; a line for each count (RFC 4180 quoting,
/// lines end with a newline).
std::string counts_csv(const layout::Layout& layout, const std::vector<FabricCount>& counts);

} // namespace motley::cutting
