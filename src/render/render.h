#pragma once
/// Draws a placed top: the believable preview from the photographed cloth, the values, the squint, the flat map, the sheet of candidates.
/// In: a layout and, for each fabric, the picture of its cloth (or none: then a solid of its colour). Out: rasters; nothing is written.
/// Units: pixels per inch of the finished top. Threads: rasters do not depend on the number of threads.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "photo/photo.h"

namespace motley::render {

/// The photographed cloth of one fabric.
struct Cloth {
    photo::LinearImage picture;     ///< Empty (width 0) for a solid of the fabric's colour.
    measure::Length width;          ///< How much cloth the picture shows from left to right.
};

struct Options {
    int longest_side = 2400; ///< Of the top in the picture, pixels, [64, 20000]; at least 4 pixels to a unit.
    int threads = 1;
};

/// Photographed cloth at true scale on a quiet wall: each patch cut from its own place of the cloth, turned as sewn, mirrored nowhere,
/// seams shaded.
photo::Raster draw_preview(const layout::Layout& layout, const std::vector<Cloth>& cloths, const Options& options = {});

/// Each patch in the grey of its fabric's L*; one channel; the top alone, edge to edge.
photo::Raster draw_values(const layout::Layout& layout, const Options& options = {});

/// The top as seen from across the room: blurred in linear light, the blur normalised at the borders.
photo::Raster draw_squint(const layout::Layout& layout, const std::vector<Cloth>& cloths, const Options& options = {});

/// Each patch in the one sRGB colour of its fabric, edge to edge, no shading, whole pixels per unit: pixels can be counted.
/// A diagonal gives its pixels to its two sides in turn, so that areas come out even.
photo::Raster draw_flat(const layout::Layout& layout, const Options& options = {});

/// Numbered small previews with their scores, best first.
photo::Raster draw_candidates(const std::vector<layout::Layout>& layouts, const std::vector<Cloth>& cloths, const Options& options = {});

} // namespace motley::render
