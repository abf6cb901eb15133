#pragma once
/// The patches laid out, one row of pixels at a time: cloth from the bolts, turned as sewn, edge against
/// edge. No light or shade yet.

#include <span>
#include <vector>

#include "render/bolt.h"
#include "render/hand.h"

namespace motley::render {

/// Refers to what it is made of; that must outlive it. May be read from several threads.
class Patchwork {
public:
    Patchwork(const layout::Layout& layout, const Grid& grid, const Bolts& bolts, const Hand& hand);

    /// Row y of the top, y in [-margin, height + margin), from x = -margin: three floats a pixel, width + 2
    /// margin of them. Beyond the top's edge the outer patches simply go on.
    void row(int y, std::span<float> out) const;

private:
    void strip(int row, int y, std::span<float> out) const;
    void unit_row(int row, int column, int y, int from, int to, float* out) const;

    const layout::Layout& layout_;
    const Grid& grid_;
    const Bolts& bolts_;
    const Hand& hand_;
    std::vector<Cut> cuts_;
    std::vector<std::vector<float>> coverages_;
};

} // namespace motley::render
