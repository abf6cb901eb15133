#pragma once
/// Which way every seam of the top is pressed, so that seams nest where rows meet, and lie towards the darker
/// side where they can.
/// In: a layout and its rows. Out: every seam with its side; what could not be had, named.
/// Words: a *joint* is a point on the seam between two rows where a seam from above and one from below meet;
/// it *nests* when they are pressed opposite ways. A *match point* is where seams inside units meet at a
/// unit's edge: their sides are fixed by how the units were sewn.
/// The seams between neighbours in a row form chains from row to row. For each chain the number of nesting
/// joints is greatest, and among all such ways the number of seams pressed towards the darker side: found by
/// dynamic programming, so it is exact.
/// Units: inches, finished, as in layout::Top.

#include <cstdint>
#include <string>
#include <vector>

#include "assembly/rows.h"

namespace motley::assembly {

enum class SeamOf : std::uint8_t {
    neighbours, ///< Two things in a row.
    rows,       ///< The long seam between two rows; a corner triangle sewn on last.
    border,     ///< A border, or a corner of it.
};

struct PressedSeam {
    SeamOf of = SeamOf::neighbours;
    unit::Segment at;
    unit::Point to;     ///< Direction of length 1 on the top: the side on which both allowances lie.
    int row = -1;       ///< Into Rows::rows; of two rows the upper; -1 for borders.
    int before = -1;    ///< neighbours: the place left of the seam, into Row::places.
    bool back = false;  ///< neighbours: pressed to the left (against the direction in which the row is read).
    bool fixed = false; ///< Always towards the sashing, whatever is darker.
    /// Lightness (L*) of the side it is pressed to less that of the other, along the seam; positive: it lies
    /// towards the lighter fabric.
    double lighter = 0;
};

struct Joint {
    unit::Point at;
    int above = 0, below = 0; ///< Into Pressing::seams.
    bool nests = false;
};

struct MatchPoint {
    enum class Sides : std::uint8_t { nest, same, unknown };
    unit::Point at;
    Sides sides = Sides::unknown;
};

struct Pressing {
    std::vector<PressedSeam> seams; ///< neighbours row by row from the left, then rows, then borders.
    std::vector<Joint> joints;      ///< Between seams of neighbours.
    std::vector<MatchPoint> match_points;
    int nested = 0;                    ///< Joints that nest.
    int to_darker = 0, to_lighter = 0; ///< Seams of neighbours that are free to lie either way.
    /// By row: an arrow for each seam, "→ ← →"; "" for a row of one.
    std::vector<std::string> arrows;
    std::vector<std::string> rules; ///< The plan in a few sentences, ready to print.
    /// Named, a line for each row: "Row 3: between columns 4 and 5, 7 and 8 towards the lighter fabric."
    std::vector<std::string> towards_lighter;
    std::vector<std::string> not_nested; ///< Joints that cannot nest, named by row and column.
};

Pressing press(const layout::Layout& layout, const Rows& rows);

} // namespace motley::assembly
