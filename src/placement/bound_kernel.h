#pragma once
/// A floor under the pull between the cells of equal fabrics, by a smooth kernel that stays below it.
///
/// Let x_f be 1 in the cells of fabric f and 0 elsewhere, G = H - (mu/N) J with H positive semidefinite (J
/// all ones, N cells) and G_ij <= 1/d_ij^2 + E_ij, E >= 0, for all pairs of cells that may show one fabric;
/// G_ii and G_ij of barred pairs are free. Any u has (x_f - u)' H (x_f - u) >= 0. So for F fabrics of n_f
/// cells each,
///   2 S >= sum_f [2 u'H x_f - u'H u] - (mu/N) sum_f n_f^2 - sum over their cells of (G_ii + the n - 1
///   largest E_ij of the row).
/// What it says of cells is a price for each; the rest is fixed. G comes from the dual of
///   min sum over pairs Y_ij/d_ij^2, Y >= 0, 0 where barred, Y_ii = 1, Y - (n/N) J positive semidefinite,
/// solved roughly: whatever came out, the floor holds. (Semidefinite bounds of graph partition: Karisch &
/// Rendl 1998, from memory.)

#include <vector>

#include "placement/bound_cover.h"

namespace motley::placement {

/// What the distance between two cells does, by row step and column step: [row step * columns + column step].
struct Gaps {
    int columns = 0, rows = 0;
    std::vector<double> pull; ///< 1/d^2; 0 for a cell with itself.
    std::vector<char> barred; ///< No fabric may show in both.

    int cells() const { return columns * rows; }
    std::size_t index(int row_step, int column_step) const {
        return static_cast<std::size_t>(row_step * columns + column_step);
    }
};

/// Prices for each group (the last may be one without fabrics), the best seen in so many rounds of a
/// search. O(rounds N^2 modes) time for each group, O(N^2) memory.
std::vector<Prices> kernel_prices(const Gaps& gaps, const std::vector<Group>& groups, int rounds);

} // namespace motley::placement
