#pragma once
/// A beam over strips: the most promising beginnings of a plan, each a strip longer at every step. Private to
/// this folder.

#include <cstdint>
#include <vector>

#include "cutting/cut_search.h"

namespace motley::cutting {

struct BeamWidth {
    int nodes = 6;    ///< Beginnings kept.
    int branches = 3; ///< Strips tried after each.
    int height = 0;   ///< The tallest strip tried, in units; 0: the frame's.
};

/// The best complete plan seen for `asked` that is shorter than `limit` ticks, or one without rows.
/// `values` choose the strips, `prices` judge the beginnings (both per kind, as in Prices).
RowPlan beam_plan(const Frame& frame, const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                  const std::vector<std::int64_t>& prices, const BeamWidth& width, std::int64_t limit,
                  Work& work);

} // namespace motley::cutting
