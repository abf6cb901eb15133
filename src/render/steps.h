#pragma once
/// Draws what happens at the sewing machine: one picture for each step of a recipe. In: a step of
/// unit::sew. Out: a raster, lines and soft tints on white. Threads: pure functions.

#include <string>
#include <vector>

#include "photo/photo.h"
#include "unit/sewn.h"

namespace motley::render {

/// The things before the step, an arrow, the things after it, all at one scale, with the step's words above
/// and its outcome beneath. Each input has its tint and its letter: A is the first of `inputs`; cloth seen
/// from the back is paler and hatched, seams are dashed, cuts are red, pencil lines thin. `width` in pixels,
/// [400, 4000].
photo::Raster draw_step(const unit::Step& step, const std::vector<unit::Input>& inputs, int width = 1200);

/// "A" to "Z", then "A2", ...
std::string letter_of(int input);

} // namespace motley::render
