#pragma once
/// Reduces a photo to a fabric.
/// In: a photo that shows cloth from edge to edge. Out: the fabric's colour as the eye mixes it from across the room, its dominant
/// colours, how busy it is. Words: *value* is lightness relative to the set, as a quilter says it.

#include <span>
#include <vector>

#include "palette/palette.h"
#include "photo/photo.h"

namespace motley::swatch {

/// The colour of the cloth in a photo. The average is taken in linear light over every pixel, L* is that of its luminance.
/// `value` is left unset: it is relative to a set, see `set_values`.
palette::FabricColour measure(const photo::Reading& reading, std::string photo_hash);

/// Up to six colours that stand out, largest share first, shares adding up to 1 (the ground included): clusters in OKLab of a picture
/// evened out for uneven light; anything that covers at least 1 % of the cloth and differs clearly from the rest is kept.
/// Deterministic.
std::vector<palette::Accent> accents(const photo::LinearImage& picture);

/// How busy a print is, [0, 1): 0 for a solid, whatever its weave and however uneven the light.
/// s / (s + 12) with s the standard deviation of L*, a* and b* together over the print, after slow changes of light and single-thread
/// texture are taken out.
double busy(const photo::LinearImage& picture);

/// Sets `colour.value` of every fabric that has a colour: classes of L* over the set (colour::values), the user's word overriding.
void set_values(std::vector<palette::Fabric>& fabrics);

} // namespace motley::swatch
