#pragma once
/// A first assignment: the right number of each fabric, poured so that few rules break, then mended.

#include <functional>
#include <stop_token>

#include "placement/chance.h"
#include "placement/model.h"

namespace motley::placement {

/// Pours, mends by exchanges, then by deduction (start_deduction.h), as often as it takes, within a fixed
/// number of steps. The numbers of fabrics, pins and turns are as the brief asks, always; the rules where
/// that was found. `over` is asked between the parts.
layout::Assignment first_layout(const Model& model, Chance& chance, const std::function<bool()>& over,
                                const std::stop_token& stop);

struct FirstTop {
    layout::Assignment assignment;
    bool impossible = false; ///< The deduction proved that no assignment keeps every rule.
};

/// The same, with what was proved on the way.
FirstTop look_for_first(const Model& model, Chance& chance, const std::function<bool()>& over,
                        const std::stop_token& stop);

/// Every patch filled by the brief's shares; pins kept; fabrics poured by falling count into classes of cells
/// that cannot touch one another (parity classes for touching, residues for apart, knight's-move diagonals
/// for line), so that tight tops come out right at once.
layout::Assignment pour(const Model& model, Chance& chance);

/// [patch] the fabric it would show if each class held one fabric alone, the largest class the one used most,
/// classes of one size by rows or by columns; -1 where that leaves none, and in units of several patches.
std::vector<int> purely_poured(const Model& model, bool down);

/// Tabu search on broken rules by exchanges (and turns, where free) until none is left or `steps` are spent.
/// Returns the best found.
layout::Assignment mend_rules(const Model& model, const layout::Assignment& start, Chance& chance,
                              std::int64_t steps, std::stop_token stop);

} // namespace motley::placement
