// What can be proved impossible before searching, the plainest proof first.

#include <optional>

#include "placement/batch.h"
#include "placement/obstacles_limits.h"
#include "placement/obstacles_pins.h"
#include "placement/placement.h"
#include "placement/symmetric.h"

namespace motley::placement {

namespace {

/// Words touched: a board of 5 x 5 is decided with far less, a top of 11 x 13 that can be laid out needs some
/// ten thousands.
std::int64_t work_for(const Board& board) {
    return board.patches <= 64 ? 60'000'000 : 4'000'000;
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
    if (found.empty())
        found = crowded_by_pins(*board); // A limit that is broken without pins is broken with them.
    if (found.empty()) found = contradiction(*board, work_for(*board));
    return found;
}

} // namespace motley::placement
