#pragma once
/// The front door of virtual sewing: a recipe, run at a size, with everything that comes out of it.
/// In: a recipe, an order. Out: the forms of the units, cut sizes, steps, yield. Threads: pure functions.

#include <string>
#include <vector>

#include "measure/length.h"
#include "unit/form.h"
#include "unit/recipe.h"
#include "unit/step.h"

namespace motley::unit {

enum class Sizes {
    exact, ///< Pieces cut to the exact sizes that come out right with nothing to trim.
    usual, ///< Sizes that were found are rounded up to the ruler's marks, and trimmed away again.
};

struct Order {
    measure::Length finished{6 * measure::Length::per_inch};
    measure::Length seam{measure::Length::per_inch / 4};
    measure::System measure = measure::System::inch; ///< How texts print lengths, and what sizes round up to.
    Choices choices;                                 ///< From `read_choices` or `choose`.
    Sizes sizes = Sizes::exact;
};

/// One thing that a making starts from and that has one fabric: "strip 3", "ground".
struct Input {
    std::string name; ///< "strip 3"; no two alike.
    std::string role; ///< What a plan calls it: "strip", "ground".
    Cut shape = Cut::square;
    int pieces = 1;            ///< Cut of it for one making.
    double width = 0;          ///< Of each piece, inches: across a square; across a strip.
    double height = 0;         ///< Along a strip: all the pieces of one making together; else as cut.
    measure::Length width_cut; ///< As one would cut it: found sizes rounded up to 1/8 in or 5 mm.
    measure::Length height_cut;
    bool found = false;     ///< The size was found by the program, not given.
    int per_square = 1;     ///< Pieces that one square of this size is cut into: 1, 2 (once) or 4 (twice).
    std::string where_from; ///< "square, cut once on the diagonal": for people.
};

/// A unit that one making yields.
struct Copy {
    int form = 0;
    std::vector<Lie> lies;   ///< Per patch of the form: where this copy's cloth lies.
    std::vector<int> pieces; ///< Per patch: which piece of the input.
};

/// A strip set and what one cuts from it.
struct StripSetYield {
    std::string name;
    std::vector<int> inputs;     ///< Its strips in order.
    double width = 0;            ///< Across the strips, raw edge to raw edge, inches.
    double section = 0;          ///< Each cut off along the strips, inches.
    measure::Length section_cut; ///< As one would cut it.
    int sections = 0;            ///< That one making uses.
};

struct Remnant {
    std::string name;
    double width = 0, height = 0;
};

struct Sewn {
    std::vector<Input> inputs;
    std::vector<Form> forms; ///< Different units, turned ones being alike; in the order of the table.
    std::vector<Copy> copies;
    double finished = 0; ///< Inches: what was ordered, or what an untrimmed unit comes to.
    std::vector<StripSetYield> sets;
    std::vector<Step> steps;
    std::vector<Remnant> leftovers; ///< On the table at the end and no unit.
    Ledger ledger;                  ///< At the end; leftovers count as trimmings.
    std::vector<Found> found;       ///< The sizes that were sought: exact, and rounded up.
};

/// Runs the recipe. Faults (Cause::input): a choice that the recipe does not know; sizes that cannot be met;
/// a step that makes no sense on the cloth (edges that do not match, a cut that misses, a trim larger than
/// the piece), naming the step's number and words, the measurement found and the one wanted.
Sewn sew(const Recipe& recipe, const Order& order);

/// What so many units take.
struct Batch {
    int makings = 0;
    int spare_units = 0;
    struct OfSet {
        int per_strip = 0; ///< Sections from one set.
        int sets = 0;      ///< Strip sets to sew.
        int strips = 0;    ///< Strips in them.
        int spare = 0;     ///< Sections left over.
    };
    std::vector<OfSet> sets; ///< As `Sewn::sets`.
    struct OfInput {
        int pieces = 0;         ///< To cut.
        int per_width = 0;      ///< Pieces, or strips' pieces, across one usable width.
        int strips = 0;         ///< Widths of fabric to cut.
        measure::Length length; ///< Yardage those take, all inputs of it in one fabric.
    };
    std::vector<OfInput> inputs; ///< As `Sewn::inputs`.
};

/// At a usable width, say 42 in. Sizes as one would cut them. Fault: a section or a piece wider than that.
Batch batch(const Sewn& sewn, int units, measure::Length usable_width);

} // namespace motley::unit
