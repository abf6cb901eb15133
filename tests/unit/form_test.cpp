#include "unit/form.h"

#include <catch.hpp>
#include <cmath>

using namespace motley;
using measure::Length;

namespace {

const unit::Form& square() {
    return *unit::find_form("plain-square");
}
const unit::Form& triangle() {
    return *unit::find_form("half-square-triangle");
}
Length inches(double n) {
    return Length{std::llround(n * Length::per_inch)};
}

} // namespace

TEST_CASE("the square to cut is the closed form, rounded up to the tick") {
    // Derived: F + 2s for a plain square; F + s(2 + sqrt 2) for half-square triangles two at a time.
    for (const double finished : {0.5, 1.0, 2.0, 3.25, 6.0, 12.5, 60.0})
        for (const double seam : {0.0, 0.125, 0.25, 0.375, 0.5}) {
            const Length f = inches(finished), s = inches(seam);
            CHECK(unit::cut_square(square(), f, s).ticks == f.ticks + 2 * s.ticks);
            const double exact =
                static_cast<double>(f.ticks) + static_cast<double>(s.ticks) * (2 + std::sqrt(2.0));
            const double cut = static_cast<double>(unit::cut_square(triangle(), f, s).ticks);
            CHECK(cut >= exact - 1e-5);
            CHECK(cut < exact + 1);
        }
}

TEST_CASE("the handbook's round-ups are never too small at a quarter inch seam") {
    // Common practice, no source: finished + 1/2 in for squares, finished + 7/8 in for half-square triangles
    // two at a time.
    const Length seam = inches(0.25);
    for (double finished = 1; finished <= 12; finished += 0.25) {
        CHECK(unit::cut_square(square(), inches(finished), seam) == inches(finished + 0.5));
        CHECK(unit::cut_square(triangle(), inches(finished), seam) <= inches(finished + 0.875));
        CHECK(unit::cut_square(triangle(), inches(finished), seam) >
              inches(finished + 0.75)); // The next eighth down is too small.
    }
}

TEST_CASE("patches tile the unit, clockwise, with their centres inside") {
    for (const unit::Form& recipe : unit::forms()) {
        INFO(recipe.id);
        double area = 0, x = 0, y = 0;
        for (const unit::Patch& patch : recipe.patches) {
            CHECK(patch.area > 0); // On a screen, y down, clockwise outlines have a positive shoelace sum.
            area += patch.area;
            x += patch.area * patch.centre.x;
            y += patch.area * patch.centre.y;
            for (std::size_t i = 0; i < patch.outline.size(); ++i) {
                const auto a = patch.outline[i], b = patch.outline[(i + 1) % patch.outline.size()];
                CHECK((b.x - a.x) * (patch.centre.y - a.y) - (b.y - a.y) * (patch.centre.x - a.x) > 0);
            }
        }
        // Moments add up: the area-weighted mean of the centres is the middle of the unit.
        CHECK(area == Approx(1));
        CHECK(x == Approx(0.5));
        CHECK(y == Approx(0.5));
    }
}

TEST_CASE("a half-square triangle has its print above right and its ground below left") {
    REQUIRE(triangle().patches.size() == 2);
    CHECK(triangle().patches[0].role == "print");
    CHECK(triangle().patches[1].role == "ground");
    // Derived: the centroid of a triangle is the mean of its corners.
    CHECK(triangle().patches[0].centre.x == Approx(2.0 / 3));
    CHECK(triangle().patches[0].centre.y == Approx(1.0 / 3));
    CHECK(triangle().patches[1].centre.x == Approx(1.0 / 3));
    CHECK(triangle().patches[1].centre.y == Approx(2.0 / 3));
    CHECK(triangle().patches_from_square == 2);
    CHECK(square().patches_from_square == 1);
}

TEST_CASE("turns go clockwise and four of them come home") {
    const unit::Point top_left{0, 0};
    const unit::Point once = unit::turned(top_left, 1);
    CHECK(once.x == 1); // Clockwise on the screen: top left goes to top right.
    CHECK(once.y == 0);
    for (const unit::Point start : {unit::Point{0.2, 0.7}, unit::Point{1, 0}, unit::Point{0.5, 0.5}}) {
        unit::Point point = start;
        for (int turn = 0; turn < 4; ++turn) {
            const unit::Point direct = unit::turned(start, turn);
            CHECK(direct.x == Approx(point.x));
            CHECK(direct.y == Approx(point.y));
            point = unit::turned(point, 1);
        }
        CHECK(point.x == Approx(start.x));
        CHECK(point.y == Approx(start.y));
    }
}

TEST_CASE("recipes are found by id alone") {
    CHECK(unit::find_form("plain-square") == &unit::forms()[0]);
    CHECK(unit::find_form("Plain square") == nullptr);
    CHECK(unit::find_form("") == nullptr);
}
