#pragma once
/// The handout of a placed top, from its lists and a picture of it.

#include <cstddef>
#include <vector>

#include "layout/layout.h"
#include "photo/photo.h"
#include "pipeline/lists.h"

namespace motley::pipeline {

/// `handout.pdf`.
std::vector<std::byte> handout_of(const layout::Layout& layout, const Lists& lists,
                                  const photo::Raster& picture);

} // namespace motley::pipeline
