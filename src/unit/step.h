#pragma once
/// One step at the sewing machine, ready to be said and drawn. Plain data: `render` draws it, `handout`
/// prints it. Units: inches; x to the right, y down.

#include <string>
#include <vector>

#include "unit/plane.h"

namespace motley::unit {

/// A piece of cloth in a figure.
struct Shape {
    Polygon outline;
    int input = 0;           ///< Index into `Sewn::inputs`: its colour.
    int layer = 0;           ///< 0 lies at the bottom; draw in this order. Of one layer: none overlap unless
                             ///< hidden.
    bool wrong_side = false; ///< Seen from the back: the top layer of a stack.
    bool hidden = false;     ///< A seam allowance, folded underneath; drawn faintly or not at all.
    Motion to_cloth; ///< Figure to the piece's own coordinates, as in `Lie`; mirrors where wrong_side.
    int piece = 0;   ///< As in `Patch`.
};

struct Mark {
    enum class Kind {
        seam, ///< Stitches; drawn dashed.
        cut,  ///< Where the blade goes.
        line, ///< Drawn on the cloth with a pencil.
    };
    Segment at;
    Kind kind = Kind::seam;
};

/// A measurement, along one side of the figure.
struct Dimension {
    Segment at;       ///< The stretch that is measured.
    std::string text; ///< "10 1/2 in"
};

/// One thing on the table. `copies` alike are drawn once.
struct Figure {
    std::string name; ///< "set", "quarter 2"
    int copies = 1;
    std::vector<Shape> shapes;
    std::vector<Mark> marks;
    std::vector<Dimension> dimensions;
    Box box; ///< Around all shapes that are not hidden.
};

/// What every thing on the table adds up to, in square inches. cloth = showing + allowances + trimmings, to
/// 1e-9 of the cloth.
struct Ledger {
    double cloth = 0;      ///< Taken from the inputs so far.
    double showing = 0;    ///< Right sides that can be seen, or will be once the stack is opened.
    double allowances = 0; ///< Folded under.
    double trimmings = 0;  ///< Cut away, dog-ears included.
};

struct Measured {
    std::string thing;
    double width = 0, height = 0; ///< Inches, of what shows, seam allowances all round included.
};

struct Step {
    int number = 0;   ///< From 1.
    std::string verb; ///< As in the recipe: "strip-set", "open".
    std::string text; ///< The whole instruction, a sentence or two, in the order's measure.
    std::string
        outcome; ///< "Each should now measure 6 1/2 in x 6 1/2 in."; empty when there is nothing to say.
    std::vector<Measured> measured; ///< The things made, alike ones once.
    std::vector<Figure> before;     ///< What the step starts from, with its seams and cut lines marked.
    std::vector<Figure> after;      ///< What it makes; empty when `before` says all (sewing a line).
    double taken_off_width = 0,
           taken_off_height = 0; ///< By trimming, both ends together, inches; the most of any.
    Ledger ledger;               ///< After the step.
};

} // namespace motley::unit
