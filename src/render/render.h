#pragma once
/// Draws a placed top: the believable preview from the photographed cloth, the values, the squint, the flat
/// map, the sheet of candidates. In: a layout and, for each fabric in the same order, the picture of its
/// cloth (or none: then a solid of its colour). Out: rasters; nothing is written. Words: a *bolt* is cloth
/// unrolled, large enough for every patch of a fabric; a *cut* is where a patch lies on it. Units: pixels per
/// inch of the finished top. Threads: rasters do not depend on the number of threads.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "photo/photo.h"

namespace motley::render {

/// The photographed cloth of one fabric.
struct Cloth {
    photo::LinearImage picture; ///< Empty (width 0) for a solid of the fabric's colour.
    measure::Length width;      ///< How much cloth the picture shows from left to right.
};

struct Options {
    int longest_side = 1600; ///< Of the top in the picture, pixels, [64, 20000]; at least 4 pixels to a unit.
    int threads = 1;
};

/// Pixels per inch of the finished top in the preview: what a picture file of it should say.
double pixels_per_inch(const layout::Layout& layout, const Options& options = {});

/// Longest side, in pixels, beyond which a photo of cloth adds nothing to the preview: twice what the preview
/// shows, [64, 4096]. A photo of `shape` (height over width) and `width` of cloth may be reduced to this
/// before it is handed over. Memory goes with its square.
int detail_needed(const layout::Plan& plan, measure::Length width, double shape, const Options& options = {});

/// Photographed cloth at true scale on a quiet wall: each patch cut from its own place of the cloth, turned
/// as sewn, mirrored nowhere, seams shaded.
photo::Raster draw_preview(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                           const Options& options = {});

/// Each patch in the grey of its fabric's L*; one channel; the top alone, edge to edge.
photo::Raster draw_values(const layout::Layout& layout, const Options& options = {});

/// The top as seen from across the room, half as large: blurred in linear light, the blur normalised at the
/// borders.
photo::Raster draw_squint(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                          const Options& options = {});

/// Each patch in the one sRGB colour of its fabric, edge to edge, no shading: pixels can be counted. A
/// diagonal gives its pixels to its two sides in turn, and pixels on seams go to one side or the other so
/// that every fabric has as many as its share of the top, to the pixel where its seams allow.
photo::Raster draw_flat(const layout::Layout& layout, const Options& options = {});

/// Numbered small previews with their scores, in the order given. The layouts are of one plan and palette; at
/// least one.
photo::Raster draw_candidates(const std::vector<layout::Layout>& layouts, const std::vector<Cloth>& cloths,
                              const Options& options = {});

} // namespace motley::render
