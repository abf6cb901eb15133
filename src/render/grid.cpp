#include "render/grid.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::render {

namespace {

using Outline = std::vector<unit::Point>;

/// What of a convex outline lies on the inner side of the line a*x + b*y >= c.
Outline clipped(const Outline& outline, double a, double b, double c) {
    Outline kept;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const unit::Point p = outline[i];
        const unit::Point q = outline[(i + 1) % outline.size()];
        const double from = a * p.x + b * p.y - c;
        const double to = a * q.x + b * q.y - c;
        if (from >= 0) kept.push_back(p);
        if ((from > 0 && to < 0) || (from < 0 && to > 0)) {
            const double t = from / (from - to);
            kept.push_back({p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)});
        }
    }
    return kept;
}

double area(const Outline& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const unit::Point p = outline[i];
        const unit::Point q = outline[(i + 1) % outline.size()];
        twice += p.x * q.y - q.x * p.y;
    }
    return twice / 2;
}

/// 1 where a pixel lies wholly inside a convex outline, 0 where wholly outside, else -1.
int plainly(const Outline& outline, double x, double y) {
    constexpr double reach = 0.7072; // From a pixel's middle to its corner.
    bool inside = true;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const unit::Point p = outline[i];
        const unit::Point q = outline[(i + 1) % outline.size()];
        const double length = std::sqrt((q.x - p.x) * (q.x - p.x) + (q.y - p.y) * (q.y - p.y));
        const double depth = ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x)) / length;
        if (depth <= -reach) return 0;
        if (depth < reach) inside = false;
    }
    return inside ? 1 : -1;
}

/// Share of the pixel at (u, v) that a convex outline covers, to 1/1024: what two neighbours share adds up
/// exactly, and ties are told apart from rounding.
float covered(const Outline& outline, int u, int v) {
    const int plain = plainly(outline, u + 0.5, v + 0.5);
    if (plain >= 0) return static_cast<float>(plain);
    const Outline row = clipped(clipped(outline, 0, 1, v), 0, -1, -(v + 1));
    const double share = area(clipped(clipped(row, 1, 0, u), -1, 0, -(u + 1)));
    return static_cast<float>(std::round(share * 1024) / 1024);
}

} // namespace

const unit::Form& form_of(const layout::Layout& layout) {
    const unit::Form* recipe = unit::find_form(layout.plan.recipe);
    expects(recipe != nullptr);
    return *recipe;
}

Grid make_grid(const layout::Plan& plan, int longest_side) {
    const unit::Form* recipe = unit::find_form(plan.recipe);
    expects(recipe != nullptr);
    Grid grid{
        .columns = plan.columns, .rows = plan.rows, .patches = static_cast<int>(recipe->patches.size())};
    expects(grid.columns > 0 && grid.rows > 0 && plan.finished.ticks > 0);
    expects(longest_side >= 64 && longest_side <= 20000);
    grid.cell = std::max(4, longest_side / std::max(grid.columns, grid.rows));
    if (grid.patches > 1) grid.cell -= grid.cell % 2;
    grid.ppi = grid.cell / plan.finished.in_inches();
    return grid;
}

Grid make_grid(const layout::Layout& layout, int longest_side) {
    const Grid grid = make_grid(layout.plan, longest_side);
    const auto cells = static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows);
    expects(layout.assignment.turns.size() == cells);
    expects(layout.assignment.patches.size() == cells * static_cast<std::size_t>(grid.patches));
    for (const palette::FabricId fabric : layout.assignment.patches)
        expects(palette::index(fabric) < layout.fabrics.size());
    for (const palette::Fabric& fabric : layout.fabrics) expects(fabric.colour.has_value());
    return grid;
}

std::vector<std::vector<float>> coverages(const unit::Form& recipe, int cell) {
    const auto size = static_cast<std::size_t>(cell);
    std::vector<std::vector<float>> shares;
    for (const unit::Patch& patch : recipe.patches) {
        Outline outline = patch.outline;
        for (unit::Point& p : outline) p = {p.x * cell, p.y * cell};
        std::vector<float> share(size * size);
        for (int v = 0; v < cell; ++v)
            for (int u = 0; u < cell; ++u)
                share[static_cast<std::size_t>(v) * size + static_cast<std::size_t>(u)] =
                    covered(outline, u, v);
        shares.push_back(std::move(share));
    }
    return shares;
}

std::vector<std::uint8_t> owners(const unit::Form& recipe, int cell) {
    const std::vector<std::vector<float>> shares = coverages(recipe, cell);
    const auto size = static_cast<std::size_t>(cell);
    std::vector<std::uint8_t> owner(size * size);
    for (std::size_t i = 0; i < owner.size(); ++i) {
        float most = 0;
        for (const std::vector<float>& share : shares) most = std::max(most, share[i]);
        std::vector<std::uint8_t> tied;
        for (std::size_t p = 0; p < shares.size(); ++p)
            if (shares[p][i] == most) tied.push_back(static_cast<std::uint8_t>(p));
        owner[i] = tied[(i / size) % tied.size()];
    }
    return owner;
}

} // namespace motley::render
