#pragma once
/// The cloth of every fabric of a top, and the place from which each patch is cut.

#include <span>
#include <vector>

#include "render/grid.h"
#include "render/render.h"

namespace motley::render {

/// Where a patch's cell lies on its fabric's bolt, pixels; the cloth is upright at turn 0.
struct Cut {
    int x = 0, y = 0;
};

/// Unrolled cloth, by FabricId; 0 pixels wide where no top uses the fabric. Around a cell that is cut there
/// are `margin` pixels of cloth more on every side.
struct Bolts {
    std::vector<photo::LinearImage> cloth;
    int margin = 0;
};

/// Unrolls the cloth that each of `layouts` needs; they share plan and palette, and `grid` is theirs. A photo
/// with room for enough different places is cut straight from; a smaller one is continued. Seeded by the
/// first layout's seed and the fabric's id.
Bolts unroll(std::span<const layout::Layout> layouts, const std::vector<Cloth>& cloths, const Grid& grid,
             int margin, int threads);

/// A place on its fabric's bolt for every patch. No two patches of a fabric are the same cut as long as the
/// bolt has places left.
std::vector<Cut> cut_out(const layout::Layout& layout, const Grid& grid, const Bolts& bolts);

/// `count` different places on a grid of (free_x + 1) x (free_y + 1), well spread however many are taken (the
/// additive recurrence of M. Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018, from
/// memory); places repeat only when there are fewer than `count`.
std::vector<Cut> spread_places(int count, int free_x, int free_y, std::uint64_t seed);

} // namespace motley::render
