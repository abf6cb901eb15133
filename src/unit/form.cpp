#include "unit/form.h"

#include <cmath>

#include "fault/fault.h"

namespace motley::unit {

namespace {

/// Centroid and area by the shoelace formula.
Patch patch(std::string role, std::vector<Point> outline) {
    Patch made{std::move(role), std::move(outline), {}, 0};
    for (std::size_t i = 0; i < made.outline.size(); ++i) {
        const Point a = made.outline[i];
        const Point b = made.outline[(i + 1) % made.outline.size()];
        const double cross = a.x * b.y - b.x * a.y;
        made.area += cross / 2;
        made.centre.x += (a.x + b.x) * cross / 6;
        made.centre.y += (a.y + b.y) * cross / 6;
    }
    made.centre.x /= made.area;
    made.centre.y /= made.area;
    return made;
}

} // namespace

const std::vector<Form>& forms() {
    static const std::vector<Form> all{
        {"plain-square", "plain square", {patch("patch", {{0, 0}, {1, 0}, {1, 1}, {0, 1}})}, 1},
        {"half-square-triangle",
         "half-square triangle",
         {patch("print", {{0, 0}, {1, 0}, {1, 1}}), patch("ground", {{0, 0}, {1, 1}, {0, 1}})},
         2},
    };
    return all;
}

const Form* find_form(std::string_view id) {
    for (const Form& recipe : forms())
        if (recipe.id == id) return &recipe;
    return nullptr;
}

Point turned(Point point, int turn) {
    switch (turn & 3) {
        case 1:
            return {1 - point.y, point.x};
        case 2:
            return {1 - point.x, 1 - point.y};
        case 3:
            return {point.y, 1 - point.x};
        default:
            return point;
    }
}

measure::Length cut_square(const Form& recipe, measure::Length finished, measure::Length seam) {
    expects(finished.ticks > 0 && seam.ticks >= 0);
    if (recipe.patches.size() == 1) return finished + seam * 2;
    const double seams = static_cast<double>(seam.ticks) * (2 + std::sqrt(2.0));
    return {finished.ticks + static_cast<std::int64_t>(std::ceil(seams - 1e-6))};
}

} // namespace motley::unit
