#pragma once
/// Decides small boards outright, and larger ones as far as a given amount of work goes.

#include <cstdint>
#include <vector>

#include "placement/obstacles_filling.h"

namespace motley::placement {

enum class Answer : std::uint8_t { possible, impossible, unknown };

struct Finding {
    Answer answer = Answer::unknown;
    std::vector<int>
        filling; ///< With possible: the fabric of each patch. Turns that are open are not decided by it.
    int empty_patch = -1; ///< With impossible: a patch for which the pins and counts left nothing at once; -1
                          ///< when it took trying.
    bool tried = false;   ///< With impossible: it took trying, not only plain consequences.
};

/// Work is counted in words touched; some hundred millions make a second.
class Search {
public:
    Search(const Board& board, const Demand& demand, std::int64_t work);

    /// Plain consequences, a flow of patches to numbers, then each choice of patches with few of them tried
    /// one step deep, then trying to the end by halves: a choice kept, or forbidden.
    Finding decide();

    std::int64_t work_left() const { return work_; }

private:
    bool is_beyond_halving() const;
    bool is_pinned() const;
    bool can_be_deduced(const Filling& filling);
    bool probe(Filling& filling);
    Answer halve(Filling& filling);
    int narrowest(const Filling& filling) const;
    std::vector<int> by_need(const Filling& filling, int patch) const;
    void forbid_with_its_like(Filling& filling, int patch, int f) const;
    bool spend();

    const Board& board_;
    const Demand& demand_;
    Packing packing_;
    std::int64_t work_, step_cost_;
    std::vector<int> found_;
};

/// A filling that meets the brief, every pair of patches that may clash counted (turns fixed); found or not
/// within the work given.
Finding decide(const layout::Brief& brief, std::int64_t work);

} // namespace motley::placement
