#include "layout/mirror.h"

#include <catch.hpp>
#include <cmath>
#include <set>

#include "layout/top.h"
#include "oracle/tops.h"
#include "sample.h"

using namespace motley;
using namespace motley::layout;

namespace {

/// Fabrics by orbit, so that patches show the same exactly where they must.
Layout painted(const std::string& setting, const std::string& recipe, const char* turns = R"("fixed")") {
    Layout top;
    top.plan = sample::plan(
        {{"/setting", setting},
         {"/unit", R"({"finished": "6", "recipe": ")" + recipe + R"(", "turns": )" + turns + "}"}});
    top.fabrics = sample::fabrics(200);
    const Brief brief = make_brief(top.plan, top.fabrics, {});
    const Orbits found = orbits(brief, top.plan.setting.symmetry);
    REQUIRE(found.obstacle.empty());
    top.assignment.patches.assign(oracle::at(brief.patches()), oracle::id(200));
    for (const int turn : found.turns) top.assignment.turns.push_back(static_cast<std::uint8_t>(turn));
    for (std::size_t o = 0; o < found.patches.size(); ++o)
        for (const int patch : found.patches[o])
            top.assignment.patches[oracle::at(patch)] = oracle::id(static_cast<int>(o));
    return top;
}

FabricId shown(const Top& top, unit::Point p) {
    for (const Shape& shape : top.shapes) {
        bool in = true;
        for (std::size_t i = 0; i < shape.outline.size(); ++i) {
            const unit::Point a = shape.outline[i], b = shape.outline[(i + 1) % shape.outline.size()];
            in = in && unit::cross(b - a, p - a) >= 0;
        }
        if (in) return shape.fabric;
    }
    return no_fabric;
}

} // namespace

TEST_CASE(
    "a symmetric top looks the same after what it is symmetric to, and shows as many fabrics as that "
    "allows") {
    struct Case {
        const char* symmetry;
        int columns, rows;
        const char* rest;
        std::size_t orbits; ///< Of plain squares, derived by hand.
    };
    const Case cases[] = {
        {"mirror", 5, 3, "", 9},
        {"mirror-both", 5, 3, "", 6},
        {"half-turn", 5, 3, "", 8},
        {"quarter-turn", 4, 4, "", 4},
        {"mirror", 3, 3, R"(, "arrangement": "on-point")", 8},
        {"quarter-turn", 3, 3, R"(, "arrangement": "on-point")", 4},
        {"mirror", 4, 3, R"(, "arrangement": "brick")", 6},
    };
    for (const Case& c : cases) {
        INFO(c.symmetry << ' ' << c.columns << " x " << c.rows << c.rest);
        const std::string setting = fmt::format(R"({{"columns": {}, "rows": {}, "symmetry": "{}"{}}})",
                                                c.columns, c.rows, c.symmetry, c.rest);
        const Layout layout = painted(setting, "plain-square");
        const Top top = top_of(layout);
        std::set<FabricId> fabrics;
        for (const Shape& shape : top.shapes)
            if (shape.part == Part::unit) fabrics.insert(shape.fabric);
        CHECK(fabrics.size() == c.orbits);
        oracle::Dice dice(3);
        for (int i = 0; i < 200; ++i) {
            const double x = (dice.below(9973) + 0.5) / 9973 * top.width,
                         y = (dice.below(9973) + 0.5) / 9973 * top.height;
            const std::string name = c.symmetry;
            const FabricId here = shown(top, {x, y});
            if (name.starts_with("mirror")) CHECK(shown(top, {top.width - x, y}) == here);
            if (name == "mirror-both") CHECK(shown(top, {x, top.height - y}) == here);
            if (name != "mirror") CHECK(shown(top, {top.width - x, top.height - y}) == here);
            if (name == "quarter-turn") CHECK(shown(top, {top.width - y, x}) == here);
        }
    }
}

TEST_CASE("units of several patches are turned with their images") {
    for (const char* symmetry : {"mirror", "mirror-both", "quarter-turn"}) {
        INFO(symmetry);
        const Layout layout =
            painted(fmt::format(R"({{"columns": 4, "rows": 4, "symmetry": "{}"}})", symmetry),
                    "half-square-triangle", "[[0, 1, 2, 3], [3, 1, 0, 2]]");
        const Top top = top_of(layout);
        oracle::Dice dice(3);
        for (int i = 0; i < 200; ++i) {
            const double x = (dice.below(9973) + 0.5) / 9973 * 24, y = (dice.below(9973) + 0.5) / 9973 * 24;
            const FabricId here = shown(top, {x, y});
            CHECK(shown(top, std::string(symmetry) == "quarter-turn" ? unit::Point{24 - y, x}
                                                                     : unit::Point{24 - x, y}) == here);
        }
    }
}

TEST_CASE("a unit on the axis that is not its own image is told") {
    const Plan plan = sample::plan({{"/setting", R"({"columns": 3, "rows": 3, "symmetry": "mirror"})"},
                                    {"/unit/recipe", R"("half-square-triangle")"}});
    const Brief brief = make_brief(plan, sample::fabrics(5), {});
    CHECK(orbits(brief, Symmetry::mirror).obstacle.find("row 1, column 2") != std::string::npos);
}
