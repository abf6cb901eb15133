#pragma once
/// A cut list in whole numbers, as the strips run one way. Private to this folder.
/// In: the pieces merged to kinds. Out: how each kind may lie, ordered by width.
/// Units: ticks where a name says so, else the frame's own units. Sizes that are no multiple of the unit are
/// rounded up for plans and down for bounds; the cloth is rounded down for both, which keeps both valid.

#include <cstdint>
#include <vector>

#include "cutting/cut_plan.h"

namespace motley::cutting {

/// Pieces of one size: equal pieces of the list, told apart again at the end.
struct Kind {
    std::int64_t width = 0, height = 0; ///< Ticks, as asked; the wider way first where it may turn.
    bool turn = false;                  ///< Never for a square.
    int count = 0;
    std::vector<int> pieces; ///< Of CutList::pieces.
};

std::vector<Kind> kinds_of(const std::vector<CutListPiece>& pieces);

/// One way for a kind to lie.
struct Lie {
    int kind = 0;
    int width = 0, height = 0;                   ///< Units.
    std::int64_t ticks_wide = 0, ticks_high = 0; ///< Exact.
};

enum class Rounding : std::uint8_t { up, down };

/// What a frame is made for: strips as long as `across`, as high as `most_high`. `along`: strips run along
/// the cloth's length, so that widths and heights of the pieces change places.
struct Cloth {
    std::int64_t across = 0, most_high = 0; ///< Ticks.
    bool along = false;
};

struct Frame {
    std::int64_t ticks_wide = 0, ticks_high = 0; ///< Of the cloth and the tallest strip, exact.
    std::int64_t unit_wide = 1, unit_high = 1;   ///< Ticks.
    int width = 0;                               ///< Of a strip's length, in units.
    int height = 0;                              ///< The tallest strip looked at, in units.
    bool stacks = true;                          ///< Three stages: a segment may hold several pieces.
    bool exact = true;                           ///< No size was rounded.
    std::vector<Lie> lies;                       ///< By width, then height.
    std::vector<int> widths;                     ///< The different widths, rising.
    std::vector<int> ends;                       ///< Lies of width c end here.
};

/// Lies that do not fit are left out; so are kinds that rounding down leaves without a size.
Frame make_frame(const std::vector<Kind>& kinds, const Cloth& cloth, int stages, Rounding rounding);

/// Steps of work, counted so that the same list costs the same everywhere.
struct Work {
    std::int64_t left = 0;
    void spend(std::int64_t steps) { left -= steps; }
    bool spent() const { return left <= 0; }
};

} // namespace motley::cutting
