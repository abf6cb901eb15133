#include "scene/plane.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "fault/fault.h"

namespace motley::scene {

double dot(const Point& one, const Point& other) {
    return one.x * other.x + one.y * other.y;
}

double cross(const Point& one, const Point& other) {
    return one.x * other.y - one.y * other.x;
}

double length(const Point& step) {
    return std::sqrt(dot(step, step));
}

double area(std::span<const Point> outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i)
        twice += cross(outline[i], outline[(i + 1) % outline.size()]);
    return twice / 2;
}

bool inside(const Quad& quad, const Point& point) {
    for (std::size_t i = 0; i < 4; ++i)
        if (cross(quad[(i + 1) % 4] - quad[i], point - quad[i]) < 0) return false;
    return true;
}

bool convex(const Quad& quad) {
    for (std::size_t i = 0; i < 4; ++i) {
        const Point in = quad[(i + 1) % 4] - quad[i];
        const Point out = quad[(i + 2) % 4] - quad[(i + 1) % 4];
        if (cross(in, out) < 0.5 * length(in) * length(out)) return false;
    }
    return true;
}

double overlap(const Quad& one, const Quad& other) {
    std::vector<Point> both(one.begin(), one.end());
    for (std::size_t side = 0; side < 4 && !both.empty(); ++side) { // Sutherland-Hodgman.
        const Point from = other[side], along = other[(side + 1) % 4] - from;
        std::vector<Point> kept;
        for (std::size_t i = 0; i < both.size(); ++i) {
            const Point here = both[i], next = both[(i + 1) % both.size()];
            const double in = cross(along, here - from), then = cross(along, next - from);
            if (in >= 0) kept.push_back(here);
            if ((in < 0) != (then < 0)) kept.push_back(here + (next - here) * (in / (in - then)));
        }
        both = std::move(kept);
    }
    const double shared = both.empty() ? 0 : area(both);
    const double all = area(one) + area(other) - shared;
    return all > 0 ? std::clamp(shared / all, 0.0, 1.0) : 0;
}

Quad in_order(Quad quad) {
    if (area(quad) < 0) std::reverse(quad.begin(), quad.end());
    const auto first = std::min_element(quad.begin(), quad.end(), [](const Point& one, const Point& other) {
        return one.x + one.y < other.x + other.y;
    });
    std::rotate(quad.begin(), first, quad.end());
    return quad;
}

Line line_through(const Point& one, const Point& other) {
    const Point along = other - one;
    const double far = length(along);
    expects(far > 0);
    const Point normal{-along.y / far, along.x / far};
    return {normal, dot(normal, one)};
}

std::optional<Point> meeting(const Line& one, const Line& other) {
    const double turn = cross(one.normal, other.normal);
    if (std::abs(turn) < 1e-9) return std::nullopt;
    return Point{(one.offset * other.normal.y - other.offset * one.normal.y) / turn,
                 (other.offset * one.normal.x - one.offset * other.normal.x) / turn};
}

Point Homography::operator()(const Point& point) const {
    const double w = m[6] * point.x + m[7] * point.y + m[8];
    return {(m[0] * point.x + m[1] * point.y + m[2]) / w, (m[3] * point.x + m[4] * point.y + m[5]) / w};
}

Homography Homography::inverse() const {
    const auto minor = [&](std::size_t a, std::size_t b, std::size_t c, std::size_t d) {
        return m[a] * m[d] - m[b] * m[c];
    };
    Homography back{{minor(4, 5, 7, 8), -minor(1, 2, 7, 8), minor(1, 2, 4, 5), -minor(3, 5, 6, 8),
                     minor(0, 2, 6, 8), -minor(0, 2, 3, 5), minor(3, 4, 6, 7), -minor(0, 1, 6, 7),
                     minor(0, 1, 3, 4)}};
    const double scale = back.m[8] != 0 ? back.m[8] : 1;
    for (double& number : back.m) number /= scale;
    return back;
}

std::optional<std::vector<double>> solved(std::vector<double> matrix, std::vector<double> right) {
    const std::size_t n = right.size();
    expects(matrix.size() == n * n);
    for (std::size_t column = 0; column < n; ++column) {
        std::size_t pivot = column;
        for (std::size_t row = column + 1; row < n; ++row)
            if (std::abs(matrix[row * n + column]) > std::abs(matrix[pivot * n + column])) pivot = row;
        if (std::abs(matrix[pivot * n + column]) < 1e-14) return std::nullopt;
        if (pivot != column) {
            for (std::size_t c = 0; c < n; ++c) std::swap(matrix[pivot * n + c], matrix[column * n + c]);
            std::swap(right[pivot], right[column]);
        }
        for (std::size_t row = column + 1; row < n; ++row) {
            const double factor = matrix[row * n + column] / matrix[column * n + column];
            if (factor == 0) continue;
            for (std::size_t c = column; c < n; ++c) matrix[row * n + c] -= factor * matrix[column * n + c];
            right[row] -= factor * right[column];
        }
    }
    for (std::size_t row = n; row-- > 0;) {
        for (std::size_t c = row + 1; c < n; ++c) right[row] -= matrix[row * n + c] * right[c];
        right[row] /= matrix[row * n + row];
    }
    return right;
}

namespace {

/// Moves the middle of the points to the origin and makes their mean distance about 1, without which the
/// equations are lopsided.
struct Centred {
    Point middle;
    double scale = 1;

    explicit Centred(std::span<const Point> points) {
        for (const Point& point : points)
            middle = middle + point * (1.0 / static_cast<double>(points.size()));
        double far = 0;
        for (const Point& point : points) far += length(point - middle) / static_cast<double>(points.size());
        if (far > 0) scale = 1 / far;
    }
    Point operator()(const Point& point) const { return (point - middle) * scale; }
    Homography matrix() const {
        return {{scale, 0, -middle.x * scale, 0, scale, -middle.y * scale, 0, 0, 1}};
    }
};

Homography product(const Homography& one, const Homography& other) {
    Homography both;
    for (std::size_t row = 0; row < 3; ++row)
        for (std::size_t column = 0; column < 3; ++column) {
            double sum = 0;
            for (std::size_t k = 0; k < 3; ++k) sum += one.m[row * 3 + k] * other.m[k * 3 + column];
            both.m[row * 3 + column] = sum;
        }
    return both;
}

} // namespace

std::optional<Homography> homography(std::span<const Point> from, std::span<const Point> to) {
    expects(from.size() == to.size() && from.size() >= 4);
    const Centred near(from), far(to);
    std::vector<double> matrix(64, 0.0), right(8, 0.0);
    const auto add = [&](const std::array<double, 8>& row, double wanted) {
        for (std::size_t i = 0; i < 8; ++i) {
            for (std::size_t k = 0; k < 8; ++k) matrix[i * 8 + k] += row[i] * row[k];
            right[i] += row[i] * wanted;
        }
    };
    for (std::size_t i = 0; i < from.size(); ++i) {
        const Point p = near(from[i]), q = far(to[i]);
        add({p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y}, q.x);
        add({0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y}, q.y);
    }
    const auto found = solved(std::move(matrix), std::move(right));
    if (!found) return std::nullopt;
    Homography middle;
    std::copy(found->begin(), found->end(), middle.m.begin());
    middle.m[8] = 1;
    Homography whole = product(far.matrix().inverse(), product(middle, near.matrix()));
    if (std::abs(whole.m[8]) < 1e-12) return std::nullopt;
    const double scale = whole.m[8];
    for (double& number : whole.m) number /= scale;
    return whole;
}

} // namespace motley::scene
