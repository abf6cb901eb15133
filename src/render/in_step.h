#pragma once
/// Where to lay the next copy of a photo whose print repeats as measured.

#include <optional>

#include "palette/print.h"
#include "photo/photo.h"
#include "render/repeat.h"

namespace motley::render {

/// Copies that lie a whole number of repeats apart, level and upright, rounded to pixels by as little as can
/// be: a gingham keeps its checks however far it is continued. Nothing where the print repeats one way only,
/// or not surely, or where no sum of its steps lies level and another upright within the photo; then
/// `repeat_of` judges by eye. `ppi` is the scale of `cloth`. Expects at least 6 x 6 pixels.
std::optional<Repeat> repeat_in_step(const photo::LinearImage& cloth, const palette::Print& print,
                                     double ppi);

} // namespace motley::render
