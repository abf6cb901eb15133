#pragma once
/// Finds the card's markers in a picture. Internal to `scene`.

#include <vector>

#include "photo/photo.h"
#include "scene/card.h"

namespace motley::scene {

/// A marker in the picture.
struct Seen {
    CardKind kind = CardKind::letter;
    int corner = 0; ///< Of the card, clockwise from its top left.
    Quad corners;   ///< The marker's, from its own top left; to a small part of a pixel.
};

/// All there are in the picture, which is in linear light; `coarse` is the same picture `factor` times
/// smaller. At most one cell of a marker may be misread.
std::vector<Seen> find_markers(const photo::LinearImage& picture, const photo::LinearImage& coarse,
                               int factor);

/// How many dark squares on light there are that may be markers seen too small to be read.
int dark_squares(const photo::LinearImage& picture);

} // namespace motley::scene
