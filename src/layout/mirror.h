#pragma once
/// Which patches of a top must show one fabric so that the whole is symmetric.

#include <string>
#include <vector>

#include "layout/brief.h"

namespace motley::layout {

/// Patches that are each other's images, and the turns that go with them.
struct Orbits {
    std::vector<std::vector<int>> patches; ///< Each in rising order; by their first patch.
    std::vector<int> turns;                ///< By cell.
    /// Not empty when the units themselves stand in the way: a unit on the axis that is not its own mirror
    /// image, a unit whose mirror image is no turn of it. For people.
    std::string obstacle;
};

/// Turns are those of the brief for the first cell of each orbit (0 where the search would choose); images
/// follow. Without symmetry every patch is alone.
Orbits orbits(const Brief& brief, Symmetry symmetry);

} // namespace motley::layout
