#pragma once
/// A first assignment: the right number of each fabric, poured so that few rules break, then mended.

#include <stop_token>

#include "placement/chance.h"
#include "placement/model.h"

namespace motley::placement {

/// Every patch filled by the brief's shares; pins kept; fabrics poured by falling count into classes of cells
/// that cannot touch one another (parity classes for touching, residues for apart, knight's-move diagonals
/// for line), so that tight tops come out right at once.
layout::Assignment pour(const Model& model, Chance& chance);

/// Tabu search on broken rules by exchanges (and turns, where free) until none is left or `steps` are spent.
/// Returns the best found.
layout::Assignment mend_rules(const Model& model, const layout::Assignment& start, Chance& chance,
                              std::int64_t steps, std::stop_token stop);

} // namespace motley::placement
