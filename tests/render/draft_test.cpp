#include "render/draft.h"

#include <catch.hpp>

#include "render/cover.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

const std::vector<palette::Fabric> five{
    made_up::fabric("a", {0.9, 0.9, 0.9}), made_up::fabric("b", {0.1, 0.1, 0.1}),
    made_up::fabric("c", {0.5, 0.1, 0.1}), made_up::fabric("d", {0.1, 0.5, 0.1}),
    made_up::fabric("e", {0.1, 0.1, 0.5})};

} // namespace

TEST_CASE("shapes cover the top: a place in it is inside exactly one, or on an edge") {
    for (const layout::Layout& top : made_up::all_kinds(five)) {
        const Draft draft(top, scale_of(top.plan, 300));
        for (int k = 0; k < 400; ++k) {
            const double x = made_up::chance(k, 1) * draft.width(),
                         y = made_up::chance(k, 2) * draft.height();
            int inside = 0, near = 0;
            for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
                double depth = 1e9;
                for (const Edge& edge : draft.edges(s)) depth = std::min(depth, edge.depth(x, y));
                inside += depth > 1e-6;
                near += std::abs(depth) <= 1e-6;
            }
            CHECK((inside == 1 || near > 0));
        }
    }
}

TEST_CASE("the coverage of a pixel is the share of it that an edge leaves inside") {
    for (int k = 0; k < 60; ++k) {
        const double angle = made_up::chance(k, 3) * 6.3, off = made_up::chance(k, 4) * 2 - 1;
        const Edge edge{std::cos(angle), std::sin(angle), off};
        int inside = 0;
        constexpr int fine = 300; // By counting.
        for (int i = 0; i < fine * fine; ++i)
            inside += edge.depth((i % fine + 0.5) / fine - 0.5, (i / fine + 0.5) / fine - 0.5) > 0;
        CHECK(static_cast<double>(cover(edge, 0, 0)) == Approx(inside / double(fine * fine)).margin(0.005));
        CHECK(cover(edge, 0, 0) + cover(edge.turned_over(), 0, 0) == Approx(1));
    }
    CHECK(cover(Edge{1, 0, 0}, 0.25, 7) == 0.75f); // Upright: no corner is cut off.
}

TEST_CASE("a seam runs through where rows meet, and is pressed to the darker side") {
    const layout::Layout top =
        made_up::top(2, 2, "plain-square",
                     {made_up::fabric("light", {0.8, 0.8, 0.8}), made_up::fabric("dark", {0.1, 0.1, 0.1})});
    const Draft draft(top, scale_of(top.plan, 100)); // Light above dark, light above dark.
    int level = 0, upright = 0;
    for (const Seam& seam : draft.seams()) {
        CHECK(seam.to - seam.from == Approx(100));
        const bool outer = seam.stretches.front().outer;
        if (outer) continue;
        if (seam.along.x == 1) { // Dark lies below right of it in both columns? Columns are light, dark.
            ++level;
            CHECK(seam.line.depth(50, 60) > 0);
            CHECK(seam.stretches.size() == 1); // Alike on both sides: to the first.
            CHECK(seam.stretches.front().under == -1);
        } else {
            ++upright;
            CHECK(seam.line.depth(60, 50) < 0);
            CHECK(seam.stretches.front().under == -1); // Dark is at the right, the shallow side.
        }
    }
    CHECK(level == 1);
    CHECK(upright == 1);
    CHECK(draft.seams().size() == 6);
}

TEST_CASE("there is no seam inside one piece of cloth") {
    layout::Layout top = made_up::top(1, 1, "plain-square", {five[0]});
    // The square in two convex parts, as it grew.
    unit::Patch half = top.plan.sewn.forms[0].patches[0], rest = half;
    half.outline = {{0, 0}, {0.4, 0}, {0.4, 1}, {0, 1}};
    rest.outline = {{0.4, 0}, {1, 0}, {1, 1}, {0.4, 1}};
    top.plan.sewn.forms[0].patches = {half, rest};
    top.assignment.patches.resize(2);
    CHECK(Draft(top, scale_of(top.plan, 100)).seams().size() == 4);
    top.plan.sewn.forms[0].patches[1].lie.x += 1; // Cut apart and sewn together again.
    CHECK(Draft(top, scale_of(top.plan, 100)).seams().size() == 5);
}
