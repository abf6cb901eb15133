#pragma once
/// How even a spread can be at best: a floor that is proved, so that a user reads "within 1 % of the best
/// possible".
/// In: a brief and an assignment, for its counts. Out: a ratio as layout::Score has it. Method:
/// bound_kernel.h. Rules only help: two uses of one fabric never lie nearer than they allow. Pins, wishes
/// other than spread and rules between different fabrics are left aside: the floor holds with them all the
/// more. Threads: none, no state. The same bits everywhere.

#include <optional>

#include "layout/brief.h"
#include "layout/layout.h"

namespace motley::placement {

/// No assignment that keeps the brief's rules and uses every fabric as often as `counted` does has a `spread`
/// below this; rounded down to 6 digits after the point. Rounding in the arithmetic stays below 1e-9 of it,
/// which is taken off. Empty where there is none worth telling: units of several patches, no fabric used
/// twice, or nothing above 0 found. About 0.015 s for 11 x 13, 0.12 s for 20 x 24, 0.06 s
/// for 100 x 100.
std::optional<double> spread_bound(const layout::Brief& brief, const layout::Assignment& counted);

} // namespace motley::placement
