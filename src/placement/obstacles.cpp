// What can be proved impossible before searching, the plainest proof first.

#include <optional>

#include "placement/batch.h"
#include "placement/obstacles_advice.h"
#include "placement/obstacles_limits.h"
#include "placement/obstacles_pins.h"
#include "placement/placement.h"
#include "placement/symmetric.h"

namespace motley::placement {

namespace {

/// Words touched: a board of 5 x 5 is decided with far less, a top of 11 x 13 that can be laid out needs some
/// ten thousands.
std::int64_t work_for(const Board& board) {
    return board.patches <= 64 ? 60'000'000 : 20'000'000;
}

} // namespace

std::vector<Problem> obstacles(const layout::Brief& brief) {
    if (brief.kit) return batch_obstacles(brief);
    if (brief.symmetry != layout::Symmetry::none)
        if (std::vector<Problem> met = symmetry_obstacles(brief, layout::orbits(brief, brief.symmetry));
            !met.empty())
            return met;
    std::vector<Problem> found = limits(brief);
    const std::optional<Board> board = Board::lay_out(brief);
    if (!board) return found;
    std::vector<int> in_the_way;
    if (found.empty()) { // A limit that is broken without pins is broken with them.
        Crowd crowd = crowded_by_pins(*board);
        found = std::move(crowd.problems);
        in_the_way = std::move(crowd.in_the_way);
    }
    if (found.empty()) return contradiction(*board, work_for(*board));
    // What does is one change for all of them; the others keep their own limit.
    found.front().remedy = Advice(brief, work_for(*board)).all(in_the_way);
    return found;
}

} // namespace motley::placement
