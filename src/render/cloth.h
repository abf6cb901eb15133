#pragma once
/// Cloth at the preview's scale: the photo resampled to the top's pixels per inch, with the uneven light of
/// the room taken out.

#include <cstdint>

#include "colour/space.h"
#include "render/render.h"

namespace motley::render {

/// The floats of one pixel.
inline const float* pixel(const photo::LinearImage& image, int x, int y) {
    return &image.pixels[(static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) +
                          static_cast<std::size_t>(x)) *
                         3];
}
inline float* pixel(photo::LinearImage& image, int x, int y) {
    return const_cast<float*>(pixel(static_cast<const photo::LinearImage&>(image), x, y));
}

photo::LinearImage blank(int width, int height);

colour::LinearRgb mean(const photo::LinearImage& image);

/// Multiplies each channel so that the mean is `wanted`; a channel that is black stays so.
void keep_mean(photo::LinearImage& image, colour::LinearRgb wanted);

/// The part of a picture, enlarged or reduced `scale` times, whose top left pixel is (left, top) of the
/// whole. Catmull-Rom, widened when reducing so that nothing aliases; weights normalised at the borders.
photo::LinearImage resampled(const photo::LinearImage& picture, double scale, int left, int top, int width,
                             int height);

/// The photographed cloth at `ppi`, at most `most` pixels to a side (then the middle of the photo), evenly
/// lit, its mean colour that of the whole photo. A photo that would be smaller than 6 pixels shows no print
/// at this scale: then 0 pixels wide.
///
/// Light: a quadratic surface fitted to the logarithm of luminance over 10 x 10 blocks, taken out as far as
/// it explains the blocks (a photo whose blocks differ because of its print is left alone), and not at all
/// beyond a range of 1 : 2, which no lamp of a sensible photo gives but a shaded cloth does.
photo::LinearImage scaled_cloth(const Cloth& cloth, double ppi, int most);

/// A solid of one colour with the faint life of woven thread: slubs along both threads, mottling; mean kept.
photo::LinearImage solid_cloth(colour::LinearRgb colour, double ppi, int width, int height,
                               std::uint64_t seed);

} // namespace motley::render
