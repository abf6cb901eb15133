#include "unit/flat.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "fault/fault.h"

namespace motley::unit {

namespace {

constexpr double touching = 1e-7; ///< Sides found by their corners: some roundings farther than `same_point`.

/// What of a seam lies to the right of a line.
std::optional<Segment> right_of(Segment seam, const Line& line) {
    const double from = line.side(seam.from), to = line.side(seam.to);
    if (from <= same_point && to <= same_point) return std::nullopt;
    if (length(seam.to - seam.from) <= touching) return std::nullopt;
    const Point crossing = seam.from + (seam.to - seam.from) * (from / (from - to));
    Segment kept = seam;
    if (from < -same_point) kept.from = crossing;
    if (to < -same_point) kept.to = crossing;
    if (length(kept.to - kept.from) <= touching) return std::nullopt;
    return kept;
}

/// How far cloth that shows reaches along a line that it touches.
struct Reach {
    double from = std::numeric_limits<double>::infinity();
    double to = -std::numeric_limits<double>::infinity();
};

Reach reach(const Flat& flat, const Line& line) {
    Reach found;
    for (const Scrap& scrap : flat.scraps) {
        if (scrap.hidden) continue;
        for (const Point p : scrap.outline) {
            if (std::abs(line.side(p)) > touching) continue;
            const double at = dot(p - line.from, line.along);
            found.from = std::min(found.from, at);
            found.to = std::max(found.to, at);
        }
    }
    return found;
}

/// Everything left of the seam is folded under: back to the right of it, or straight on.
Flat folded(const Flat& flat, const Line& seam, bool back) {
    Flat made = right_of(flat, seam);
    const Motion fold = back ? mirrored_in({seam.from, seam.from + seam.along}) : Motion{};
    for (Scrap scrap : right_of(flat, opposite(seam)).scraps) {
        scrap.outline = moved(scrap.outline, fold);
        scrap.to_cloth = scrap.to_cloth.after(fold.inverse());
        scrap.hidden = true;
        made.scraps.push_back(scrap);
    }
    return made;
}

/// Adds `upper` to what lies there already, under it.
void slide_under(Flat& lying, const Flat& added) {
    const std::vector<Scrap> above = lying.scraps;
    for (const Scrap& scrap : added.scraps) {
        std::vector<Polygon> shown{scrap.outline};
        if (!scrap.hidden) {
            for (const Scrap& cover : above) {
                if (cover.hidden) continue;
                std::vector<Polygon> rest;
                for (const Polygon& part : shown) {
                    const Polygon under = common(part, cover.outline);
                    if (!under.empty())
                        lying.scraps.push_back({under, scrap.input, scrap.piece, scrap.to_cloth, true});
                    for (Polygon& outside : without(part, cover.outline)) rest.push_back(std::move(outside));
                }
                shown = std::move(rest);
            }
        }
        for (Polygon& part : shown)
            lying.scraps.push_back({std::move(part), scrap.input, scrap.piece, scrap.to_cloth, scrap.hidden});
    }
    lying.seams.insert(lying.seams.end(), added.seams.begin(), added.seams.end());
}

bool same(const Motion& a, const Motion& b) {
    const double difference = std::abs(a.xx - b.xx) + std::abs(a.xy - b.xy) + std::abs(a.yx - b.yx) +
                              std::abs(a.yy - b.yy) + std::abs(a.x - b.x) + std::abs(a.y - b.y);
    return difference < touching;
}

/// One convex polygon in place of two, when it is no larger.
std::optional<Polygon> together(const Polygon& a, const Polygon& b) {
    std::vector<Point> points = a;
    points.insert(points.end(), b.begin(), b.end());
    Polygon whole = hull(points);
    const double apart = area(a) + area(b);
    if (std::abs(area(whole) - apart) > touching * apart) return std::nullopt;
    return whole;
}

} // namespace

Flat moved(Flat flat, const Motion& motion) {
    const Motion back = motion.inverse();
    for (Scrap& scrap : flat.scraps) {
        scrap.outline = moved(scrap.outline, motion);
        scrap.to_cloth = scrap.to_cloth.after(back);
    }
    for (Segment& seam : flat.seams) seam = motion(seam);
    return flat;
}

Flat right_of(const Flat& flat, const Line& line) {
    Flat kept;
    for (const Scrap& scrap : flat.scraps)
        if (Polygon part = right_of(scrap.outline, line); !part.empty())
            kept.scraps.push_back({std::move(part), scrap.input, scrap.piece, scrap.to_cloth, scrap.hidden});
    for (const Segment seam : flat.seams)
        if (const auto part = right_of(seam, line)) kept.seams.push_back(*part);
    return kept;
}

double showing(const Flat& flat) {
    double sum = 0;
    for (const Scrap& scrap : flat.scraps)
        if (!scrap.hidden) sum += area(scrap.outline);
    return sum;
}

double allowances(const Flat& flat) {
    double sum = 0;
    for (const Scrap& scrap : flat.scraps)
        if (scrap.hidden) sum += area(scrap.outline);
    return sum;
}

Box box(const Flat& flat) {
    constexpr double far = std::numeric_limits<double>::infinity();
    Box around{far, far, -far, -far};
    for (const Scrap& scrap : flat.scraps) {
        if (scrap.hidden) continue;
        for (const Point p : scrap.outline) {
            around.left = std::min(around.left, p.x);
            around.top = std::min(around.top, p.y);
            around.right = std::max(around.right, p.x);
            around.bottom = std::max(around.bottom, p.y);
        }
    }
    expects(around.left < around.right);
    return around;
}

Segment edge(const Box& b, Side side) {
    switch (side) {
        case Side::top:
            return {{b.left, b.top}, {b.right, b.top}};
        case Side::right:
            return {{b.right, b.top}, {b.right, b.bottom}};
        case Side::bottom:
            return {{b.right, b.bottom}, {b.left, b.bottom}};
        case Side::left:
            return {{b.left, b.bottom}, {b.left, b.top}};
    }
    return {};
}

Segment edge(const Flat& flat, Side side) {
    const Line line = line_through(edge(box(flat), side));
    const Reach found = reach(flat, line);
    return {line.from + line.along * found.from, line.from + line.along * found.to};
}

Segment guide(const Box& b, Guide along) {
    switch (along) {
        case Guide::top:
            return edge(b, Side::top);
        case Guide::right:
            return edge(b, Side::right);
        case Guide::bottom:
            return edge(b, Side::bottom);
        case Guide::left:
            return edge(b, Side::left);
        case Guide::diagonal:
            return {{b.left, b.top}, {b.right, b.bottom}};
        case Guide::counter_diagonal:
            return {{b.left, b.bottom}, {b.right, b.top}};
        case Guide::across:
            return {{b.left, b.middle().y}, {b.right, b.middle().y}};
        case Guide::down:
            return {{b.middle().x, b.top}, {b.middle().x, b.bottom}};
    }
    return {};
}

Flat opened(const Flat& first, const std::vector<Flat>& others, const Line& seam, Press press) {
    // Both allowances lie on the side that they are pressed to; pressed open, each lies under its own cloth.
    const bool first_back = press != Press::second;
    const bool others_back = press != Press::first && press != Press::dark;
    Flat made = folded(first, seam, first_back);
    Flat beyond;
    for (const Flat& other : others) slide_under(beyond, folded(other, opposite(seam), others_back));
    const Reach a = reach(made, seam), b = reach(beyond, seam);
    made.scraps.insert(made.scraps.end(), beyond.scraps.begin(), beyond.scraps.end());
    made.seams.insert(made.seams.end(), beyond.seams.begin(), beyond.seams.end());
    const double from = std::max(a.from, b.from), to = std::min(a.to, b.to);
    if (from < to) made.seams.push_back({seam.from + seam.along * from, seam.from + seam.along * to});
    return made;
}

std::vector<Scrap> patches(const Flat& flat) {
    std::vector<Scrap> found;
    for (const Scrap& scrap : flat.scraps)
        if (!scrap.hidden) found.push_back(scrap);
    for (bool again = true; again;) {
        again = false;
        for (std::size_t i = 0; i < found.size(); ++i) {
            for (std::size_t j = i + 1; j < found.size(); ++j) {
                Scrap& a = found[i];
                const Scrap& b = found[j];
                if (a.input != b.input || a.piece != b.piece || !same(a.to_cloth, b.to_cloth)) continue;
                if (const auto whole = together(a.outline, b.outline)) {
                    a.outline = *whole;
                    found.erase(found.begin() + static_cast<std::ptrdiff_t>(j));
                    j = i;
                    again = true;
                }
            }
        }
    }
    return found;
}

} // namespace motley::unit
