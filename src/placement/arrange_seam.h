#pragma once
#include <optional>
#include <vector>

#include "unit/plane.h"

namespace motley::placement {

/// The direction of the seam between two patches of one unit, an angle in [0, pi); empty where they have
/// none.
std::optional<double> seam_between(const std::vector<unit::Point>& one,
                                   const std::vector<unit::Point>& other);

} // namespace motley::placement
