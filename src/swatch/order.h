#pragma once
/// The order of a print: the moves by which it comes upon itself.

#include <optional>
#include <vector>

#include "swatch/echo.h"

namespace motley::swatch {

/// A print repeats by two moves (and all their sums), a stripe by one across its bands, anything else by
/// none.
struct Order {
    std::vector<Move> steps;  ///< The shortest there are. The first is the nearest to level that leads to the
                              ///< right, the second leads down.
    std::optional<Move> band; ///< Of stripes: along the bands, of length 1, y > 0 or level to the right.
    double sure = 0;          ///< [0, 1]: found, how alike the places are that the steps lead to; not found,
                              ///< how unlike the most alike ones.
};

/// Steps shorter than 3 pixels or longer than three fifths of the picture are not found. A print whose places
/// differ by chance (dots in one of two reds) repeats as far as most of the difference goes: a step must
/// lead to places almost as much alike as any two in the cloth, and all its multiples in reach must, too; of
/// all such pairs of steps the one that spans the least area.
Order find_order(const Echo& echo);

} // namespace motley::swatch
