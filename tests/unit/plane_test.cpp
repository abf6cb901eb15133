// The plane: rigid motions, half-plane cuts, hulls. And the sizes that recipes write.

#include "unit/plane.h"

#include <catch.hpp>
#include <cmath>
#include <cstdint>

#include "fault/fault.h"
#include "unit/expression.h"

using namespace motley;
using unit::Point;
using unit::Polygon;

namespace {

/// A small generator for test shapes (Lehmer, modulus 2^31 - 1, multiplier 48271: ISO C++ minstd_rand).
class Dice {
public:
    double operator()() { return static_cast<double>(state_ = state_ * 48271 % 2147483647) / 2147483647.0; }

private:
    std::uint64_t state_ = 20260101;
};

Polygon some_polygon(Dice& dice) {
    std::vector<Point> points;
    for (int i = 0; i < 7; ++i) points.push_back({dice() * 10, dice() * 10});
    return unit::hull(points);
}

bool same(Point a, Point b) {
    return unit::length(a - b) < 1e-12;
}

} // namespace

TEST_CASE("law: a cut loses nothing, and what two outlines share is the same both ways") {
    Dice dice;
    for (int round = 0; round < 500; ++round) {
        const Polygon a = some_polygon(dice), b = some_polygon(dice);
        const unit::Line line = unit::line_through({{dice() * 10, dice() * 10}, {dice() * 10, dice() * 10}});
        const auto sum = [](const std::vector<Polygon>& parts) {
            double total = 0;
            for (const Polygon& part : parts)
                if (!part.empty()) total += unit::area(part);
            return total;
        };
        CHECK(sum({unit::right_of(a, line), unit::right_of(a, unit::opposite(line))}) ==
              Approx(unit::area(a)).epsilon(1e-9));
        CHECK(sum({unit::common(a, b)}) == Approx(sum({unit::common(b, a)})).margin(1e-8));
        CHECK(sum({unit::common(a, b)}) + sum(unit::without(a, b)) == Approx(unit::area(a)).epsilon(1e-8));
        for (const Polygon& part : unit::without(a, b)) CHECK(unit::area(part) > 0);
    }
}

TEST_CASE("law: motions keep lengths, have inverses, and follow one another") {
    Dice dice;
    for (int degrees = -360; degrees <= 360; degrees += 45) {
        const unit::Motion turn = unit::rotated(degrees);
        const unit::Motion fold = unit::mirrored_in({{dice(), dice()}, {dice() + 2, dice()}});
        const unit::Motion both = fold.after(unit::shifted({3, -1}).after(turn));
        const Point p{dice(), dice()}, q{dice(), dice()};
        CHECK(unit::length(both(p) - both(q)) == Approx(unit::length(p - q)));
        CHECK(same(both.inverse()(both(p)), p));
        CHECK(same(both(p), fold(turn(p) + Point{3, -1})));
        CHECK_FALSE(turn.mirrors());
        CHECK(both.mirrors());
        CHECK(same(fold(fold(p)), p));
    }
    // Clockwise on the screen, y down: what points right points down after a quarter turn.
    CHECK(same(unit::rotated(90)(Point{1, 0}), {0, 1}));
    CHECK(same(unit::rotated(45)(Point{1, 0}), {std::sqrt(0.5), std::sqrt(0.5)}));
    CHECK(same(unit::mirrored_in({{0, 0}, {1, 1}})(Point{2, 0}), {0, 2}));
}

TEST_CASE("hulls run clockwise, without corners on straight edges") {
    const Polygon square =
        unit::hull({{1, 1}, {0, 0}, {1, 0}, {0.5, 0}, {0, 1}, {0.5, 0.5}, {1, 0.5}, {0, 0}});
    REQUIRE(square.size() == 4);
    CHECK(same(square[0], {0, 0}));
    CHECK(same(square[1], {1, 0}));
    CHECK(unit::area(square) == Approx(1));
    CHECK(same(unit::centre(square), {0.5, 0.5}));
    CHECK(unit::hull({{0, 0}, {1, 1}}).empty());
    CHECK(unit::hull({}).empty());
}

TEST_CASE("sizes: lengths, names, sums and products") {
    const auto value = [](const std::string& text, measure::System system = measure::System::inch) {
        return unit::Expression(text, system, "here").value([](const std::string& name) {
            return name == "finished" ? 6.0 : 0.25;
        });
    };
    CHECK(value("2 1/2") == 2.5);
    CHECK(value("2 1/2 in") == 2.5);
    CHECK(value("2.54 cm") == Approx(1).epsilon(1e-4));
    CHECK(value("2.54", measure::System::metric) == Approx(1).epsilon(1e-4));
    CHECK(value("finished / 2") == 3);
    CHECK(value("finished + 2 * seam") == 6.5);
    CHECK(value("2 * (finished - seam) / 4 - -1") == 3.875);
    CHECK(value("finished - seam - seam") == 5.5);
    CHECK(value("finished / 2 / 3") == 1);
    CHECK(unit::Expression("a * b + a", measure::System::inch, "").names() ==
          std::vector<std::string>{"a", "b"});
    CHECK(unit::Expression().empty());
    for (const char* bad :
         {"", "finished +", "* 2", "(finished", "finished)", "finished 2", "2 furlongs", "a $ b", "- ",
          "((((((((((((((((((((((((finished))))))))))))))))))))))))", "1e400 * a"}) {
        INFO(bad);
        CHECK_THROWS_AS(value(bad), Fault);
    }
}
