#pragma once
#include <string>
#include <vector>

#include "fault/fault.h"
#include "placement/obstacles_search.h"

namespace motley::placement {

/// "row 3, column 4"
std::string place_of(const layout::Brief& brief, int patch);

/// The rules that are on, as the plan writes them: "touching": "corner" and "line": true.
std::string rules_that_hold(const layout::Brief& brief);

/// Fabrics for which the pins leave too little room: the most that fits and the number asked, one problem for
/// each fabric.
struct Crowd {
    std::vector<Problem> problems;
    std::vector<int> in_the_way; ///< Patches; without the pin of one of them, a fabric would fit.
};
Crowd crowded_by_pins(const Board& board);

/// What all pins, counts and rules make impossible together: tried out within the work given, told by the
/// fewest pins and counts that cannot stand together, with the smallest change that was found to do. At most
/// one problem.
std::vector<Problem> contradiction(const Board& board, std::int64_t work);

} // namespace motley::placement
