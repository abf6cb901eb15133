#include "layout/mirror.h"

#include <catch.hpp>
#include <cmath>
#include <set>

#include "layout/score.h"
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

TEST_CASE("where turns are free, images touch only if every filling of every turning does") {
    for (const char* symmetry : {"mirror", "half-turn", "mirror-both"})
        for (const char* touching : {"edge", "corner"})
            for (const bool exempt : {true, false}) {
                INFO(symmetry << ' ' << touching << ' ' << exempt);
                const Plan plan = sample::plan(
                    {{"/setting", fmt::format(R"({{"columns": 2, "rows": 2, "symmetry": "{}"}})", symmetry)},
                     {"/unit",
                      R"({"recipe": "half-square-triangle", "turns": "any", "roles": {"ground": ["f0"]}})"},
                     {"/rules", fmt::format(R"({{"touching": "{}", "exempt": [{}]}})", touching,
                                            exempt ? R"("f0")" : "")}});
                const Brief brief = make_brief(plan, sample::fabrics(9), {});
                const Orbits found = orbits(brief, plan.setting.symmetry);
                // Every turn of the four units; prints all differ unless they are images.
                bool any = false;
                for (int code = 0; code < 256 && !any; ++code) {
                    Brief fixed = brief;
                    for (int cell = 0; cell < 4; ++cell)
                        fixed.turns[oracle::at(cell)] = code >> (2 * cell) & 3;
                    fixed.pinned_turn.assign(4, 1);
                    const Orbits these = orbits(fixed, plan.setting.symmetry);
                    if (!these.obstacle.empty()) continue;
                    Assignment top;
                    top.patches.assign(8, oracle::id(0));
                    for (const int turn : these.turns) top.turns.push_back(static_cast<std::uint8_t>(turn));
                    int next = 0;
                    for (const auto& orbit : these.patches) {
                        const bool print =
                            brief.role(orbit[0] % 2) == "print"; // All grounds are the one fabric.
                        if (print) ++next;
                        for (const int patch : orbit)
                            top.patches[oracle::at(patch)] = oracle::id(print ? next : 0);
                    }
                    int pairs = 0;
                    broken_rules(fixed, top, &pairs);
                    any = pairs == 0;
                }
                if (exempt || any) CHECK(found.possible() == any);
            }
}

TEST_CASE("turns of images follow the plan's; pinned ones that do not fit are told, and so are fabrics") {
    const std::vector<sample::Change> changes{
        {"/setting", R"({"columns": 4, "rows": 3, "symmetry": "mirror"})"},
        {"/unit", R"({"recipe": "half-square-triangle", "turns": "alternate"})"}};
    const Brief brief = make_brief(sample::plan(changes), sample::fabrics(5), {});
    // Derived: print above right (0) is mirrored to above left (3), below right (1) to below left (2).
    CHECK(std::vector<int>(brief.turns.begin(), brief.turns.begin() + 4) == std::vector<int>{0, 1, 2, 3});
    auto pinned = changes;
    pinned.emplace_back("/pins", R"([{"row": 1, "column": 4, "turn": 2}])");
    const Brief by_image = make_brief(sample::plan(pinned), sample::fabrics(5), {});
    CHECK(by_image.turns[0] == 1);
    pinned.back().second = R"([{"row": 1, "column": 4, "turn": 2}, {"row": 1, "column": 1, "turn": 2}])";
    const Brief clash = make_brief(sample::plan(pinned), sample::fabrics(5), {});
    CHECK(orbits(clash, Symmetry::mirror).obstacle.find("pinned to turns") != std::string::npos);
    pinned.back().second =
        R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 4, "fabrics": ["f1"]}])";
    const Brief fabrics = make_brief(sample::plan(pinned), sample::fabrics(5), {});
    CHECK(orbits(fabrics, Symmetry::mirror).obstacle.find("f0 is pinned") != std::string::npos);
}
