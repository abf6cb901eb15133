#pragma once
/// Pictures made small for files that are sent around.

#include <cstddef>
#include <vector>

#include "photo/photo.h"

namespace motley::photo {

/// A baseline JPEG file, colours at full resolution. `quality` as libjpeg counts it, [1, 100]. The same
/// raster gives the same bytes.
std::vector<std::byte> encode_jpeg(const Raster& raster, int quality = 86);

} // namespace motley::photo
