#pragma once
/// The preview made small enough for a file that is sent around. Private to this folder.

#include "photo/photo.h"

namespace motley::handout {

/// Averaged in linear light over whole pixels until the longer side is at most `side`, or nearly: pixels are
/// merged by whole numbers.
photo::Raster reduced(const photo::Raster& picture, int side);

} // namespace motley::handout
