#pragma once
/// Fabrics for what lies between and around the units, where the plan names several to mix: cornerstones and
/// pieced borders; and units at the edge that would show the fabric of the border beside them.

#include "layout/layout.h"

namespace motley::placement {

/// As even as can be, and none touching itself where that is found; of what is left, the same fabric far from
/// itself. On a symmetric top images show one fabric. Chance starts from the layout's seed; the units are
/// placed already. layout::broken_borders tells what could not be.
void mix_extras(layout::Layout& top);

/// Exchanges patches at the edge that show the fabric of the plain border they touch with others of the same
/// place in the unit, keeping every rule, as little as can be against the wishes. Units sewn in batches
/// change places whole.
void keep_off_borders(layout::Layout& top, const layout::Brief& brief);

} // namespace motley::placement
