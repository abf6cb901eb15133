#include "unit/plane.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "fault/fault.h"

namespace motley::unit {

double length(Point a) {
    return std::sqrt(dot(a, a));
}

Motion Motion::after(const Motion& first) const {
    const Point shift = (*this)(Point{first.x, first.y});
    return {xx * first.xx + xy * first.yx,
            xx * first.xy + xy * first.yy,
            yx * first.xx + yy * first.yx,
            yx * first.xy + yy * first.yy,
            shift.x,
            shift.y};
}

Motion Motion::inverse() const {
    // The inverse of a rotation or mirroring is its transpose.
    return {xx, yx, xy, yy, -(xx * x + yx * y), -(xy * x + yy * y)};
}

Motion shifted(Point by) {
    return {1, 0, 0, 1, by.x, by.y};
}

Motion rotated(int degrees) {
    expects(degrees % 45 == 0);
    const double half = std::sqrt(0.5);
    const std::array<Point, 8> directions{
        {{1, 0}, {half, half}, {0, 1}, {-half, half}, {-1, 0}, {-half, -half}, {0, -1}, {half, -half}}};
    const Point d = directions[static_cast<std::size_t>(((degrees / 45) % 8 + 8) % 8)];
    return {d.x, -d.y, d.y, d.x, 0, 0};
}

Motion flipped() {
    return {-1, 0, 0, 1, 0, 0};
}

Motion mirrored_in(Segment segment) {
    const Point d = line_through(segment).along;
    Motion made{d.x * d.x - d.y * d.y, 2 * d.x * d.y, 2 * d.x * d.y, d.y * d.y - d.x * d.x, 0, 0};
    const Point moved_start = made(segment.from);
    made.x = segment.from.x - moved_start.x;
    made.y = segment.from.y - moved_start.y;
    return made;
}

Line line_through(Segment segment) {
    const Point way = segment.to - segment.from;
    const double distance = length(way);
    expects(distance > 0);
    return {segment.from, {way.x / distance, way.y / distance}};
}

Line opposite(Line line) {
    return {line.from, {-line.along.x, -line.along.y}};
}

Line beside(Line line, double distance) {
    return {line.from + Point{-line.along.y, line.along.x} * distance, line.along};
}

double area(const Polygon& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i)
        twice += cross(outline[i] - outline[0], outline[(i + 1) % outline.size()] - outline[0]);
    return twice / 2;
}

Point centre(const Polygon& outline) {
    expects(!outline.empty());
    const Point base = outline[0];
    Point sum;
    double twice = 0;
    for (std::size_t i = 1; i + 1 < outline.size(); ++i) {
        const Point a = outline[i] - base, b = outline[i + 1] - base;
        const double part = cross(a, b);
        twice += part;
        sum = sum + (a + b) * (part / 3);
    }
    expects(twice > 0);
    return base + sum * (1 / twice);
}

Polygon moved(const Polygon& outline, const Motion& motion) {
    Polygon made;
    made.reserve(outline.size());
    for (const Point p : outline) made.push_back(motion(p));
    if (motion.mirrors()) std::reverse(made.begin(), made.end());
    return made;
}

Polygon right_of(const Polygon& outline, const Line& line) {
    // Sutherland-Hodgman against one line; what is a thread's width from the line counts as on it.
    Polygon kept;
    bool reaches = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point a = outline[i], b = outline[(i + 1) % outline.size()];
        double at_a = line.side(a), at_b = line.side(b);
        if (std::abs(at_a) <= same_point) at_a = 0;
        if (std::abs(at_b) <= same_point) at_b = 0;
        reaches = reaches || at_a > 0;
        if (at_a >= 0) kept.push_back(a);
        if ((at_a > 0 && at_b < 0) || (at_a < 0 && at_b > 0))
            kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
    }
    if (!reaches || kept.size() < 3) return {};
    return kept;
}

Polygon common(const Polygon& a, const Polygon& b) {
    Polygon rest = a;
    for (std::size_t i = 0; i < b.size() && !rest.empty(); ++i)
        rest = right_of(rest, line_through({b[i], b[(i + 1) % b.size()]}));
    return rest;
}

std::vector<Polygon> without(const Polygon& a, const Polygon& taken) {
    if (common(a, taken).empty()) return {a};
    std::vector<Polygon> parts;
    Polygon rest = a;
    for (std::size_t i = 0; i < taken.size() && !rest.empty(); ++i) {
        const Line edge = line_through({taken[i], taken[(i + 1) % taken.size()]});
        if (const Polygon outside = right_of(rest, opposite(edge)); !outside.empty())
            parts.push_back(outside);
        rest = right_of(rest, edge);
    }
    return parts;
}

Polygon hull(std::vector<Point> points) {
    // Andrew's monotone chain, by rows; y down, so that it runs clockwise on the screen.
    std::sort(points.begin(), points.end(),
              [](Point a, Point b) { return a.y != b.y ? a.y < b.y : a.x < b.x; });
    const auto chain = [](const auto& from, const auto& to) {
        Polygon made;
        for (auto it = from; it != to; ++it) {
            if (!made.empty() && length(*it - made.back()) <= same_point) continue;
            while (made.size() > 1) {
                const Point last = made.back() - made[made.size() - 2], next = *it - made.back();
                if (cross(last, next) > same_point * length(last + next)) break;
                made.pop_back();
            }
            made.push_back(*it);
        }
        return made;
    };
    Polygon down = chain(points.begin(), points.end());
    Polygon up = chain(points.rbegin(), points.rend());
    if (down.size() < 2 || up.size() < 2) return {};
    down.pop_back();
    up.pop_back();
    down.insert(down.end(), up.begin(), up.end());
    // Neighbours within a thread of each other across the two chains.
    Polygon made;
    for (const Point p : down)
        if (made.empty() || length(p - made.back()) > same_point) made.push_back(p);
    if (made.size() > 1 && length(made.back() - made.front()) <= same_point) made.pop_back();
    if (made.size() < 3) return {};
    return made;
}

} // namespace motley::unit
