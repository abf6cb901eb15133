#pragma once
/// What gets its fabrics after the units: cornerstones and pieced borders; and whether those, or a plain
/// border and the units beside it, show one fabric where they touch.
/// A place for which the plan names a single fabric is a background: it meets itself as it must. Nor is it
/// asked of a patch of a border that it differs from its own mirror image.

#include <string>
#include <utility>
#include <vector>

#include "layout/layout.h"
#include "unit/plane.h"

namespace motley::layout {

/// One place for a fabric of several.
struct Extra {
    int border = -1;              ///< -1: a cornerstone.
    int number = 0;               ///< Into Layout::cornerstones, or into its border's list.
    int input = 0;                ///< Of a border's unit: which of its pieces.
    std::vector<FabricId> takes;  ///< It may show these; rising.
    std::vector<int> touches;     ///< Extras that it must differ from; rising.
    std::vector<FabricId> beside; ///< What else it touches shows these; rising.
    /// The first of those that show one fabric with it, being its images or cut from one piece; often itself.
    int same_as = 0;
    unit::Point middle; ///< On the top, inches.
};

/// In the order of Layout's lists, cornerstones first. Looks at the units as they lie, and at no extra's
/// fabric.
std::vector<Extra> extras_of(const Layout& layout);

/// Patches of units (as Assignment numbers them) that touch a plain border, and the border's fabric. Not
/// where the fabric is exempt or touching is free.
std::vector<std::pair<int, FabricId>> patches_at_borders(const Layout& layout);

/// A sentence for every border and fabric that touches itself there. Cornerstones keep from their neighbours
/// as far as they can, but are not told.
std::vector<std::string> broken_borders(const Layout& layout);

} // namespace motley::layout
