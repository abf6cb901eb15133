#pragma once
/// Several fabrics in one photo, cut out into a palette.

#include "pipeline/pipeline.h"

namespace motley::pipeline {

/// See `swatch`. Expects request.pieces > 0.
Swatched split(const SwatchRequest& request, palette::Palette kept);

} // namespace motley::pipeline
