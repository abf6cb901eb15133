#pragma once
/// Fabrics for what lies between and around the units, where the plan names several to mix: cornerstones and
/// pieced borders.

#include "layout/layout.h"

namespace motley::placement {

/// As even as can be; along a row of cornerstones or a border none comes back within two places, where there
/// are fabrics enough. Chance starts from the layout's seed. Expects fabrics of the palette, or "*".
void mix_extras(layout::Layout& top);

} // namespace motley::placement
