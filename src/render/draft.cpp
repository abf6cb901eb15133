#include "render/draft.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "fault/fault.h"

namespace motley::render {

namespace {

constexpr double same_place = 1e-4; ///< Pixels; far above rounding, far below what can be seen.

bool one_cloth(const layout::Shape& one, const layout::Shape& other) {
    const unit::Motion &a = one.to_cloth, &b = other.to_cloth;
    const double off =
        std::abs(a.xx - b.xx) + std::abs(a.xy - b.xy) + std::abs(a.x - b.x) + std::abs(a.y - b.y);
    return one.piece == other.piece && off < 1e-6;
}

} // namespace

/// One side of a shape, on its line.
struct Draft::Side {
    std::int64_t way_x = 0, way_y = 0; ///< The line's direction, rounded: the same for all on it.
    double off = 0;                    ///< How far the line passes from the origin.
    bool deep = false;                 ///< The shape lies to the line's right.
    double from = 0, to = 0;           ///< Along the line.
    unit::Point along, at;
    std::size_t shape = 0, edge = 0;
};

Draft::Draft(const layout::Layout& layout, const Scale& scale)
    : layout_(&layout), scale_(scale), top_(layout::top_of(layout)), first_{0} {
    for (const palette::Fabric& fabric : layout.fabrics) expects(fabric.colour.has_value());
    std::vector<Side> sides;
    for (std::size_t s = 0; s < top_.shapes.size(); ++s) {
        const layout::Shape& shape = top_.shapes[s];
        expects(palette::index(shape.fabric) < layout.fabrics.size() && shape.outline.size() >= 3);
        unit::Box box{1e300, 1e300, -1e300, -1e300};
        for (std::size_t i = 0; i < shape.outline.size(); ++i) {
            const unit::Point from = shape.outline[i] * scale.ppi,
                              to = shape.outline[(i + 1) % shape.outline.size()] * scale.ppi;
            box = {std::min(box.left, from.x), std::min(box.top, from.y), std::max(box.right, from.x),
                   std::max(box.bottom, from.y)};
            unit::Point along = unit::line_through({from, to}).along;
            constexpr double fine = 1e6;
            if (std::abs(along.x) * fine < 0.5) along = {0, along.y < 0 ? -1.0 : 1.0};
            if (std::abs(along.y) * fine < 0.5) along = {along.x < 0 ? -1.0 : 1.0, 0};
            const bool deep = along.x > 0 || (along.x == 0 && along.y > 0);
            if (!deep) along = along * -1;
            const double start = unit::dot(along, from), end = unit::dot(along, to);
            sides.push_back({std::llround(along.x * fine), std::llround(along.y * fine),
                             unit::cross(along, from), deep, std::min(start, end), std::max(start, end),
                             along, from, s, edges_.size()});
            edges_.emplace_back();
        }
        first_.push_back(edges_.size());
        boxes_.push_back(box);
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
        return std::tie(a.way_x, a.way_y, a.off, a.edge) < std::tie(b.way_x, b.way_y, b.off, b.edge);
    });
    for (std::size_t i = 0; i < sides.size();) {
        std::size_t end = i + 1;
        while (end < sides.size() && sides[end].way_x == sides[i].way_x &&
               sides[end].way_y == sides[i].way_y && sides[end].off - sides[end - 1].off < same_place)
            ++end;
        rule(std::span(sides).subspan(i, end - i));
        i = end;
    }
}

/// Draws one line for all that lie on it: the longest says where it runs.
void Draft::rule(std::span<const Side> sides) {
    const Side& longest = *std::max_element(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
        return a.to - a.from < b.to - b.from;
    });
    const unit::Point along = longest.along;
    const Edge line{-along.y, along.x, along.y * longest.at.x - along.x * longest.at.y};
    for (const Side& side : sides) edges_[side.edge] = side.deep ? line : line.turned_over();
    std::vector<Side> ordered(sides.begin(), sides.end());
    std::sort(ordered.begin(), ordered.end(), [](const Side& a, const Side& b) {
        return std::tie(a.from, a.edge) < std::tie(b.from, b.edge);
    });
    for (Side& side : ordered) side.along = along;
    sew(ordered);
}

/// Walks along a line, past the shapes on both sides of it.
void Draft::sew(std::span<const Side> sides) {
    std::vector<double> marks;
    for (const Side& side : sides) marks.insert(marks.end(), {side.from, side.to});
    std::sort(marks.begin(), marks.end());
    const auto lightness = [&](const Side& side) {
        return layout_->fabrics[palette::index(top_.shapes[side.shape].fabric)].colour->lab.l;
    };
    const Side *deep = nullptr, *shallow = nullptr; // The shapes beside the stretch.
    std::size_t next = 0;
    bool open = false;
    for (std::size_t m = 0; m + 1 < marks.size(); ++m) {
        if (marks[m + 1] - marks[m] < same_place) continue;
        const double middle = (marks[m] + marks[m + 1]) / 2;
        for (; next < sides.size() && sides[next].from < middle; ++next)
            (sides[next].deep ? deep : shallow) = &sides[next];
        if (deep && deep->to < middle) deep = nullptr;
        if (shallow && shallow->to < middle) shallow = nullptr;
        const bool seam =
            (deep || shallow) &&
            !(deep && shallow && one_cloth(top_.shapes[deep->shape], top_.shapes[shallow->shape]));
        if (!seam) {
            open = false;
            continue;
        }
        Stretch stretch{marks[m + 1], 0, !deep || !shallow};
        if (deep && shallow) { // Pressed to the darker fabric (common practice), or to the first of equals.
            const double here = lightness(*deep), there = lightness(*shallow);
            const bool under = here != there ? here < there : deep->shape < shallow->shape;
            stretch.under = under ? 1 : -1;
        }
        if (!open) {
            const Side& side = deep ? *deep : *shallow;
            const Edge edge = edges_[side.edge];
            seams_.push_back({side.deep ? edge : edge.turned_over(), side.along, marks[m], 0, {}});
        }
        open = true;
        Seam& last = seams_.back();
        last.to = stretch.to;
        if (!last.stretches.empty() && last.stretches.back().under == stretch.under &&
            last.stretches.back().outer == stretch.outer)
            last.stretches.back().to = stretch.to;
        else
            last.stretches.push_back(stretch);
    }
}

} // namespace motley::render
