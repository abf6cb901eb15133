#pragma once
/// The repeat of a print in two directions.

#include <optional>
#include <vector>

#include "swatch/peaks.h"

namespace motley::swatch {

struct Repeat {
    Move one, other;  ///< The shortest two steps; `one` is the nearest to level.
    double alike = 0; ///< Mean of the echo over all places that they lead to.
};

/// Of all pairs of peaks the one that spans the least area, if the places that its steps lead to are as much
/// alike as any and of one kind, and nearly all that are very much alike are among them. `peaks` as from
/// peaks_of.
std::optional<Repeat> find_repeat(const Echo& echo, const std::vector<Peak>& peaks);

} // namespace motley::swatch
