#pragma once
/// Stripes: which way they run, and their repeat.

#include <optional>
#include <vector>

#include "swatch/peaks.h"

namespace motley::swatch {

struct Bands {
    Move along;               ///< Of length 1, down or level to the right.
    std::optional<Move> step; ///< Across the bands to the next repeat.
    double alike = 0; ///< Mean of the echo over the places that the step leads to, or along the bands.
};

/// Stripes are there when the echo stays high along one line and falls across it. `best` is the highest peak
/// of the echo: where it is much higher than the line's mean the print is a course of bricks, no stripe.
std::optional<Bands> find_bands(const Echo& echo, double best);

} // namespace motley::swatch
