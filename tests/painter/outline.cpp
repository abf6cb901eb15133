#include "painter/outline.h"

#include <algorithm>
#include <cmath>

namespace motley::painter {

Point operator+(Point one, Point other) {
    return {one.x + other.x, one.y + other.y};
}
Point operator-(Point one, Point other) {
    return {one.x - other.x, one.y - other.y};
}
Point operator*(Point point, double factor) {
    return {point.x * factor, point.y * factor};
}
double length(Point point) {
    return std::hypot(point.x, point.y);
}

Point towards(Point from, double angle, double distance) {
    return {from.x + std::sin(angle) * distance, from.y - std::cos(angle) * distance};
}

Point placed(Point point, const Pose& pose) {
    const double x = (pose.mirrored ? -point.x : point.x) * pose.size, y = point.y * pose.size;
    const double c = std::cos(pose.turn), s = std::sin(pose.turn);
    return {pose.at.x + c * x - s * y, pose.at.y + s * x + c * y};
}

Outline placed(const Outline& outline, const Pose& pose) {
    Outline result = outline;
    for (Point& point : result) point = placed(point, pose);
    return result;
}

Outline through(const std::vector<Point>& knots, bool closed, int steps) {
    const int count = static_cast<int>(knots.size());
    const auto knot = [&](int k) {
        return knots[static_cast<std::size_t>(closed ? (k + count) % count : std::clamp(k, 0, count - 1))];
    };
    Outline result;
    const int spans = closed ? count : count - 1;
    for (int k = 0; k < spans; ++k) {
        const Point a = knot(k - 1), b = knot(k), c = knot(k + 1), d = knot(k + 2);
        for (int step = 0; step < steps; ++step) {
            const double t = static_cast<double>(step) / steps;
            const Point linear = (c - a) * t, square = (a * 2 - b * 5 + c * 4 - d) * (t * t);
            const Point cube = (b * 3 - a - c * 3 + d) * (t * t * t);
            result.push_back((b * 2 + linear + square + cube) * 0.5);
        }
    }
    if (!closed) result.push_back(knots.back());
    return result;
}

Outline ellipse(Point centre, double across, double along, double turn) {
    Outline result;
    constexpr int corners = 36;
    for (int k = 0; k < corners; ++k) {
        const double angle = 2 * pi * k / corners;
        result.push_back(
            placed({across * std::cos(angle), along * std::sin(angle)}, {.at = centre, .turn = turn}));
    }
    return result;
}

Outline disc(Point centre, double radius) {
    return ellipse(centre, radius, radius);
}

Outline ring(Point centre, double radius, double width) {
    Outline result = disc(centre, radius + width / 2);
    result.push_back(result.front());
    Outline hole = disc(centre, radius - width / 2);
    hole.push_back(hole.front());
    result.insert(result.end(), hole.rbegin(), hole.rend());
    return result;
}

Outline polygon(const std::vector<Point>& corners, double longest_edge) {
    Outline result;
    for (std::size_t k = 0; k < corners.size(); ++k) {
        const Point from = corners[k], to = corners[(k + 1) % corners.size()];
        const int parts = std::max(1, static_cast<int>(std::ceil(length(to - from) / longest_edge)));
        for (int part = 0; part < parts; ++part)
            result.push_back(from + (to - from) * (static_cast<double>(part) / parts));
    }
    return result;
}

Outline petal(double length, double width, double belly, double tip) {
    constexpr int steps = 14;
    // The exponent moves the widest place of sin(pi t^e) from the middle to `belly`.
    const double exponent = std::log(0.5) / std::log(belly);
    Outline right, left;
    for (int k = 0; k <= steps; ++k) {
        const double t = static_cast<double>(k) / steps;
        const double round = std::sin(pi * std::pow(t, exponent));
        const double half = width / 2 * std::pow(std::max(0.0, round), t < belly ? 0.9 : tip);
        right.push_back({half, -length * t});
        left.push_back({-half, -length * t});
    }
    right.insert(right.end(), left.rbegin(), left.rend());
    return right;
}

Outline notched_petal(double length, double width, double notch) {
    const double w = width / 2;
    return through({{0, 0},
                    {w * 0.62, -length * 0.3},
                    {w, -length * 0.68},
                    {w * 0.62, -length * 0.98},
                    {w * 0.22, -length * 0.99},
                    {0, -length * (1 - notch)},
                    {-w * 0.22, -length * 0.99},
                    {-w * 0.62, -length * 0.98},
                    {-w, -length * 0.68},
                    {-w * 0.62, -length * 0.3}},
                   true, 6);
}

Outline blob(Chance& chance, double radius, double unevenness, int lobes) {
    std::vector<Point> knots;
    const double start = chance.between(0, 2 * pi);
    for (int k = 0; k < lobes; ++k) {
        const double angle = start + 2 * pi * (k + chance.around(0, 0.25)) / lobes;
        knots.push_back(towards({}, angle, radius * (1 + chance.around(0, unevenness))));
    }
    return through(knots, true, 6);
}

Outline stroke(const std::vector<Point>& knots, double start, double middle, double end) {
    const Outline spine = through(knots, false, 7);
    Outline right, left;
    for (std::size_t k = 0; k < spine.size(); ++k) {
        const Point before = spine[k > 0 ? k - 1 : 0], after = spine[std::min(k + 1, spine.size() - 1)];
        const Point along = after - before;
        const double run = std::max(1e-9, length(along));
        const double t = static_cast<double>(k) / static_cast<double>(spine.size() - 1);
        const double width = t < 0.5 ? std::lerp(start, middle, t * 2) : std::lerp(middle, end, t * 2 - 1);
        const Point side = Point{-along.y, along.x} * (width / 2 / run);
        right.push_back(spine[k] + side);
        left.push_back(spine[k] - side);
    }
    right.insert(right.end(), left.rbegin(), left.rend());
    return right;
}

} // namespace motley::painter
