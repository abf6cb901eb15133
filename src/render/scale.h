#pragma once
/// How large a top is in a picture.

#include "layout/plan.h"

namespace motley::render {

struct Scale {
    double ppi = 0;            ///< Pixels per inch of the finished top.
    double unit = 0;           ///< Side of a unit, pixels.
    int width = 0, height = 0; ///< Of the whole top, to the nearest pixel.

    bool operator==(const Scale&) const = default;
};

/// The largest at which the top's longer side is no longer than `longest_side` [64, 20000] and a unit (on
/// point: half its diagonal) is a whole number of pixels, at least 4 (3); an even number where something
/// halves it. Where all strips and borders come out as whole pixels at no less than 4/5 of that, or all edges
/// inside the units at no less than 9/10, so much smaller. Borders around units on point cannot: there as
/// nearly as they do.
Scale scale_of(const layout::Plan& plan, int longest_side);

} // namespace motley::render
