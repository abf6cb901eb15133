#pragma once
/// A plain plan in no time: strips as high as the tallest piece left, filled from the tallest down. Private
/// to this folder.

#include "cutting/cut_search.h"

namespace motley::cutting {

/// Complete; exact in ticks whatever the frame's units.
RowPlan shelf_plan(const Frame& frame, std::vector<int> left);

} // namespace motley::cutting
