#pragma once
/// From the photos of a palette to fabrics with colours and, where pictures are wanted, their cloth.

#include <filesystem>
#include <string>
#include <vector>

#include "palette/palette.h"
#include "pipeline/pipeline.h"
#include "render/render.h"

namespace motley::pipeline {

/// Longest side to which a photo is reduced for measuring, in pixels: some 70 to the inch of the usual photo,
/// enough for the dots of a pin dot to be told from their ground.
inline constexpr int measuring_detail = 370;
/// The same where a picture shows a print from near.
inline constexpr int drawing_detail = 1024;

struct Measured {
    std::vector<render::Cloth> cloths; ///< By fabric; empty when only colours were wanted.
    std::vector<std::string> remarks;
};

/// Gives every fabric of the palette its colour and value. A recorded colour is trusted while its photo is
/// unchanged. With `drawn_for`, the cloth is kept in the detail that a picture of that plan shows; without,
/// photos whose recorded colour holds are not decoded. Photos are read side by side; all that cannot be read
/// are named in one Fault.
Measured measure_fabrics(palette::Palette& palette, const layout::Plan* drawn_for, const Common& common);

/// Runs `work(0) .. work(count - 1)` on up to `threads` threads; the first exception by index is thrown on.
void in_parallel(int count, int threads, const std::function<void(int)>& work);

int threads_of(const Common& common);

} // namespace motley::pipeline
