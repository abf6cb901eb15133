#pragma once
/// Scatters the uses of one fabric over a ground as evenly as can be: an accent that should show everywhere
/// and clump nowhere. Of all ways to choose `uses` cells, it looks for the one that makes
///
///     cost = sum over ordered pairs (a, b) of chosen cells, a != b, of weight(step from a to b)
///
/// least. With edges that meet and weights of 100000 / d^2 this is the grey-pattern problem of printing
/// (Taillard, "Comparison of iterative searches for the quadratic assignment problem", 1995; instances tai64c
/// and tai256c of QAPLIB are 8 x 8 with 13 uses and 16 x 16 with 92).
///
/// Method: a small population of scatters, each improved by a tabu search (accent_walk.h). Two parents make a
/// child: one is first turned, mirrored and shifted over the other so that they have many cells in common (as
/// many as can be, or now and then just more than most images have), since scatters that differ only so are
/// the same scatter; the child keeps what they agree on, draws half of the rest by chance from what either
/// has, and the other half where the push is least. When children have brought nothing new for a while, a
/// new population starts. Memetic search: Moscato 1989; tabu search: Glover 1989.
///
/// In: a ground, a number of uses, an effort. Out: the best scatter found, always whole.
/// Limits: one fabric, no pins, no rules; grounds of at most Ground::most_cells cells. Nothing is proved
/// except by `least_cost`. Threads: one.

#include <cstdint>
#include <optional>
#include <stop_token>
#include <vector>

#include "placement/ground.h"

namespace motley::placement {

/// How hard to look, and where chance starts.
struct AccentEffort {
    std::uint64_t seed = 1; ///< Same seed, ground, uses and effort: same cells, unless `seconds` is set.
    std::int64_t moves = 4'000'000;     ///< Uses moved, over all scatters tried; a little more, never less.
    std::optional<double> seconds;      ///< Search this long instead of counting moves.
    std::optional<std::int64_t> enough; ///< Stop at this cost or less.
    std::stop_token stop;               ///< When asked to stop, the best so far is returned.
};

struct Accent {
    std::vector<int> cells;      ///< Rising.
    std::int64_t cost = 0;       ///< As Ground::cost of the cells.
    std::int64_t moves = 0;      ///< Uses moved in all.
    std::int64_t best_after = 0; ///< Uses moved until this scatter was found.
    double best_seconds = 0;     ///< Time until then.
};

/// Expects 0 <= uses <= ground.cells().
Accent scatter_accent(const Ground& ground, int uses, const AccentEffort& effort);

/// A cost that no scatter of so many uses can be below, and so a proof where it is reached. The better of
/// two:
///  - each use is pushed by its uses - 1 lightest partners at least;
///  - where edges meet, the weights are a circulant matrix with eigenvalues e(k, l), its two-way Fourier
///    transform, and the cost is at least e(0, 0) u^2 / N + (least other e) * u (N - u) / N, u uses on N
///    cells.
/// Whole and even; rounded down by more than its own error. Expects 0 <= uses <= ground.cells().
std::int64_t least_cost(const Ground& ground, int uses);

} // namespace motley::placement
