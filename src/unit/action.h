#pragma once
/// The steps of a recipe as they are written: which operation, on which things, to which sizes. A *thing* is
/// a name on the table; a name may stand for a pile of several alike, "quarters.2" is the second of them.

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "unit/expression.h"

namespace motley::unit {

enum class Side { top, right, bottom, left };

/// Straight lines across a thing that lies upright.
enum class Guide { top, right, bottom, left, diagonal, counter_diagonal, across, down };

enum class Press { dark, first, second, open };

/// What the step's outcome must measure; the unknown sizes are found so that it does.
struct Wish {
    std::string finds;   ///< The unknown that is sought with it; a chosen size is not held to it.
    bool height = false; ///< Else the width.
    bool patch = false;  ///< Finished: of the visible patch once the seams around the thing are sewn.
    std::string input;   ///< Only what shows of this input; empty: the whole thing.
    Expression is;
};

/// Strips, long sides together; as long as sections * section.
struct SewStripSet {
    std::vector<std::string> strips;
    Expression sections, section;
    Press press = Press::dark;
};
/// Cuts a set into sections.
struct CrossCut {
    std::string thing;
    Expression every;
};
/// `second` is turned by `turn` degrees clockwise and sewn to a side of `first`.
struct Join {
    std::string first, second;
    Side side = Side::right;
    int turn = 0;
    bool overhang = false; ///< Centred; ends need not match.
    Press press = Press::dark;
};
/// Strips or pieces sewn to the sides in turn; strips are cut to fit.
struct JoinAround {
    std::string first;
    std::vector<std::string> with; ///< Piles, taken from in turn until all are used.
    std::vector<Side> sides;
    Press press = Press::second;
};
struct JoinRows {
    struct Cell {
        std::string thing;
        int turn = 0;
    };
    std::vector<std::vector<Cell>> rows;
    Press press = Press::dark;
};
/// Right sides together.
struct Lay {
    struct Top {
        std::string thing;
        int turn = 0;             ///< Clockwise, while it still lies with its right side up.
        int across = 0, down = 0; ///< -1 left or top, 0 centred, 1 right or bottom of what lies below.
    };
    std::string bottom;
    std::vector<Top> tops;
};
struct SewLines {
    std::string thing;
    std::vector<Guide> along;
    int on = 0; ///< Guides of: 0 the bottom, n the n-th top.
    enum class Where {
        edge,        ///< A seam allowance in from it.
        either_side, ///< A seam allowance to both sides of it.
        line,        ///< On it.
    } where = Where::edge;
};
struct CutLines {
    std::string thing;
    std::vector<Guide> along;
};
/// Cuts a stack a seam allowance beyond its seam; the corner falls off.
struct TrimSeam {
    std::string thing;
};
struct Open {
    std::string thing;
    Press press = Press::dark;
};
struct Trim {
    std::string thing;
    Expression width, height; ///< Empty: not that way.
    enum class About {
        centre,
        seam,     ///< Centred, then moved so that the last seam runs through the middle.
        top_left, ///< Flush with the top and left edges.
        top,      ///< Centred from left to right, flush with the top edge.
    } about = About::centre;
    bool ears = false; ///< Only what sticks out behind, level with the edges.
};
struct Turn {
    std::string thing;
    int by = 0;               ///< Degrees clockwise; when `put` is empty.
    std::string put;          ///< So that this input lies towards a side or corner,
    int across = 0, down = 0; ///< -1 left or top, 1 right or bottom.
};

using Operation = std::variant<SewStripSet, CrossCut, Join, JoinAround, JoinRows, Lay, SewLines, CutLines,
                               TrimSeam, Open, Trim, Turn>;

struct Action {
    std::string verb; ///< As written: "strip-set".
    Operation operation;
    std::string note; ///< Added to the step's text as it is.
    std::string as;   ///< Name of what it makes; empty: the thing keeps its name.
    std::vector<Wish> wishes;
    std::vector<std::pair<std::string, std::string>> when; ///< Only if these words are chosen.
};

} // namespace motley::unit
