#include "layout/top.h"

#include <catch.hpp>
#include <cmath>
#include <map>

#include "oracle/tops.h"
#include "sample.h"
#include "sample_top.h"

using namespace motley;
using namespace motley::layout;

namespace {

/// A top whose units show fabrics of chance.
Layout top_with(const std::vector<sample::Change>& changes, int fabrics = 6) {
    oracle::Dice dice(5);
    return sample::top_of_chance(changes, fabrics, dice);
}

double total(const Top& top, Part part) {
    double sum = 0;
    for (const Shape& shape : top.shapes)
        if (shape.part == part) sum += unit::area(shape.outline);
    return sum;
}

int many(const Top& top, Part part) {
    return static_cast<int>(std::count_if(top.shapes.begin(), top.shapes.end(),
                                          [part](const Shape& shape) { return shape.part == part; }));
}

const std::vector<std::vector<sample::Change>> settings{
    {},
    {{"/setting", R"({"columns": 4, "rows": 5, "arrangement": "on-point"})"}},
    {{"/setting", R"({"columns": 4, "rows": 3, "arrangement": "on-point", "alternate": "f1"})"}},
    {{"/setting", R"({"columns": 3, "rows": 4, "arrangement": "on-point",
                      "sashing": {"width": "1 1/2", "fabric": "f0", "cornerstone": ["f1", "f2"]}})"}},
    {{"/setting", R"({"columns": 1, "rows": 3, "arrangement": "on-point"})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "arrangement": "brick"})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "alternate": "f3"})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "sashing": {"width": "1", "fabric": "f0"}})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "sashing": {"width": "1", "fabric": "f0", "around": true,
                      "cornerstone": "f1"}})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "borders": [{"width": "1", "fabric": "f0"},
                      {"width": "4 1/2", "fabric": "f1", "corners": "mitred"},
                      {"width": "2", "fabric": ["*"], "pieced": true},
                      {"width": "3", "fabric": "f2", "corner": "f3"}]})"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "borders": [{"width": ["2", "1 1/2"], "fabric": "f0"},
                      {"width": "1 1/2", "fabric": ["*"], "pieced": true, "corner": "f3"}]})"},
     {"/unit/finished", R"("6")"}},
    {{"/setting", R"({"columns": 5, "rows": 4, "borders": [
                      {"width": "3", "pieced": {"recipe": "flying-geese-flip", "turns": "alternate"}},
                      {"width": "3", "pieced": {"recipe": "log-cabin"}, "corner": "f3"}]})"},
     {"/unit/finished", R"("6")"}},
    {{"/setting", R"({"columns": 4, "rows": 5, "arrangement": "on-point",
                      "borders": [{"width": ["1", "1 5/16"], "fabric": "f0"},
                      {"width": "3", "pieced": {"recipe": "half-square-triangle", "turns": [0, 1, 2]}}]})"},
     {"/unit/finished", R"("6")"}},
    {{"/unit", R"({"recipe": "half-square-triangle"})"},
     {"/setting", R"({"columns": 3, "rows": 3, "arrangement": "on-point"})"}},
    {{"/unit", R"({"recipe": "strip-set-triangle"})"}},
    {{"/unit", R"({"recipe": "log-cabin"})"},
     {"/setting", R"({"columns": 5, "rows": 3, "arrangement": "brick"})"}},
};

} // namespace

TEST_CASE("the shapes of a top cover it once, without gap or overlap") {
    for (std::size_t s = 0; s < settings.size(); ++s) {
        INFO("setting " << s);
        const Layout layout = top_with(settings[s]);
        const Top top = top_of(layout);
        double sum = 0;
        for (const Shape& shape : top.shapes) {
            REQUIRE(unit::area(shape.outline) > 0);
            REQUIRE(index(shape.fabric) < layout.fabrics.size());
            REQUIRE_FALSE(shape.to_cloth.mirrors()); // Printed side up.
            sum += unit::area(shape.outline);
        }
        CHECK(sum == Approx(top.width * top.height));
        CHECK(extent_of(layout.plan).width == Approx(top.width));
        CHECK(extent_of(layout.plan).height == Approx(top.height));
        oracle::Dice dice(7);
        int once = 0, points = 400;
        for (int i = 0; i < points; ++i) {
            const unit::Point p{(dice.below(99991) + 0.5) / 99991 * top.width,
                                (dice.below(99991) + 0.5) / 99991 * top.height};
            once += std::count_if(top.shapes.begin(), top.shapes.end(),
                                  [p](const Shape& shape) { return sample::holds(shape, p); }) == 1;
        }
        CHECK(once == points);
    }
}

TEST_CASE("pieces on the cloth are as large as on the top, and start at its corner") {
    for (const auto& changes : settings) {
        const Layout layout = top_with(changes);
        const Top top = top_of(layout);
        for (const Shape& shape : top.shapes) {
            const unit::Polygon cut = unit::moved(shape.outline, shape.to_cloth);
            REQUIRE(unit::area(cut) == Approx(unit::area(shape.outline)));
            const bool of_unit =
                shape.part == Part::unit || (shape.part == Part::border && shape.cell >= 0 &&
                                             layout.plan.setting.borders[oracle::at(shape.cell)].units);
            if (of_unit) continue; // Of a unit the cloth goes on under its seams.
            double left = HUGE_VAL, up = HUGE_VAL;
            for (const unit::Point p : cut) left = std::min(left, p.x), up = std::min(up, p.y);
            REQUIRE(left == Approx(0).margin(1e-9));
            REQUIRE(up == Approx(0).margin(1e-9));
        }
    }
}

TEST_CASE("a top on point has the size and triangles of the trade") {
    // Common practice, no source: a 6 in block on point measures 8 1/2 in (8.485) across; a setting of 4 by 5
    // holds 20 + 12 blocks, 14 side triangles and 4 corners. Derived: quarters of a square with legs of a
    // block, halves with a block's side as their long side.
    const Top top = top_of(top_with({{"/setting", R"({"columns": 4, "rows": 5, "arrangement": "on-point"})"},
                                     {"/unit/finished", R"("6")"}}));
    CHECK(top.width == Approx(4 * 6 * std::sqrt(2.0)));
    CHECK(top.height == Approx(5 * 6 * std::sqrt(2.0)));
    CHECK(many(top, Part::unit) == 20 + 12);
    CHECK(many(top, Part::side_triangle) == 14);
    CHECK(many(top, Part::corner_triangle) == 4);
    CHECK(total(top, Part::side_triangle) == Approx(14 * 18.0));
    CHECK(total(top, Part::corner_triangle) == Approx(4 * 9.0));
}

TEST_CASE("sashing has the strips and cornerstones that a hand count gives") {
    // Derived: 5 x 4 blocks: 4 x 4 + 5 x 3 strips between them, 4 x 3 crossings; all round 6 x 4 + 5 x 5 and
    // 6 x 5.
    const char* between =
        R"({"columns": 5, "rows": 4, "sashing": {"width": "1", "fabric": "f0", "cornerstone": "f1"}})";
    const char* around =
        R"({"columns": 5, "rows": 4, "sashing": {"width": "1", "fabric": "f0", "cornerstone": "f1", "around": true}})";
    Top top = top_of(top_with({{"/setting", between}, {"/unit/finished", R"("6")"}}));
    CHECK(many(top, Part::sash) == 31);
    CHECK(many(top, Part::cornerstone) == 12);
    CHECK(top.width == Approx(34));
    CHECK(top.height == Approx(27));
    top = top_of(top_with({{"/setting", around}, {"/unit/finished", R"("6")"}}));
    CHECK(many(top, Part::sash) == 49);
    CHECK(many(top, Part::cornerstone) == 30);
    CHECK(cornerstones(sample::plan({{"/setting", around}})) == 30);
    CHECK(top.width == Approx(36));
}

TEST_CASE("borders add twice their width; a mitred one loses nothing at its corners") {
    const char* setting = R"({"columns": 4, "rows": 3, "borders": [{"width": "1", "fabric": "f0"},
        {"width": "3", "fabric": "f1", "corners": "mitred"}]})";
    const Top top = top_of(top_with({{"/setting", setting}, {"/unit/finished", R"("6")"}}));
    CHECK(top.width == Approx(24 + 8));
    CHECK(top.height == Approx(18 + 8));
    CHECK(top.left == Approx(4));
    CHECK(total(top, Part::border) == Approx(32 * 26 - 24 * 18));
}

TEST_CASE("a unit's fabric lies where its turn puts it") {
    // Derived: the print of a half-square triangle is above right at turn 0; on point, a turn of 45 degrees
    // more puts it to the right.
    for (const bool on_point : {false, true}) {
        Layout top =
            top_with({{"/unit", R"({"recipe": "half-square-triangle", "finished": "6"})"},
                      {"/setting", on_point ? R"({"columns": 1, "rows": 1, "arrangement": "on-point"})"
                                            : R"({"columns": 1, "rows": 1})"}});
        for (int turn = 0; turn < 4; ++turn) {
            top.assignment.turns[0] = static_cast<std::uint8_t>(turn);
            const Top laid = top_of(top);
            const Shape& print = *std::find_if(
                laid.shapes.begin(), laid.shapes.end(),
                [](const Shape& shape) { return shape.part == Part::unit && shape.patch == 0; });
            const unit::Point off =
                unit::centre(print.outline) - unit::Point{laid.width / 2, laid.height / 2};
            const double pi = std::acos(-1.0);
            const double angle = -pi / 4 + (on_point ? pi / 4 : 0) + turn * pi / 2;
            CHECK(off.x == Approx(std::cos(angle) * unit::length(off)).margin(1e-9));
            CHECK(off.y == Approx(std::sin(angle) * unit::length(off)).margin(1e-9));
        }
    }
}

TEST_CASE("strips without cornerstones run on over the crossings") {
    // Derived: 5 x 4 blocks: 4 x 4 upright strips and 5 x 3 below the units, which cover the 4 x 3 crossings.
    const Top top = top_of(
        top_with({{"/setting", R"({"columns": 5, "rows": 4, "sashing": {"width": "1", "fabric": "f0"}})"},
                  {"/unit/finished", R"("6")"}}));
    CHECK(many(top, Part::sash) == 31);
    CHECK(total(top, Part::sash) == Approx(31 * 6 + 12));
}

TEST_CASE("units cut from one square show parts of it that meet nowhere") {
    // Virtual sewing cuts the patterned square of a strip set into four units: no cloth is shown twice.
    Layout top = top_with({{"/unit", R"({"recipe": "strip-set-triangle", "finished": "6"})"},
                           {"/setting", R"({"columns": 2, "rows": 2})"}});
    const Kit kit = make_kit(top.plan.sewn, 4, top.plan.usable_width);
    top.assignment.units = {0, 1, 2, 3};
    for (std::size_t s = 0; s < kit.slots.size(); ++s)
        top.assignment.slots.push_back(oracle::id(static_cast<int>(s) % 6));
    spell_out(kit, static_cast<int>(top.assignment.patches.size() / 4), oracle::id(6), top.assignment);
    const Top laid = top_of(top);
    double shown = 0;
    for (const Shape& a : laid.shapes)
        for (const Shape& b : laid.shapes) {
            const auto patch = [&](const Shape& s) {
                return top.plan.forms()[static_cast<std::size_t>(top.assignment.form(oracle::at(s.cell)))]
                    .patches[oracle::at(s.patch)];
            };
            if (a.cell >= b.cell || patch(a).input != patch(b).input) continue;
            shown += unit::area(
                unit::common(unit::moved(a.outline, a.to_cloth), unit::moved(b.outline, b.to_cloth)));
        }
    CHECK(shown == Approx(0).margin(1e-9));
}
