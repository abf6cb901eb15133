#pragma once
/// How many patches of a set may show one fabric.

#include <cstdint>
#include <vector>

#include "placement/obstacles_board.h"

namespace motley::placement {

/// A set of patches, 64 to a word.
using Patches = std::uint64_t;

class Packing {
public:
    explicit Packing(const Board& board);

    /// No independent set inside `set` is larger. Exact where the board splits into two sides (König: all
    /// patches less a largest matching); otherwise the least of two greedy covers by sets of patches that all
    /// clash.
    int most(const Patches* set);

    /// The same, made exact on small sets by branching; falls back to `most` after some thousands of steps.
    int most_by_branching(const Patches* set);

private:
    int fewest_lines(const std::vector<int>& members);
    int largest_matching(const std::vector<int>& members);
    bool layers(const std::vector<int>& left);
    bool augment(int i);
    int cover(const std::vector<int>& members, bool from_the_end);
    int branch(std::vector<int> members, int taken, int best);

    const Board& board_;
    std::vector<char> in_; // [patch] of the set asked about.
    std::vector<int> mate_, layer_, members_;
    std::vector<const int*> tried_; // [patch] how far its neighbours were tried.
    int steps_ = 0;
};

} // namespace motley::placement
