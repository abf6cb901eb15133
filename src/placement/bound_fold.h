#pragma once
/// A rectangle of cells folded along its two middle lines. What treats mirror images alike is kept for one
/// quarter of the cells, and splits into four parts that do not mix: even or odd up and down, even or odd
/// left and right.
/// Words: a *slab* holds, for one of the four mirrorings s, the numbers of the pairs (cell i, mirrored cell
/// s(j)), i and j in the quarter. The four slabs together are a symmetric matrix over all cells. A *mode* is
/// a polynomial over the cells of one kind of evenness.

#include <algorithm>
#include <array>
#include <cstdlib>
#include <vector>

#include "placement/bound_spectrum.h"

namespace motley::placement {

class Fold {
public:
    static constexpr int kinds = 4;
    /// [s][i * quarter + j]
    using Slabs = std::array<std::vector<double>, kinds>;
    using Parts = std::array<Square, kinds>;

    /// The smoothest `modes` modes, at least one: the constant, which is the first of part 0.
    Fold(int columns, int rows, int modes);

    int quarter() const { return static_cast<int>(weight_.size()); }
    /// How many cells fold onto this one.
    int weight(int i) const { return weight_[static_cast<std::size_t>(i)]; }
    int modes(int kind) const { return counts_[static_cast<std::size_t>(kind)]; }
    /// From cell i to the mirrored cell s(j).
    int row_step(int i, int s, int j) const {
        const int r = j / half_columns_;
        return std::abs(((s & 2) != 0 ? rows_ - 1 - r : r) - i / half_columns_);
    }
    int column_step(int i, int s, int j) const {
        const int c = j % half_columns_;
        return std::abs(((s & 1) != 0 ? columns_ - 1 - c : c) - i % half_columns_);
    }
    /// Whether s(j) is also met under an earlier mirroring: cell j lies on a middle line.
    bool repeats(int s, int j) const {
        return ((s & 2) != 0 && 2 * (j / half_columns_) == rows_ - 1) ||
               ((s & 1) != 0 && 2 * (j % half_columns_) == columns_ - 1);
    }
    /// Where cell `cell` of the whole rectangle folds to.
    int folded(int cell) const {
        const int r = cell / columns_, c = cell % columns_;
        return std::min(r, rows_ - 1 - r) * half_columns_ + std::min(c, columns_ - 1 - c);
    }
    Slabs slabs() const;

    /// P' M P for the matrix M in the slabs, P the modes; overwrites the slabs.
    Parts seen_by_modes(Slabs& matrix) const;
    /// P T P' for the parts T.
    void from_modes(const Parts& parts, Slabs& matrix) const;

private:
    int columns_, rows_, half_columns_;
    std::vector<int> weight_;
    std::array<int, kinds> counts_{};
    /// By kind, one mode after the other: [mode * quarter + i]. Of length 1 over all cells.
    std::array<std::vector<double>, kinds> modes_;
};

} // namespace motley::placement
