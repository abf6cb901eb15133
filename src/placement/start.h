#pragma once
/// A first assignment: the right number of each fabric, poured so that few rules break, then mended.

#include <optional>
#include <stop_token>

#include "placement/chance.h"
#include "placement/model.h"

namespace motley::placement {

/// How many patches of each place each fabric gets: [place][fabric]. Within every range of the brief, at least what is pinned, and as even
/// as that allows. Empty when there is no such choice.
std::optional<std::vector<std::vector<int>>> shares(const layout::Brief& brief, Chance& chance);

/// Every patch filled by those shares; pins kept; fabrics poured by falling count into classes of cells that cannot touch one another
/// (parity classes for touching, residues for apart, knight's-move diagonals for line), so that tight tops come out right at once.
layout::Assignment pour(const Model& model, const std::vector<std::vector<int>>& shares, Chance& chance);

/// Tabu search on broken rules by exchanges (and turns, where free) until none is left or `steps` are spent. Returns the best found.
layout::Assignment mend_rules(const Model& model, const layout::Assignment& start, Chance& chance, std::int64_t steps, std::stop_token stop);

} // namespace motley::placement
