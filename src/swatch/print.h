#pragma once
/// What order the print of a cloth has.

#include "palette/palette.h"
#include "swatch/cloth.h"

namespace motley::swatch {

/// Of a cloth evenly lit (`even_out`) that is `width` from left to right. A cloth of nearly one colour has no
/// print. One-way is suggested where figures stand more one way up than chance would have it: of prints that
/// repeat, where nearly all do; never of stripes, checks and plaids, which people turn (common practice, no
/// source).
palette::Print print_of(const Cloth& cloth, measure::Length width);

} // namespace motley::swatch
