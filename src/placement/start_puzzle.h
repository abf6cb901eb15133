#pragma once
/// A top's patches as a list colouring: what `Deduction` solves and `balance` walks about in.

#include <cstddef>
#include <vector>

#include "placement/model.h"

namespace motley::placement {

/// What is asked: a list colouring. Patches are numbered from 0 within the question.
struct Puzzle {
    int fabrics = 0;
    std::vector<std::vector<int>> choices; ///< [patch] fabrics it may show, rising.
    std::vector<std::vector<int>>
        neighbours;                      ///< [patch] those that may not show a fabric alike with its own.
    std::vector<std::vector<int>> alike; ///< [fabric] fabrics that count as the same; may be none.
    /// Sets of patches that are all neighbours of one another. Of `kinds` fabrics, all but kinds - size show.
    std::vector<std::vector<int>> groups;
    int kinds = 0;                            ///< Fabrics that are taken at all; only looked at with groups.
    std::vector<std::vector<int>> mates;      ///< [patch] those that must contrast with it; may be empty.
    std::vector<std::vector<char>> contrasts; ///< [f][g]; only looked at with mates.
    std::vector<int> most;                    ///< [fabric] so often at most; empty: as often as it will.
    std::vector<int> wanted;                  ///< [patch] the fabric to try first, or -1.
    std::vector<int> needed; ///< [fabric] how often it is asked for: what is needed most is tried first.
    /// Two patches that are neighbours if a third, `node`, shows `fabric`.
    struct Meeting {
        int one, other, node, fabric;
    };
    std::vector<Meeting> meetings;
    /// Patches from here on are not chosen for: they follow from the others, or do not matter.
    int chosen = 0;
    std::vector<int> order; ///< The chosen patches, those that come first last; empty: as chance has it.
    /// Further conditions, each at least one of its literals: 2 * (patch * fabrics + fabric), 1 more where
    /// the patch shall not show the fabric. `clause_ends[k]` is where the k-th ends.
    std::vector<int> literals;
    std::vector<std::size_t> clause_ends;
};

/// Finds `groups`: sets of patches that are all neighbours of one another and show nearly all of `kinds`.
/// Every pair of neighbours is looked at once: it is grown by later patches as far as it goes.
void find_groups(Puzzle& puzzle);

/// Which fabrics each patch may show, and all there is about fabrics.
Puzzle puzzle_without_neighbours(const Model& model, const layout::Assignment& start);

/// The whole top with the units turned as given. Counts are only told by `needed`; `wanted` is `start`.
Puzzle puzzle_of(const Model& model, const layout::Assignment& start);

/// The same with the turns that the brief leaves open to be chosen, too: after the patches come the open
/// cells in their order, showing `model.fabrics` + turn.
Puzzle puzzle_with_turns(const Model& model, const layout::Assignment& start);

} // namespace motley::placement
