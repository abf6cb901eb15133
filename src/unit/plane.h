#pragma once
/// The plane that cloth lies in: points, rigid motions, convex polygons and the half-plane cuts that are all
/// a rotary cutter can do. Units: inches unless a caller says otherwise; x to the right, y down, so a
/// clockwise outline (on the screen) has a positive area.

#include <vector>

namespace motley::unit {

struct Point {
    double x = 0, y = 0;
};

inline Point operator+(Point a, Point b) {
    return {a.x + b.x, a.y + b.y};
}
inline Point operator-(Point a, Point b) {
    return {a.x - b.x, a.y - b.y};
}
inline Point operator*(Point a, double times) {
    return {a.x * times, a.y * times};
}
inline double dot(Point a, Point b) {
    return a.x * b.x + a.y * b.y;
}
inline double cross(Point a, Point b) {
    return a.x * b.y - a.y * b.x;
}
double length(Point a);

/// Closer than this, two points of cloth are the same point; far below a thread, far above rounding.
inline constexpr double same_point = 1e-9;

struct Segment {
    Point from, to;
};

/// Convex, clockwise on the screen; empty when there is nothing.
using Polygon = std::vector<Point>;

/// A rotation by eighths of a circle, perhaps a mirror image, then a shift: p -> (xx x + xy y + x, yx x + yy
/// y
/// + y).
struct Motion {
    double xx = 1, xy = 0, yx = 0, yy = 1;
    double x = 0, y = 0;

    Point operator()(Point p) const { return {xx * p.x + xy * p.y + x, yx * p.x + yy * p.y + y}; }
    Segment operator()(Segment s) const { return {(*this)(s.from), (*this)(s.to)}; }
    Motion after(const Motion& first) const; ///< This motion, done after `first`.
    Motion inverse() const;
    bool mirrors() const { return xx * yy - xy * yx < 0; }
};

Motion shifted(Point by);
/// Clockwise about the origin, in degrees; expects a multiple of 45, so that no rounding of angles is needed.
Motion rotated(int degrees);
Motion flipped();            ///< Left to right, as a page is turned.
Motion mirrored_in(Segment); ///< The mirror image in the line through a segment.

/// A line with a direction. `side` is the distance from it: positive to the right of the direction (on the
/// screen).
struct Line {
    Point from;
    Point along; ///< Length 1.

    double side(Point p) const { return cross(along, p - from); }
};
Line line_through(Segment segment);
Line opposite(Line line);                ///< The same line, the other way.
Line beside(Line line, double distance); ///< Parallel, `distance` to the right.

double area(const Polygon& outline);
Point centre(const Polygon& outline); ///< Centroid. Expects an area.

/// The outline moved; kept clockwise when the motion mirrors.
Polygon moved(const Polygon& outline, const Motion& motion);

/// What of a polygon lies at side(p) >= 0. Empty when that is no more than a thread's width.
Polygon right_of(const Polygon& outline, const Line& line);

Polygon common(const Polygon& a, const Polygon& b);                   ///< Where both are.
std::vector<Polygon> without(const Polygon& a, const Polygon& taken); ///< Convex parts of a outside `taken`.

/// Smallest convex polygon around the points, no corner on a straight edge, starting at the topmost, then
/// leftmost corner.
Polygon hull(std::vector<Point> points);

/// Upright rectangle.
struct Box {
    double left = 0, top = 0, right = 0, bottom = 0;

    double width() const { return right - left; }
    double height() const { return bottom - top; }
    Point middle() const { return {(left + right) / 2, (top + bottom) / 2}; }
    Polygon outline() const { return {{left, top}, {right, top}, {right, bottom}, {left, bottom}}; }
};

} // namespace motley::unit
