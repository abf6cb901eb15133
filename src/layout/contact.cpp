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

/// A patch as it lies, with the box around it.
struct Laid {
    Outline outline;
    double left = HUGE_VAL, right = -HUGE_VAL, top = HUGE_VAL, bottom = -HUGE_VAL;

    Laid(const Outline& at_rest, int turn) {
        for (const Point corner : at_rest) {
            const Point p = unit::turned(corner, turn);
            outline.push_back(p);
            left = std::min(left, p.x), right = std::max(right, p.x);
            top = std::min(top, p.y), bottom = std::max(bottom, p.y);
        }
    }

    /// Whether the box of `other`, moved by `step`, comes up to this one.
    bool near(const Laid& other, Point step) const {
        return other.left + step.x <= right + tiny && other.right + step.x >= left - tiny &&
               other.top + step.y <= bottom + tiny && other.bottom + step.y >= top - tiny;
    }
};

Outline moved(Outline outline, Point step) {
    for (Point& p : outline) p.x += step.x, p.y += step.y;
    return outline;
}

std::size_t step_of(int row_step, int column_step) {
    return static_cast<std::size_t>((row_step + 1) * 3 + column_step + 1);
}

} // namespace

Contact contact_of(const Outline& one, const Outline& other, double least_edge) {
    double longest = -1;
    for (std::size_t i = 0; i < one.size(); ++i)
        for (std::size_t j = 0; j < other.size(); ++j) {
            const Point a = one[i], b = one[(i + 1) % one.size()];
            const Point c = other[j], d = other[(j + 1) % other.size()];
            longest = std::max({longest, shared_length(a, b, c, d), shared_length(c, d, a, b)});
        }
    return longest > std::max(tiny, least_edge - tiny) ? Contact::edge
           : longest >= 0                              ? Contact::corner
                                                       : Contact::none;
}

Contacts::Contacts(const std::vector<unit::Form>& forms, const Board& board, double least_edge)
    : poses_(static_cast<int>(forms.size()) * 4), pitch_(board.pitch()), bricks_(board.bricks()) {
    expects(!forms.empty());
    for (const unit::Form& form : forms) places_ = std::max(places_, static_cast<int>(form.patches.size()));
    std::vector<Laid> laid; // By way.
    for (int p = 0; p < places_; ++p)
        for (int t = 0; t < poses_; ++t) {
            const std::vector<unit::Patch>& patches = forms[static_cast<std::size_t>(t / 4)].patches;
            const bool there = p < static_cast<int>(patches.size());
            const unit::Patch* patch = there ? &patches[static_cast<std::size_t>(p)] : nullptr;
            centres_.push_back(there ? unit::turned(patch->centre, t % 4) : Point{0.5, 0.5});
            laid.emplace_back(there ? patch->outline : Outline{}, t % 4);
        }
    const std::size_t ways = laid.size();
    contacts_.assign(static_cast<std::size_t>(board.parities()) * 9 * ways * ways, Contact::none);
    for (int parity = 0; parity < board.parities(); ++parity)
        for (int dr = -1; dr <= 1; ++dr)
            for (int dc = -1; dc <= 1; ++dc) {
                if (dr == 0 && dc == 0) continue;
                const Point step = board.close_step(parity, dr, dc);
                const std::size_t first = static_cast<std::size_t>(parity) * 9 + step_of(dr, dc);
                for (std::size_t one = 0; one < ways; ++one)
                    for (std::size_t other = 0; other < ways; ++other)
                        if (laid[one].near(laid[other], step))
                            contacts_[(first * ways + one) * ways + other] =
                                contact_of(laid[one].outline, moved(laid[other].outline, step), least_edge);
            }
}

Contact Contacts::between(int parity, int row_step, int column_step, int p, int t, int q, int u) const {
    if (std::abs(row_step) > 1 || std::abs(column_step) > 1) return Contact::none;
    const std::size_t ways = centres_.size();
    const std::size_t first = static_cast<std::size_t>(parity) * 9 + step_of(row_step, column_step);
    return contacts_[(first * ways + way(p, t)) * ways + way(q, u)];
}

double Contacts::distance_squared(int parity, int row_step, int column_step, int p, int t, int q,
                                  int u) const {
    const Point a = centre(p, t);
    const Point b = centre(q, u);
    const double aside = bricks_ && row_step % 2 != 0 ? parity == 0 ? 0.5 : -0.5 : 0;
    const double dx = b.x - a.x + (column_step + aside) * pitch_;
    const double dy = b.y - a.y + row_step * pitch_;
    return dx * dx + dy * dy;
}

} // namespace motley::layout
