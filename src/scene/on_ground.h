#pragma once
/// Pieces on plain paper or on a table. Internal to `scene`.

#include <vector>

#include "scene/scene.h"

namespace motley::scene {

/// What lies on the ground of a picture.
struct Lying {
    By by = By::edge_to_edge;
    std::vector<Piece> pieces; ///< In no particular order.
    int several = 0;           ///< Smaller pieces than asked for, where there are some.
    int others = 0;            ///< Patches as large as pieces that have no four straight sides.
};

/// Looks on the ground, and on a sheet of paper where one lies on it. `least`: share of the picture a piece
/// has to cover.
Lying on_ground(const photo::LinearImage& picture, double least);

/// Whether there is anything with four straight sides on a plain ground. Cheaper.
bool anything_lies(const photo::LinearImage& picture, double least);

} // namespace motley::scene
