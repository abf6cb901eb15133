#pragma once
/// How a unit looks: which patches it shows, and which cloth they come from.
/// Units: *unit coordinates* have the finished unit as the square [0, 1] x [0, 1], x to the right, y down,
/// origin top left. Words: a *unit* is sewn pieces; a *patch* is a place in it that shows one fabric; a
/// *turn* is a quarter turn clockwise; an *input* is what a recipe starts from: the ground square, strip 3.

#include <array>
#include <string>
#include <vector>

#include "unit/plane.h"

namespace motley::unit {

/// How a patch lies on the piece that was cut for it: a rotation and a shift, never a mirror image. The
/// piece's coordinates, in inches: x across the fabric, y along its lengthwise grain, origin at the piece's
/// top left corner with the printed side up.
struct Lie {
    double cos = 1, sin = 0; ///< Of the clockwise turn from the unit to the cloth.
    double x = 0, y = 0;     ///< Where the unit's top left corner (finished) lies on the cloth.

    /// Of a point of the unit in inches: unit coordinates times the finished size.
    Point at(Point inches) const {
        return {cos * inches.x - sin * inches.y + x, sin * inches.x + cos * inches.y + y};
    }
};

/// One place of a unit at turn 0.
struct Patch {
    std::string role;           ///< What a plan calls it: "patch", "print", "ground".
    std::vector<Point> outline; ///< Convex, clockwise on the screen, unit coordinates.
    Point centre;               ///< Centroid of the outline.
    double area = 0;            ///< Share of the unit, (0, 1]; the patches of a unit add up to 1.
    int input = 0;              ///< Index into `Sewn::inputs`; patches of one input carry one fabric.
    int piece = 0;              ///< Which of the input's pieces, where several are cut of it.
    Lie lie{};                  ///< In the first copy made; `Copy` has it for every copy.
};

/// A stretch of a finished outer edge that shows one patch.
struct EdgeShare {
    int patch = 0;
    int input = 0;
    double from = 0, to = 0; ///< Along the edge, clockwise on the screen, share of the finished side.
    bool bias = false;       ///< The edge is cut off the grain there: it stretches.
};

struct Form {
    std::string id;
    std::string name;           ///< As said to people.
    std::vector<Patch> patches; ///< In the order in which a layout lists their fabrics.
    int count = 1;              ///< Units of this form from one making.
    int mirror_of = -1;         ///< Index of the earlier form whose mirror image this is, input by input.
    std::array<std::vector<EdgeShare>, 4> edges{}; ///< Top, right, bottom, left; clockwise along each.
};

/// Where a point of the unit at turn 0 lies after `turn` quarter turns clockwise about the unit's middle.
Point turned(Point point, int turn);

} // namespace motley::unit
