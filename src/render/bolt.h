#pragma once
/// The cloth of every fabric of a top, and the place from which each piece is cut. Words: a *piece* is cut
/// cloth; of a sewn unit several patches may come from one piece, each from its place in it.

#include <span>
#include <vector>

#include "render/draft.h"
#include "render/render.h"

namespace motley::render {

/// Unrolled cloth, by FabricId; 0 pixels wide where no top uses the fabric.
struct Bolts {
    std::vector<photo::LinearImage> cloth;
    int margin = 0; ///< Pixels of cloth more on every side of a piece.
};

/// Unrolls the cloth that each of `drafts` needs; they share palette and scale. A photo with room for enough
/// different places is cut straight from; a smaller one is continued. Seeded by the first layout's seed and
/// the fabric's id.
Bolts unroll(std::span<const Draft> drafts, const std::vector<Cloth>& cloths, int margin, int threads);

/// By shape: from pixels of the top to pixels of its fabric's bolt, a rotation and a shift. What lies on the
/// grain comes out pixel for pixel. No two pieces of a fabric that are alike are the same cut as long as the
/// bolt has places left.
std::vector<unit::Motion> cut_out(const Draft& draft, const Bolts& bolts);

struct Place {
    int x = 0, y = 0;
};

/// `count` different places on a grid of (free_x + 1) x (free_y + 1), well spread however many are taken (the
/// additive recurrence of M. Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018, from
/// memory); places repeat only when there are fewer than `count`.
std::vector<Place> spread_places(int count, int free_x, int free_y, std::uint64_t seed);

/// Whether a motion turns by whole quarters.
bool on_grain(const unit::Motion& motion);

} // namespace motley::render
