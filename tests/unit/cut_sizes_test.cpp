// The sizes that the program finds by sewing, against the closed forms of the trade's geometry. s is the seam
// allowance, F the finished side, U = F + 2s. No recipe file holds any of these formulas.

#include <catch.hpp>

#include "workbench.h"

using namespace workbench;

namespace {

const double root = std::sqrt(2.0);
constexpr double exactly = 1e-9; // The figure asked for is 1e-6.

struct Size {
    double finished, seam;
};
/// Inches; among them 15 cm with 7 mm and with 0.6 cm, 1 in = 25.4 mm exactly.
std::vector<Size> sizes() {
    const auto ticks = [](double inches) { return measure::Length::inches(inches).in_inches(); };
    return {{6, 0.25},           {3, 0.25},  {12, 0.25},
            {4.5, 0.375},        {6, 0.125}, {ticks(150 / 25.4), ticks(7 / 25.4)},
            {8, ticks(6 / 25.4)}};
}

void check_found(const std::string& recipe, const std::string& name, double (*closed_form)(double, double)) {
    for (const auto [f, s] : sizes()) {
        INFO(recipe << ": " << name << " at " << f << " with " << s);
        CHECK(std::abs(exact_size(sewn(recipe, order(f, s)), name) - closed_form(f, s)) < exactly);
    }
}

} // namespace

TEST_CASE("half-square triangles: the squares to cut") {
    // Derived. Two at a time: the diagonal seam takes s sqrt 2 along each side of what is left beyond U.
    const auto two = [](double f, double s) { return f + s * (2 + root); };
    check_found("half-square-triangle", "square", two);
    check_found("half-square-triangle-two", "square", two);
    // Eight at a time: four of those squares in one.
    check_found("half-square-triangle-eight", "square",
                [](double f, double s) { return 2 * (f + s * (2 + root)); });
    // Four at a time: a quarter has the height L/2, its seam takes s, the unit opens to twice the height
    // along its diagonal: U = (L/2 - s) sqrt 2.
    check_found("half-square-triangle-four", "square",
                [](double f, double s) { return root * (f + 2 * s) + 2 * s; });
}

TEST_CASE("quarter-square triangles: the squares to cut") {
    // Derived: two diagonal seams, s sqrt 2 each.
    const auto twice = [](double f, double s) { return f + 2 * s * (1 + root); };
    check_found("quarter-square-triangle", "square", twice);
    // The same size holds for four single triangles, each a quarter of a square with its long side on the
    // outer edge.
    const unit::Recipe single =
        recipe_of(R"({"format": "motley recipe 1", "id": "single", "name": "single quarters",
        "find": [{"name": "square"}],
        "inputs": [{"name": "a", "shape": "quarter square", "width": "square", "pieces": 2},
                   {"name": "b", "shape": "quarter square", "width": "square", "pieces": 2}],
        "steps": [
            {"do": "turn", "thing": "a", "by": 45},
            {"do": "turn", "thing": "b", "by": -45},
            {"do": "join", "first": "a", "side": "right", "second": "b", "as": "halves"},
            {"do": "join", "first": "halves.1", "side": "top", "second": "halves.2", "turn": 180, "as": "unit"},
            {"do": "turn", "thing": "unit", "by": 45, "wish": {"find": "square", "width": "unfinished"}},
            {"do": "trim", "thing": "unit", "width": "unfinished", "height": "unfinished"}],
        "makes": "unit"})");
    for (const auto [f, s] : sizes()) {
        const unit::Sewn made = unit::sew(single, order(f, s));
        CHECK(std::abs(exact_size(made, "square") - twice(f, s)) < exactly);
        // An on-point side triangle for blocks of side B is this triangle with F = sqrt 2 B: sqrt 2 B + 2s(1
        // + sqrt 2).
        const double block = f / root;
        CHECK(std::abs(exact_size(made, "square") - (root * block + 2 * s * (1 + root))) < exactly);
        for (const auto& edge : made.forms[0].edges) // Long sides on the grain.
            for (const unit::EdgeShare& share : edge) CHECK_FALSE(share.bias);
    }
}

TEST_CASE("flying geese four at a time: the squares to cut") {
    // Derived, W = F wide and H = F/2 high: W + 2s(1 + sqrt 2) and H + s(2 + sqrt 2).
    check_found("flying-geese-four", "large", [](double f, double s) { return f + 2 * s * (1 + root); });
    for (const auto [f, s] : sizes()) // Cut as half the large one and a seam allowance, which is the same.
        CHECK(std::abs(sewn("flying-geese-four", order(f, s)).inputs.at(1).width - (f / 2 + s * (2 + root))) <
              exactly);
    // Stitch and flip: the corner square is as high as the goose, H + 2s.
    check_found("flying-geese-flip", "square", [](double f, double s) { return f / 2 + 2 * s; });
}

TEST_CASE("square in a square: the middle and the corners") {
    // Derived: the middle finishes at F / sqrt 2. The corners are on-point corner triangles for a block of
    // that side B: B / sqrt 2 + s(2 + sqrt 2).
    check_found("square-in-square", "square", [](double f, double s) { return f / root + 2 * s; });
    check_found("square-in-square", "corner",
                [](double f, double s) { return (f / root) / root + s * (2 + root); });
}

TEST_CASE("strips: a set of n strips measures n w - (n - 1) 2s") {
    for (const int n : {1, 2, 3, 5, 9})
        for (const auto [f, s] : sizes()) {
            const unit::Sewn made = sewn("rail", with(order(f, s), "strips", {static_cast<double>(n)}));
            const double w = exact_size(made, "strip");
            CHECK(std::abs(made.sets[0].width - (n * w - (n - 1) * 2 * s)) < exactly);
            CHECK(std::abs(made.sets[0].width - (f + 2 * s)) < exactly);
        }
    // Five strips of 2 1/2 in make 10 1/2 in (common practice, no source; and by the formula).
    const unit::Sewn five = sewn("strip-set-triangle", order(6, 0.25));
    CHECK(std::abs(five.sets[0].width - 10.5) < exactly);
}

TEST_CASE("pieces of patches: what is found is finished size and two seam allowances") {
    check_found("four-patch", "strip", [](double f, double s) { return f / 2 + 2 * s; });
    check_found("nine-patch", "strip", [](double f, double s) { return f / 3 + 2 * s; });
    // Seven logs across with three rounds.
    check_found("log-cabin", "log", [](double f, double s) { return f / 7 + 2 * s; });
    // A corner that finishes at F/3 loses a seam allowance at each end of its short sides.
    check_found("snowball", "small", [](double f, double s) { return f / 3 + 2 * s; });
    // Derived: nine squares measure 3w - 4s, the cut wastes nothing, one more seam takes 2s: w = (F + 8s)
    // / 3.
    check_found("disappearing-nine-patch", "square", [](double f, double s) { return (f + 8 * s) / 3; });
    for (const auto [f, s] : sizes()) {
        const unit::Sewn made = sewn("plain-square", order(f, s));
        CHECK(std::abs(made.inputs[0].width - (f + 2 * s)) < exactly);
    }
}

TEST_CASE("rounded up, the sizes are the handbook's at a quarter inch seam") {
    // Common practice, no source: F + 7/8, 2F + 1 3/4, F + 1 1/4; geese W + 1 1/4 and H + 7/8.
    for (double f = 1; f <= 12; f += 0.5) {
        INFO(f);
        const unit::Order asked = order(f, 0.25);
        CHECK(usual_size(sewn("half-square-triangle-two", asked), "square").in_inches() == f + 0.875);
        CHECK(usual_size(sewn("half-square-triangle-eight", asked), "square").in_inches() == 2 * f + 1.75);
        CHECK(usual_size(sewn("quarter-square-triangle", asked), "square").in_inches() == f + 1.25);
        const unit::Sewn geese = sewn("flying-geese-four", asked);
        CHECK(usual_size(geese, "large").in_inches() == f + 1.25);
        CHECK(geese.inputs.at(1).width_cut.in_inches() == f / 2 + 0.875);
    }
}

TEST_CASE("half-square triangles four at a time are never cut too small") {
    // Derived: U / 0.64 (common practice) cuts too small below U = 3.37 in; what is advised here never does,
    // and is within an eighth of an inch.
    for (double f = 0.5; f <= 12; f += 0.125) {
        const unit::Sewn made = sewn("half-square-triangle-four", order(f, 0.25));
        const double advised = usual_size(made, "square").in_inches();
        const double opens_to = (advised / 2 - 0.25) * root;
        CHECK(opens_to >= f + 0.5);
        CHECK(advised < root * (f + 0.5) + 0.5 + 0.125 + 1e-9);
    }
    CHECK(exact_size(sewn("half-square-triangle-four", order(2, 0.25)), "square") > 2.5 / 0.64);
}

TEST_CASE("metric sizes are rounded up to 5 mm, and kept where the ruler has them") {
    unit::Order asked = order(0, 0);
    asked.finished = measure::Length{150 * measure::Length::per_millimetre};
    asked.seam = measure::Length{7 * measure::Length::per_millimetre};
    asked.measure = measure::System::metric;
    // 150 + 7 (2 + sqrt 2) = 173.9 mm.
    CHECK(usual_size(sewn("half-square-triangle-two", asked), "square").ticks == 175 * 320);
    // 75 + 14 = 89 mm: whole millimetres.
    CHECK(usual_size(sewn("four-patch", asked), "strip").ticks == 89 * 320);
}

TEST_CASE(
    "sizes rounded up leave points where they belong: geese and the square on point show half the unit") {
    // Derived: the square on point has half the area of the square around it, a goose half its rectangle.
    for (const std::string recipe : {"square-in-square", "flying-geese-four", "flying-geese-flip"})
        for (const auto measure : {measure::System::inch, measure::System::metric})
            for (const auto [f, s] : sizes()) {
                INFO(recipe << " at " << f << " with " << s);
                unit::Order asked = order(f, s);
                asked.measure = measure;
                asked.sizes = unit::Sizes::usual;
                const unit::Sewn made = sewn(recipe, asked);
                for (const unit::Form& form : made.forms) {
                    CHECK(std::abs(visible(made, form)[0] - f * f / 2) < 1e-6);
                    for (const auto& edge : form.edges) // No sliver of the square on point: all on the grain.
                        for (const unit::EdgeShare& share : edge) CHECK_FALSE(share.bias);
                }
            }
}

TEST_CASE("logs of a cabin are all of one width, the outer ones too") {
    // Derived: seven logs across; the logs' areas add up ring by ring, the last is F long and F/7 wide.
    for (const auto [f, s] : sizes()) {
        unit::Order asked = order(f, s);
        asked.sizes = unit::Sizes::usual;
        const unit::Sewn made = sewn("log-cabin", asked);
        CHECK(std::abs(visible(made, made.forms[0])[12] - f * f / 7) < 1e-6);
        CHECK(std::abs(visible(made, made.forms[0])[0] - f * f / 49) < 1e-6);
    }
}
