#pragma once
/// Points, and flat things seen at a slant: exact enough to be the same on every machine.

#include <array>
#include <optional>
#include <span>
#include <vector>

namespace motley::scene {

struct Point {
    double x = 0, y = 0;

    Point operator+(const Point& other) const { return {x + other.x, y + other.y}; }
    Point operator-(const Point& other) const { return {x - other.x, y - other.y}; }
    Point operator*(double factor) const { return {x * factor, y * factor}; }
};

double dot(const Point& one, const Point& other);
double cross(const Point& one, const Point& other);
double length(const Point& step);

/// Corners clockwise as seen, y down, the top left one first.
using Quad = std::array<Point, 4>;

double area(std::span<const Point> outline); ///< Positive when clockwise as seen.
bool inside(const Quad& quad, const Point& point);
/// Every corner turns right, and none is sharper than 30 degrees or blunter than 150.
bool convex(const Quad& quad);
/// Of the area of both together, the share that both cover, [0, 1]. For convex quads.
double overlap(const Quad& one, const Quad& other);
/// The same corners, clockwise from the one nearest the top left.
Quad in_order(Quad quad);

/// The straight line n . p = offset, n of length 1.
struct Line {
    Point normal;
    double offset = 0;

    double distance(const Point& point) const { return dot(normal, point) - offset; }
};
Line line_through(const Point& one, const Point& other);
std::optional<Point> meeting(const Line& one, const Line& other);

/// How one plane looks from another: a point (x, y, 1) goes to the 3 x 3 matrix times it.
struct Homography {
    std::array<double, 9> m{1, 0, 0, 0, 1, 0, 0, 0, 1};

    Point operator()(const Point& point) const;
    Homography inverse() const;
};

/// The one that takes `from` to `to` with least squares; nothing when they do not determine it. Expects as
/// many of each, four at least.
std::optional<Homography> homography(std::span<const Point> from, std::span<const Point> to);

/// Solves the symmetric system (row by row) by elimination with pivots; nothing when it is singular.
std::optional<std::vector<double>> solved(std::vector<double> matrix, std::vector<double> right);

} // namespace motley::scene
