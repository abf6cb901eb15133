#pragma once
/// A plan from the linear program: its mix of strips rounded down, the rest priced anew, and so on until
/// nothing is left. Private to this folder.

#include "cutting/cut_search.h"

namespace motley::cutting {

/// How a dive goes on where every share of the mix is less than one strip.
enum class Plunge : std::uint8_t { largest_share, largest_height, least_waste };

/// The best complete plan on the way that is shorter than `limit` ticks, or one without rows.
RowPlan dive(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, Plunge plunge,
             std::int64_t limit, Work& work);

} // namespace motley::cutting
