#pragma once
/// A top with the right number of everything, in no order at all: for what does not depend on where units
/// lie, such as what they take.

#include <vector>

#include "layout/layout.h"

namespace motley::layout {

/// Rules, wishes and pins are not looked at; stock is taken to be enough. `fabrics` all carry a colour.
/// Faults as `make_brief`.
Layout heaped(const Plan& plan, const std::vector<palette::Fabric>& fabrics);

} // namespace motley::layout
