#pragma once
/// The places of an echo that are higher than all around them: moves by which a print comes upon itself.

#include <optional>
#include <vector>

#include "swatch/echo.h"

namespace motley::swatch {

/// The shortest repeat there may be, pixels of a sketch.
inline constexpr double shortest_step = 3;
/// How alike the places are that a repeat leads to, seen a few times; places that happen to be alike are not.
inline constexpr double surely_alike = 0.6;
/// The same as a share of the best there is.
inline constexpr double as_alike = 0.8;

struct Peak {
    Move at; ///< To a fraction of a pixel.
    double value = 0;
};

/// Of three at equal distances, where the highest place lies from the middle one, [-1/2, 1/2].
double vertex(double before, double middle, double after);

/// Of a move and its opposite, the one that leads down or level to the right.
bool leads_down(Move move);
/// The same, but moves about level, up to 22.5 degrees off, lead to the right.
Move towards_foot(Move move);

/// The highest place within a pixel of a move; nothing beyond the echo's reach.
std::optional<Peak> peak_near(const Echo& echo, Move move);

/// Those that lead down or level to the right, at least `shortest_step` long, the shortest first.
std::vector<Peak> peaks_of(const Echo& echo);

} // namespace motley::swatch
