#pragma once
/// Reduces a photo to a fabric.
/// In: a photo that shows cloth from edge to edge. Out: the fabric's colour as the eye mixes it from across
/// the room, its dominant colours, how busy it is, where its print repeats and which way it runs. Words:
/// *value* is lightness relative to the set, as a quilter says it; an *accent* is one of the colours of a
/// print, the ground included. Threads: no state is shared. The same picture gives the same bytes.

#include <span>
#include <string>
#include <vector>

#include "palette/palette.h"
#include "photo/photo.h"

namespace motley::swatch {

/// The colour of the cloth in a photo. The average is taken in linear light over every pixel, L* is that of
/// its luminance, and uneven light is part of it. `value` is left unset: it is relative to a set, see
/// `set_values`. `photo_width` is how much cloth the photo shows from left to right: the print's repeat is in
/// inches.
palette::FabricColour measure(const photo::Reading& reading, std::string photo_hash,
                              measure::Length photo_width = palette::usual_photo_width);

/// Up to six colours that stand out, largest share first, shares in steps of 0.0001 adding up to 1: clusters
/// in OKLab of a picture evened out for uneven light. Anything that covers at least 1 % of the cloth and is 5
/// CIEDE2000 or more from the rest is kept; a solid has exactly one, whatever its weave and however slowly
/// the light changes across it. Where the edges of a print are blurred they are shared between the two
/// colours they lie between. Empty for an empty picture.
std::vector<palette::Accent> accents(const photo::LinearImage& picture);

/// How busy a print is, [0, 1): s / (s + 12), where s, in units of CIEDE2000, is the root of half the mean
/// squared difference between the colours met at two places of the cloth taken at random,
///     s^2 = 1/2 sum_ij p_i p_j dE00(c_i, c_j)^2,  c and p the accents and their shares.
/// (For colours on a line that is their standard deviation.) 0 for a solid; half black and half white gives s
/// = 50 and 0.81.
double busy(std::span<const palette::Accent> accents);

/// Sets `colour.value` of every fabric that has a colour: the user's word where there is one (`value_said`),
/// else its class of L* over all fabrics of the set that have a colour (colour::values).
void set_values(std::vector<palette::Fabric>& fabrics);

} // namespace motley::swatch
