#pragma once
/// Cloth right sides together: what lies below, what lies on it face down, and the stitches through both.
/// Private to this folder. Units: inches.

#include <optional>
#include <vector>

#include "unit/flat.h"

namespace motley::unit {

struct Stitches {
    Segment at;
    Line seam; ///< Along them; the cloth to keep is to the right, the allowance to the left.
};

struct Stack {
    Flat bottom;
    std::vector<Flat> tops; ///< As they lie: seen from behind.
    std::vector<Stitches> stitches;
};

Stack right_of(const Stack& stack, const Line& line); ///< All layers cut, what is to the right.

double showing(const Stack& stack);
double allowances(const Stack& stack);
Box box(const Stack& stack); ///< Around all layers.

/// The stitches that hold the stack when it is opened: all others lie in their allowance. Null when there are
/// none: not sewn, or sewn shut.
const Stitches* hinge(const Stack& stack);

/// Opened along its hinge and pressed.
Flat opened(const Stack& stack, const Stitches& hinge, Press press);

} // namespace motley::unit
