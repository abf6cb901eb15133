#include "layout/contact.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "fault/fault.h"

namespace motley::layout {

namespace {

using unit::Point;
using Outline = std::vector<Point>;

constexpr double tiny = 1e-9; // Unit widths: far below a tick of the smallest unit.

/// Length of the stretch that two segments on one line share; -1 when they have no point in common.
double shared_length(Point a, Point b, Point c, Point d) {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const double ux = (b.x - a.x) / length;
    const double uy = (b.y - a.y) / length;
    const auto along = [&](Point p) { return (p.x - a.x) * ux + (p.y - a.y) * uy; };
    const auto off = [&](Point p) { return std::abs((p.y - a.y) * ux - (p.x - a.x) * uy); };
    if (off(c) < tiny && off(d) < tiny) {
        const double low = std::max(0.0, std::min(along(c), along(d)));
        const double high = std::min(length, std::max(along(c), along(d)));
        return high < low - tiny ? -1 : std::max(0.0, high - low);
    }
    // Not on one line: patches of different cells never cross, so they can only share an end point of one of
    // them.
    for (const Point end : {c, d})
        if (off(end) < tiny && along(end) > -tiny && along(end) < length + tiny) return 0;
    return -1;
}

Contact meet(const Outline& one, const Outline& other) {
    double longest = -1;
    for (std::size_t i = 0; i < one.size(); ++i)
        for (std::size_t j = 0; j < other.size(); ++j) {
            const Point a = one[i], b = one[(i + 1) % one.size()];
            const Point c = other[j], d = other[(j + 1) % other.size()];
            longest = std::max({longest, shared_length(a, b, c, d), shared_length(c, d, a, b)});
        }
    return longest > tiny ? Contact::edge : longest >= 0 ? Contact::corner : Contact::none;
}

Outline placed(const Outline& outline, int turn, int row_step, int column_step) {
    Outline out;
    for (const Point corner : outline) {
        const Point p = unit::turned(corner, turn);
        out.push_back({p.x + column_step, p.y + row_step});
    }
    return out;
}

std::size_t step_of(int row_step, int column_step) {
    return static_cast<std::size_t>((row_step + 1) * 3 + column_step + 1);
}

} // namespace

Contacts::Contacts(const unit::Form& recipe) : patches_(static_cast<int>(recipe.patches.size())) {
    const std::size_t ways = recipe.patches.size() * 4;
    for (std::size_t way = 0; way < ways; ++way)
        centres_.push_back(unit::turned(recipe.patches[way / 4].centre, static_cast<int>(way % 4)));
    contacts_.assign(9 * ways * ways, Contact::none);
    for (int dr = -1; dr <= 1; ++dr)
        for (int dc = -1; dc <= 1; ++dc) {
            if (dr == 0 && dc == 0) continue;
            for (std::size_t one = 0; one < ways; ++one)
                for (std::size_t other = 0; other < ways; ++other)
                    contacts_[(step_of(dr, dc) * ways + one) * ways + other] =
                        meet(placed(recipe.patches[one / 4].outline, static_cast<int>(one % 4), 0, 0),
                             placed(recipe.patches[other / 4].outline, static_cast<int>(other % 4), dr, dc));
        }
}

Contact Contacts::between(int row_step, int column_step, int p, int t, int q, int u) const {
    if (std::abs(row_step) > 1 || std::abs(column_step) > 1) return Contact::none;
    const std::size_t ways = static_cast<std::size_t>(patches_) * 4;
    const std::size_t one = static_cast<std::size_t>(p * 4 + t);
    const std::size_t other = static_cast<std::size_t>(q * 4 + u);
    return contacts_[(step_of(row_step, column_step) * ways + one) * ways + other];
}

double Contacts::distance_squared(int row_step, int column_step, int p, int t, int q, int u) const {
    const Point a = centre(p, t);
    const Point b = centre(q, u);
    const double dx = b.x - a.x + column_step;
    const double dy = b.y - a.y + row_step;
    return dx * dx + dy * dy;
}

} // namespace motley::layout
