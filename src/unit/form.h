#pragma once
/// How a unit is sewn: which patches it shows, and from which cut squares.
/// Units: *unit coordinates* have the finished unit as the square [0, 1] x [0, 1], x to the right, y down,
/// origin top left. Words: a *unit* is sewn pieces; a *patch* is a place in it that shows one fabric; a
/// *turn* is a quarter turn clockwise.

#include <string>
#include <string_view>
#include <vector>

#include "measure/length.h"

namespace motley::unit {

struct Point {
    double x = 0, y = 0;
};

/// One place of a unit at turn 0.
struct Patch {
    std::string role;           ///< What a plan calls it: "patch", "print", "ground".
    std::vector<Point> outline; ///< Convex, clockwise on the screen, unit coordinates.
    Point centre;               ///< Centroid of the outline.
    double area = 0;            ///< Share of the unit, (0, 1]; the patches of a unit add up to 1.
};

struct Form {
    std::string id;
    std::string name;            ///< As said to people.
    std::vector<Patch> patches;  ///< In the order in which a layout lists their fabrics.
    int patches_from_square = 1; ///< How many patches one cut square ends up as.
};

/// Every recipe there is: "plain-square" and "half-square-triangle" (two at a time; print above right, ground
/// below left).
const std::vector<Form>& forms();

/// Null when there is none of that id.
const Form* find_form(std::string_view id);

/// Where a point of the unit at turn 0 lies after `turn` quarter turns clockwise about the unit's middle.
Point turned(Point point, int turn);

/// Side of the square to cut for one patch, exact to the tick, rounded up: F + 2s for a plain square; F + s(2
/// + sqrt 2) for half-square triangles two at a time (derived: the diagonal seam takes s sqrt 2 along the
/// side beyond the two outer allowances).
measure::Length cut_square(const Form& recipe, measure::Length finished, measure::Length seam);

} // namespace motley::unit
