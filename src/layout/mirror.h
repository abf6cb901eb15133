#pragma once
/// Which patches of a top must show one fabric so that the whole is symmetric.

#include <string>
#include <vector>

#include "layout/brief.h"

namespace motley::layout {

/// Cells that are each other's images, and the ways in which they can be turned together.
struct Turning {
    std::vector<int> cells;
    std::vector<std::vector<int>> ways; ///< [way][cell, as in `cells`]; all give the same orbits of patches.
};

/// Patches that are each other's images, and the turns that go with them.
struct Orbits {
    std::vector<std::vector<int>> patches; ///< Each in rising order; by their first patch.
    std::vector<int> turns;                ///< By cell.
    std::vector<Turning> turnings;         ///< Where there is more than one way.
    /// Not empty when there is no such top at all: a unit on the axis that is not its own mirror image, a
    /// unit whose mirror image is no turn of it, an image where no unit is, pins that differ. For people.
    std::string obstacle;
    std::string remedy; ///< Only where pins are the obstacle.
    /// Two cells that show one fabric too near each other, however their orbit is turned; else -1.
    int near = -1, near_to = -1;

    bool possible() const { return obstacle.empty() && near < 0; }
};

/// The turns of images follow from the first cell of each orbit, unless a pin says another's. Where the
/// search would choose, a turn is taken that keeps images from each other (a fabric that is exempt may come
/// near itself). Without symmetry every patch is alone.
Orbits orbits(const Brief& brief, Symmetry symmetry);

} // namespace motley::layout
