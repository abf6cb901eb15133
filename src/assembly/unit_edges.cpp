#include "assembly/unit_edges.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "unit/recipe.h"

namespace motley::assembly {

namespace {

using unit::Point;

constexpr double same_place = 1e-6; ///< Unit coordinates.

bool presses_to_dark(const unit::Action& action) {
    return std::visit(
        [](const auto& operation) {
            if constexpr (requires { operation.press; })
                return operation.press == unit::Press::dark;
            else
                return true;
        },
        action.operation);
}

/// Of a point on the edge, which clockwise begins in a corner.
Point on_edge(int side, double at) {
    return unit::turned({at, 0}, side);
}

bool on_line(Point p, Point from, Point along) {
    return std::abs(unit::cross(along, p - from)) < same_place;
}

/// How far a patch reaches along a line that it touches, from a point of the line on; 0 when it does not.
struct Touch {
    double from = 0, to = 0;
};
std::vector<Touch> touches(const unit::Patch& patch, Point start, Point along) {
    std::vector<Touch> found;
    for (std::size_t i = 0; i < patch.outline.size(); ++i) {
        const Point a = patch.outline[i], b = patch.outline[(i + 1) % patch.outline.size()];
        if (!on_line(a, start, along) || !on_line(b, start, along)) continue;
        const double x = unit::dot(a - start, along), y = unit::dot(b - start, along);
        found.push_back({std::min(x, y), std::max(x, y)});
    }
    return found;
}

bool on_boundary(Point p) {
    return std::min({p.x, p.y, 1 - p.x, 1 - p.y}) < same_place;
}

/// Whether the seam that ends at `start` between two patches is theirs alone: it goes on to the unit's edge,
/// or to another seam and not beyond.
bool between_two(const unit::Form& form, Point start, const unit::Patch& one, const unit::Patch& other) {
    for (std::size_t i = 0; i < one.outline.size(); ++i) {
        const Point a = one.outline[i], b = one.outline[(i + 1) % one.outline.size()];
        Point far{};
        if (unit::length(a - start) < same_place)
            far = b;
        else if (unit::length(b - start) < same_place)
            far = a;
        else
            continue;
        const double reach = unit::length(far - start);
        const Point along = (far - start) * (1 / reach);
        const Point middle = start + along * (reach / 2);
        if (on_boundary(middle)) continue; // The unit's own edge.
        const std::vector<Touch> theirs = touches(other, start, along);
        const bool shared = std::any_of(theirs.begin(), theirs.end(), [&](const Touch& touch) {
            return std::abs(touch.from) < same_place && std::abs(touch.to - reach) < same_place;
        });
        if (!shared) return false;
        for (const unit::Patch& patch : form.patches)
            for (const Touch& touch : touches(patch, start, along))
                if (touch.to > reach + same_place) return false;
        return true;
    }
    return false;
}

FormEdges edges_of(const unit::Form& form, bool all_dark) {
    FormEdges made;
    for (std::size_t side = 0; side < form.edges.size(); ++side) {
        const std::vector<unit::EdgeShare>& shares = form.edges[side];
        for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
            const int before = shares[i].patch, after = shares[i + 1].patch;
            if (before == after) continue;
            const auto& patches = form.patches;
            const bool alone = between_two(form, on_edge(static_cast<int>(side), shares[i].to),
                                           patches[static_cast<std::size_t>(before)],
                                           patches[static_cast<std::size_t>(after)]);
            made.ends[side].push_back({shares[i].to, before, after, all_dark && alone});
        }
        const std::vector<unit::EdgeShare>& next = form.edges[(side + 1) % form.edges.size()];
        made.corner[side] = !shares.empty() && !next.empty() && shares.back().patch != next.front().patch;
    }
    return made;
}

} // namespace

std::vector<FormEdges> edges_of(const layout::Plan& plan) {
    const unit::Recipe* recipe = unit::find_recipe(plan.recipe);
    const bool all_dark = recipe && std::all_of(recipe->steps.begin(), recipe->steps.end(), presses_to_dark);
    std::vector<FormEdges> made;
    for (const unit::Form& form : plan.forms()) made.push_back(edges_of(form, all_dark));
    return made;
}

} // namespace motley::assembly
