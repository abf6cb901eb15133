#pragma once
/// The top as it is laid down for sewing: row by row, in each row what is sewn to what from left to right.
/// In: a layout. Out: rows from the top; on point *diagonal rows*, the first in the upper right corner, each
/// read from its upper left end to its lower right one. With sashing, rows of strips lie between rows of
/// units. Borders are not in rows. Units: exact lengths as sewn, seam allowances all round included, where a
/// name says `raw`; else inches, finished, as in layout::Top.

#include <string>
#include <vector>

#include "layout/top.h"
#include "measure/length.h"
#include "unit/plane.h"

namespace motley::assembly {

/// One sort of thing to lay down: the same part, form and fabrics; units that are only turned are alike.
struct Kind {
    layout::Part part = layout::Part::unit;
    int form = 0;                           ///< Of units.
    std::vector<palette::FabricId> fabrics; ///< Of units by patch, else one.
    measure::Length raw_width, raw_height;  ///< Zero for triangles.
    std::string code;                       ///< Its fabrics' letters: "A", "A/C".
    std::string name;                       ///< "half-square triangle A/C", "sashing strip B".
    int count = 0;                          ///< In the whole top.
};

/// One thing in a row.
struct Place {
    int kind = 0;  ///< Into Rows::kinds.
    int cell = -1; ///< Unit, plain block: the lattice cell.
    int turn =
        0; ///< Unit: quarter turns clockwise, as its row is read (on point: with the row turned level).
    std::string label;     ///< Unit: "row 3, column 4", as layout files count; else empty.
    unit::Polygon outline; ///< On the top; of a unit its whole square.
};

struct Pick {
    int kind = 0; ///< Into Rows::kinds.
    int count = 0;
};

struct Row {
    std::string name; ///< "Row 3", "Diagonal row 3", "Sashing row 2".
    bool sashing = false;
    int number = 0;                        ///< From 1, rows of units and rows of sashing each on their own.
    std::vector<Place> places;             ///< In sewing order.
    std::vector<Pick> picks;               ///< By kind; adds up to `places`.
    measure::Length raw_width, raw_height; ///< On point: without the triangles at the ends.
    std::string note;                      ///< What to mind with this row; mostly empty.
};

struct Rows {
    bool diagonal = false;
    std::vector<Kind> kinds; ///< Units first; by part, form, then fabrics.
    std::vector<Row> rows;   ///< In joining order.
    std::vector<Place> last; ///< On point: the two corner triangles that are sewn on after all rows.
    measure::Length raw_width, raw_height; ///< Of all rows joined, before any border.
};

Rows rows_of(const layout::Layout& layout);

} // namespace motley::assembly
