#pragma once
/// The same quilt in another size: what it takes. Plain data, side by side in one table.

#include <string>

#include "layout/making_up.h"
#include "measure/length.h"

namespace motley::cutting {

struct SizeRow {
    layout::OtherSize asked;       ///< Name "this quilt" for the plan's own size.
    int columns = 0, rows = 0;     ///< Units across and down.
    measure::Length width, height; ///< Finished, borders included.
    int units = 0;
    int pieces = 0;        ///< To cut for the top.
    measure::Length cloth; ///< To buy for the top, and the binding where its fabric is one of the top's;
                           ///< nothing taken from stock.
    measure::Length backing_buy;
    int binding_strips = 0;
    measure::Length binding_buy; ///< Zero where `cloth` has it.
    measure::Length batting_width, batting_height;
    std::string trouble; ///< Why there is no such size; the rest is then empty. For people.
};

} // namespace motley::cutting
