#pragma once
/// A finished top on a quiet wall.

#include <span>
#include <vector>

#include "render/bolt.h"
#include "render/draft.h"
#include "render/render.h"

namespace motley::render {

/// The tone of the wall, also of a sheet of several tops.
inline constexpr float wall_light[3] = {0.807f, 0.791f, 0.761f};

/// Cloth for tops that are to hang on a wall.
Bolts unroll_to_hang(std::span<const Draft> drafts, const std::vector<Cloth>& cloths, int threads);

/// The top with `wall` pixels of wall around it.
photo::Raster hang(const Draft& draft, const Bolts& bolts, int wall, int threads);

} // namespace motley::render
