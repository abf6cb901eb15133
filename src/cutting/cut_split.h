#pragma once
/// Tall strips that could as well be several low ones. Private to this folder.

#include <vector>

#include "cutting/cut_search.h"

namespace motley::cutting {

/// The same pieces in the same length: strips cut across at every height where all their stacks can be
/// parted. A low strip fits under a ruler, a tall one has to be folded.
std::vector<RowTimes> split_low(const std::vector<RowTimes>& rows, const Frame& frame);

} // namespace motley::cutting
