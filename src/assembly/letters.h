#pragma once
/// One short name for each fabric, readable without colour; the same on every map, list and card.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "layout/top.h"

namespace motley::assembly {

/// By FabricId. The fabrics that the top shows come first, the darkest is A, equally dark ones in palette
/// order; then those that it does not show, in palette order. A to Z without I and O, which read as figures;
/// then A2 to Z2, A3 and so on.
std::vector<std::string> letters(const layout::Layout& layout);
std::vector<std::string> letters(const layout::Layout& layout, const layout::Top& top); ///< Laid out already.

} // namespace motley::assembly
