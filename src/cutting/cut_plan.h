#pragma once
/// Cuts a list of rectangles from cloth with a rotary cutter, so that as little as possible is bought.
/// In: pieces, the usable width of the yardage, sheets on hand. Out: strips in cutting order, the length to
/// buy, and a proved lower bound on it.
/// Words: a *strip* is cut across the whole cloth, a *segment* is cut off a strip, the pieces of a segment
/// lie one above the other; trimming a piece to its size is not a stage, so a strip may be taller than what
/// is in it. The same list gives the same plan on every machine: effort is counted, never timed.

#include <cstdint>
#include <string>
#include <vector>

#include "measure/length.h"

namespace motley::cutting {

/// So many equal pieces. `width` lies across the cloth, `height` along it, unless it may turn.
struct CutListPiece {
    std::string name;
    measure::Length width, height; ///< Never zero.
    int count = 1;                 ///< At least 1.
    bool turn = true;              ///< May lie either way.
};

/// Cloth on hand, used before anything is bought. `width` lies across the cloth, `length` along it.
struct Sheet {
    std::string name;
    measure::Length width, length; ///< Never zero.
    int count = 1;                 ///< At least 1.
};

struct CutList {
    measure::System measure = measure::System::inch;
    measure::Length usable_width;
    int stages = 3; ///< 2: a segment is one piece; 3: it may be a stack of several.
    std::vector<CutListPiece> pieces;
    std::vector<Sheet> sheets;
    measure::Length ends;  ///< Taken off once at the start of the yardage to square it.
    measure::Length slack; ///< Bought beyond what the plan needs.
    measure::Length step;  ///< The shop's; zero means 1/8 yd, or 10 cm where `measure` is metric.
};

struct LaidPiece {
    int piece = 0;                 ///< Index into CutList::pieces.
    measure::Length width, height; ///< As it lies.
    bool turned = false;
};

/// Cut off a strip; the pieces lie one above the other.
struct Segment {
    measure::Length width;
    std::vector<LaidPiece> pieces;
};

struct Strip {
    measure::Length height;
    std::vector<Segment> segments;
};

/// One copy of a sheet. `along`: the first cuts run along the cloth's length, so strips lie side by side: a
/// strip's `height` and a piece's are then measured across the cloth, widths along it (`turned` still tells
/// whether the piece lies on the cloth as it was asked for).
struct SheetCuts {
    int sheet = 0; ///< Index into CutList::sheets.
    bool along = false;
    std::vector<Strip> strips;
};

/// Strips come in cutting order: tallest first, in each the longest segments first, equal strips next to each
/// other. Every piece is there as often as asked.
struct CutPlan {
    std::vector<SheetCuts> sheets; ///< In the order of CutList::sheets.
    std::vector<Strip> strips;     ///< Across the yardage that is bought.
    measure::Length length;        ///< Of all strips, with `ends`; zero when nothing is bought.
    measure::Length buy;           ///< `length` and `slack`, rounded up to the shop's step.
    measure::Length bound;         ///< No plan has a length below this.
    bool proved = false;           ///< No plan buys less.
    double waste_share = 0;        ///< Of `length` times the usable width, [0, 1]; sheets are not counted.
};

/// Looks for the least `buy`, then the least `length` (and so the least waste), then the fewest different
/// strips and segments; tall strips that can be parted without loss come as low ones. Throws
/// Fault(Cause::input, "", ...) naming all that is wrong: no usable width, a piece wider than that however it
/// lies that fits no sheet either, or not often enough, a size or count below 1, more than 1,000,000 pieces
/// in all, `stages` other than 2 or 3.
CutPlan plan_cuts(const CutList& list);

/// The step that holds where a list says none: 1/8 yd, metric 10 cm.
measure::Length usual_step(measure::System measure);

} // namespace motley::cutting
