#pragma once
/// How many patches or pieces the cloth on hand gives, for plans that count by it.

#include <vector>

#include "layout/plan.h"
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

} // namespace motley::cutting
