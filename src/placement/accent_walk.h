#pragma once
/// Improves one scatter of one fabric by moving one use at a time: a tabu search.
/// Asking for the best move scans every pair of a use and a free cell, a row of weights at a time, so that
/// the compiler makes vectors of it; making it adds and subtracts two rows. All sums are whole numbers.

#include <cstdint>
#include <span>
#include <vector>

#include "placement/chance.h"
#include "placement/ground.h"

namespace motley::placement {

class AccentWalk {
public:
    AccentWalk(const Ground& ground, Chance& chance);

    /// Starts anew at `cells`, none twice, and forgets what was forbidden.
    void start(std::span<const int> cells);

    /// Moves one use to a free cell, the best such move that is not forbidden, ties by chance; for a while
    /// the use may not move on, nor any use come back to the cell it left. Returns false when every move is
    /// forbidden.
    bool step();

    std::int64_t half_cost() const { return half_cost_; }   ///< Over unordered pairs.
    const std::vector<int>& cells() const { return used_; } ///< In no order.

    /// Adds uses, to `count` in all: each where the others push least, ties by chance.
    void fill(int count);

private:
    static constexpr std::size_t near_count = 8;

    void add(int cell);
    std::int32_t least_nearby(int cell) const;
    int pick_least(const std::int32_t* row, std::int32_t least);

    const Ground& ground_;
    Chance& chance_;
    std::vector<int> used_;
    std::vector<std::int32_t> push_;    // By cell: the weights against all uses.
    std::vector<std::int32_t> open_;    // By cell: `push_` where a use may go, `closed` elsewhere.
    std::vector<std::int32_t> until_;   // By cell: the last step at which no use may go there.
    std::vector<std::int32_t> held_;    // By place in `used_`: the last step at which the use may not go.
    std::vector<std::int32_t> nothing_; // By cell: 0.
    std::vector<int> near_;             // By cell: the `near_count` cells that weigh most against it.
    std::vector<std::int32_t> beyond_;  // By cell: the heaviest weight that is not among those.
    std::int32_t heaviest_ = 0;
    std::int64_t half_cost_ = 0;
    std::int32_t steps_ = 0;
};

} // namespace motley::placement
