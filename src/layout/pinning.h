#pragma once
/// Puts the pins of a plan into a brief, and looks whether they can stand together.

#include <vector>

#include "layout/brief.h"
#include "layout/complaints.h"
#include "layout/tally.h"

namespace motley::layout {

/// Fills `pinned`, `pinned_turn` and `turns` of a brief that is otherwise complete but for its counts and
/// aim. Complaints: pins outside the top, unknown fabrics, fabrics that the role does not take, two pins that
/// say different things of one cell, and pins that break a rule whatever the rest of the top is.
PinUses pin_down(const Plan& plan, const std::vector<std::vector<char>>& takers, Brief& brief,
                 Complaints& complaints);

} // namespace motley::layout
