#pragma once
#include "placement/obstacles_filling.h"

namespace motley::placement {

/// Whether the numbers of fabrics can be shared out over the patches, each patch taking one of the fabrics
/// that it may still show and nothing else asked: a flow of patches to counts (Ford and Fulkerson 1956). It
/// fails exactly where some fabrics together are asked for more often than there are patches for them, or
/// some patches are more than all that they may show (Hall 1935).
bool numbers_flow(const Board& board, const Demand& demand, const Filling& filling);

} // namespace motley::placement
