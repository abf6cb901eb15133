#pragma once
/// A picture of cloth made ready for counting its colours: reduced to about a quarter of a million pixels, in
/// OKLab, the weave smoothed, uneven light taken out.

#include <cstdint>
#include <optional>
#include <vector>

#include "colour/space.h"
#include "photo/photo.h"

namespace motley::swatch {

/// In `Cloth` and `Tone` a and b of OKLab are doubled: distances then follow CIEDE2000 more closely, above
/// all between greys.
inline constexpr float chroma_scale = 2.0F;

/// OKLab of every pixel in three planes, rows from the top.
struct Cloth {
    int width = 0, height = 0;
    std::vector<float> l, a, b;
    std::vector<std::uint8_t> shown; ///< 1 where there is cloth, 0 where the photo is transparent.
};

/// Box averages in linear light, then OKLab (B. Ottosson 2020; float, within 1e-5). `blank` is the colour
/// that stands in transparent areas: pixels of exactly this colour are not shown.
Cloth reduced(const photo::LinearImage& picture, std::optional<colour::LinearRgb> blank);

/// Each pixel becomes the mean of those around it (3 x 3), weighted by 1 - (d / 0.07)^2 where they differ
/// from it by d < 0.07: calms the weave and the camera's noise, and leaves the edges of the print (one step
/// of a mean shift, which sharpens them if anything).
void calm(Cloth& cloth);

/// 1 where the colour hardly changes to the next pixel on each side: inside a figure or the ground, not on
/// the blurred edge between.
std::vector<std::uint8_t> flat(const Cloth& cloth);

} // namespace motley::swatch
