#pragma once
/// Why a layout cannot be mended, in words.

#include <string>

#include "layout/layout.h"
#include "mend/mend.h"

namespace motley::pipeline {

/// "row 2, column 3", of a cell.
std::string row_and_column(const layout::Plan& plan, int cell);

/// "row 2, column 3; row 4, column 1 and 5 more".
std::string rows_and_columns(const layout::Plan& plan, const std::vector<int>& cells);

/// Fault (Cause::unmet) after a search without success. `brief` does not hold the sewn units.
[[noreturn]] void refuse_mending(const std::string& file, const layout::Layout& top,
                                 const layout::Brief& brief, const mend::Worn& worn,
                                 const mend::Mended& mended, const mend::Effort& effort);

} // namespace motley::pipeline
