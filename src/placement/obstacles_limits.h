#pragma once
#include <vector>

#include "fault/fault.h"
#include "layout/brief.h"

namespace motley::placement {

/// What the size of the top, the counts and the rules alone make impossible, pins aside: one, two and three
/// fabrics, the number of different fabrics, partners for contrast. Closed formulas, at any size.
std::vector<Problem> limits(const layout::Brief& brief);

} // namespace motley::placement
