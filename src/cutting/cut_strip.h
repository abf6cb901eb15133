#pragma once
/// Strips of the highest value: how to fill a strip of every height from the pieces that are left. Private to
/// this folder.
/// Words: the *value* of a piece is what having it cut is worth, in heights of strip times `value_scale`; a
/// strip pays when its pieces are worth more than its height.
/// How: for every height the best stack of pieces no wider than w (a knapsack over heights), then the best
/// row of stacks (a knapsack over widths). Both count no piece more often than it is left, but each lie for
/// itself, so what comes out is an upper bound; `cut` keeps to what is left.

#include <cstdint>
#include <vector>

#include "cutting/cut_frame.h"

namespace motley::cutting {

inline constexpr std::int64_t value_scale = std::int64_t{1} << 20;

/// A segment's pieces are lies of a frame.
struct RowSegment {
    int width = 0; ///< Units, of its widest piece.
    std::vector<int> lies;
};

/// A strip as it is cut.
struct Row {
    int height = 0;              ///< Units, of its tallest stack.
    std::int64_t ticks_high = 0; ///< The same, exact.
    std::vector<RowSegment> segments;
};

/// So many of each kind in a row.
std::vector<int> counted(const Row& row, const Frame& frame, std::size_t kinds);

class StripTable {
public:
    /// The frame must outlive the table.
    explicit StripTable(const Frame& frame) : frame_(&frame) {}

    /// Fills the table up to `height` for these values (each at least 0) and pieces left.
    void fill(const std::vector<std::int64_t>& values, const std::vector<int>& left, int height, Work& work);

    /// Heights at which some stack stands exactly, rising: no others can be the height of a strip.
    const std::vector<int>& heights() const { return heights_; }

    /// No strip of this height and length is worth more.
    std::int64_t most(int height, int length, Work& work) const;
    /// The same, as if segments could be cut to any width: larger, and sooner told.
    std::int64_t quick(int height, int length) const;

    /// A row that is worth `most`, but may take a kind oftener than it is left.
    Row relaxed(int height, int length, Work& work) const;

    /// A strip of at most this height and length from what is left; its value falls short of `most` only
    /// where pieces run out.
    Row cut(int height, int length, Work& work) const;

private:
    struct Item { ///< A width that pays at one height.
        int width = 0;
        int lie_class = 0;
        int most = 0; ///< So many segments can have it.
        std::int64_t value = 0;
    };

    std::int64_t stack_value(std::size_t lie, int height) const {
        return stacks_[lie * static_cast<std::size_t>(height_ + 1) + static_cast<std::size_t>(height)];
    }
    void fill_stacks(Work& work);
    void find_heights();
    std::vector<Item> items(int height) const;
    std::vector<RowSegment> segments(int height, int length, Work& work) const;
    std::vector<int> stack(int lie_class, int height) const;

    const Frame* frame_;
    std::vector<std::int64_t> values_; ///< Per kind.
    std::vector<int> left_;            ///< Per kind.
    int height_ = 0;
    std::vector<std::int64_t> stacks_; ///< Best stack of the lies up to this one, by height.
    std::vector<int> heights_;
    mutable std::vector<std::int64_t> row_; ///< Scratch.
};

} // namespace motley::cutting
