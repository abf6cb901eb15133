#pragma once
/// The few pure colours a print is made of, told from the mixed colours of its blurred edges.

#include <vector>

#include "swatch/tally.h"

namespace motley::swatch {

/// One colour of the print.
struct Dye {
    Tone tone;
    double share = 0; ///< Of the cloth, (0, 1]; edges are split between the two colours they lie between.
};

/// At most six dyes, largest share first, shares adding up to 1. Empty when the tally is.
/// A colour counts as a dye when it covers about 1 % of the cloth (0.75 % as measured), is 5 CIEDE2000 or
/// more from the others, and either has an inside of its own or is no mixture of two others; two colours less
/// than 0.13 apart in OKLab must also have fewer pixels between them than at either, or they are one colour
/// with its weave.
std::vector<Dye> find_dyes(const Tally& tally);

} // namespace motley::swatch
