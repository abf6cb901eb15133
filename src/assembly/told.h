#pragma once
/// A pressing plan in words. Private to this folder.

#include "assembly/pressing.h"

namespace motley::assembly {

/// Fills the arrows and the sentences from the seams.
void tell(const layout::Layout& layout, const Rows& rows, Pressing& pressing);

} // namespace motley::assembly
