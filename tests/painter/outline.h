#pragma once
/// Closed shapes as dense polygons, and the curves they are made of.
/// Units: whatever the caller draws in; x to the right, y down, angles in radians clockwise as seen.

#include <vector>

#include "painter/chance.h"

namespace motley::painter {

inline constexpr double pi = 3.14159265358979323846;

struct Point {
    double x = 0, y = 0;
};

Point operator+(Point one, Point other);
Point operator-(Point one, Point other);
Point operator*(Point point, double factor);
double length(Point point);
/// The point `distance` away from `from` in direction `angle` (0 = up, clockwise).
Point towards(Point from, double angle, double distance);

/// A closed polygon. Overlapping itself is allowed; a hole is a part that runs the other way round.
using Outline = std::vector<Point>;

/// Where a shape drawn around the origin goes.
struct Pose {
    Point at = {};
    double turn = 0;
    double size = 1;
    bool mirrored = false; ///< Left and right exchanged before turning.
};

Point placed(Point point, const Pose& pose);
Outline placed(const Outline& outline, const Pose& pose);

/// A smooth curve through the knots (Catmull-Rom), `steps` points from one knot to the next.
Outline through(const std::vector<Point>& knots, bool closed, int steps = 8);

Outline ellipse(Point centre, double across, double along, double turn = 0);
Outline disc(Point centre, double radius);
Outline ring(Point centre, double radius, double width);
Outline polygon(const std::vector<Point>& corners, double longest_edge = 0.08); ///< Straight edges, divided.

/// A petal or leaf from the origin upwards: `belly` in (0, 1) is where it is widest, `tip` > 1 sharpens, < 1
/// rounds the end.
Outline petal(double length, double width, double belly = 0.6, double tip = 1);
/// A petal with a notch of the given depth in its end.
Outline notched_petal(double length, double width, double notch);
/// An uneven round thing.
Outline blob(Chance& chance, double radius, double unevenness, int lobes);
/// A line through the knots as wide as said at its start, middle and end.
Outline stroke(const std::vector<Point>& knots, double start, double middle, double end);

} // namespace motley::painter
