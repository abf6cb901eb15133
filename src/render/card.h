#pragma once
/// The reference card as a page to be printed, and photos with the pieces found in them marked. In: where
/// everything on the card is, from `scene`. Out: a PDF, the same bytes every time; rasters.

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "photo/photo.h"
#include "scene/card.h"

namespace motley::render {

/// A page to be printed at 100 %, in black and greys. The small card stands on a page of `paper` (letter or
/// A4), to be cut out. Expects `paper` to be no small card.
std::vector<std::byte> print_card(scene::CardKind kind, scene::CardKind paper);

/// The photo with a numbered outline around each piece.
photo::Raster draw_found(const photo::LinearImage& picture, std::span<const scene::Quad> pieces,
                         const std::vector<std::string>& names);

} // namespace motley::render
