#pragma once
/// The cells that one fabric is scattered over, and how strongly two uses of it push each other apart.
/// In: a weight for each step between two cells. Out: whole rows of weights, ready to be summed, and the
/// turns, mirrorings and shifts that change no weight.
/// Threads: never changes once made; share it freely.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace motley::placement {

/// Cells are numbered row by row from the top left.
class Ground {
public:
    enum class Edges : std::uint8_t {
        plain, ///< A step is as long as it looks.
        meet,  ///< The left edge meets the right, the top the bottom: a step takes the shorter way round.
    };

    /// The weight of a pair whose cells are `row_step` and `column_step` apart; both are 0 or more, not both
    /// 0.
    using Weigh = std::function<std::int32_t(int row_step, int column_step)>;

    static constexpr int most_cells = 4096; ///< The weights of all pairs are kept: 64 MB at this size.

    /// Expects rows and columns >= 1, at most `most_cells` cells, weights >= 0, and that the weights of one
    /// cell against all others sum to less than 2^29.
    Ground(int columns, int rows, Edges edges, const Weigh& weigh);

    int columns() const { return columns_; }
    int rows() const { return rows_; }
    int cells() const { return columns_ * rows_; }
    bool edges_meet() const { return edges_ == Edges::meet; }

    std::int32_t weight(int a, int b) const { return row(a)[b]; }
    /// The weights of `cell` against every cell in turn, 0 against itself; `stride()` numbers, the last of
    /// them padding.
    const std::int32_t* row(int cell) const { return weights_.data() + at(cell) * stride_; }
    std::size_t stride() const { return stride_; }
    /// Of one cell against all others. Equal for all cells where the edges meet.
    std::int32_t whole(int cell) const { return wholes_[at(cell)]; }

    /// The sum over ordered pairs of `cells` of their weight, counted afresh.
    std::int64_t cost(std::span<const int> cells) const;

    /// Turns and mirrorings that change no weight, the identity first: [k][cell] is where it takes the cell.
    /// Where edges meet, any of them followed by any shift changes no weight either.
    const std::vector<std::vector<int>>& turns() const { return turns_; }
    int shifted(int cell, int down, int right) const {
        return (cell / columns_ + down) % rows_ * columns_ + (cell % columns_ + right) % columns_;
    }

private:
    static std::size_t at(int cell) { return static_cast<std::size_t>(cell); }
    void lay_out_turns();

    int columns_, rows_;
    Edges edges_;
    std::size_t stride_;
    std::vector<std::int32_t> weights_, wholes_;
    std::vector<std::vector<int>> turns_;
};

/// The way to lay `moved` over `still` with the most cells in common, among all that change no weight.
struct Alignment {
    std::vector<int> cells; ///< `moved`, laid over; in its order.
    int common = 0;
};

/// Ties go to the first turn, then to the first shift. O(turns * (|still| * |moved| + cells)).
Alignment align(const Ground& ground, std::span<const int> still, std::span<const int> moved);

} // namespace motley::placement
