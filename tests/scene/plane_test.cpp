#include "scene/plane.h"

#include <catch.hpp>
#include <cmath>

using namespace motley::scene;

namespace {

Quad square(double x, double y, double side) {
    return {{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}};
}

} // namespace

TEST_CASE("two squares that share half of each overlap by a third") {
    // Derived: one half shared, one and a half together.
    CHECK(overlap(square(0, 0, 1), square(0.5, 0, 1)) == Approx(1.0 / 3));
    CHECK(overlap(square(0, 0, 1), square(0, 0, 1)) == Approx(1));
    CHECK(overlap(square(0, 0, 1), square(2, 0, 1)) == 0);
    CHECK(overlap(square(0, 0, 4), square(1, 1, 2)) == Approx(0.25));
}

TEST_CASE("a homography through four corners goes there and back") {
    const Quad from = square(0, 0, 10), to{{{100, 80}, {900, 120}, {820, 760}, {40, 600}}};
    const auto there = homography(from, to);
    REQUIRE(there);
    const Homography back = there->inverse();
    for (double x = -3; x < 14; x += 1.7)
        for (double y = -3; y < 14; y += 1.3) {
            const Point again = back((*there)({x, y}));
            CHECK(again.x == Approx(x).margin(1e-8));
            CHECK(again.y == Approx(y).margin(1e-8));
        }
    for (std::size_t i = 0; i < 4; ++i) CHECK(length((*there)(from[i]) - to[i]) < 1e-8);
    // A projective map keeps straight lines: the diagonals meet where the diagonals meet.
    const auto middle = meeting(line_through(to[0], to[2]), line_through(to[1], to[3]));
    REQUIRE(middle);
    CHECK(length((*there)({5, 5}) - *middle) < 1e-8);
}

TEST_CASE("corners on one line determine nothing") {
    const Quad line{{{0, 0}, {1, 1}, {2, 2}, {3, 3}}};
    CHECK_FALSE(homography(line, square(0, 0, 1)).has_value());
    CHECK_FALSE(convex(line));
}

TEST_CASE("corners are put in order whichever way they come") {
    const Quad straight = square(2, 3, 5);
    Quad turned{{straight[2], straight[1], straight[0], straight[3]}};
    CHECK(area(turned) < 0);
    const Quad ordered = in_order(turned);
    for (std::size_t i = 0; i < 4; ++i) CHECK(length(ordered[i] - straight[i]) == 0);
}
