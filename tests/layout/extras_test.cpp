#include "layout/extras.h"

#include <catch.hpp>
#include <cmath>
#include <set>

#include "layout/top.h"
#include "oracle/tops.h"
#include "sample.h"
#include "sample_top.h"

using namespace motley;
using namespace motley::layout;

namespace {

/// Units and extras show fabrics of chance.
Layout top_with(const std::vector<sample::Change>& changes, int fabrics = 6) {
    oracle::Dice dice(5);
    Layout top = sample::top_of_chance(changes, fabrics, dice);
    for (int c = 0; c < cornerstones(top.plan); ++c) top.cornerstones.push_back(oracle::id(dice.below(6)));
    for (std::size_t b = 0; b < top.plan.setting.borders.size(); ++b) {
        top.borders.emplace_back();
        if (!top.plan.setting.borders[b].pieced) continue;
        for (int i = 0; i < border_patches(top.plan, b); ++i)
            top.borders[b].push_back(oracle::id(dice.below(6)));
    }
    return top;
}

/// [shape] those that touch it, corners included, by asking points close around outlines whose they are.
std::vector<std::set<std::size_t>> touching(const Top& top) {
    std::vector<std::set<std::size_t>> found(top.shapes.size());
    for (std::size_t s = 0; s < top.shapes.size(); ++s) {
        const auto& outline = top.shapes[s].outline;
        for (std::size_t i = 0; i < outline.size(); ++i)
            for (int k = 0; k < 8; ++k)
                for (int way = 0; way < 16; ++way) {
                    const double angle = (way + 0.5) * std::acos(-1.0) / 8;
                    const unit::Point p = outline[i] +
                                          (outline[(i + 1) % outline.size()] - outline[i]) * (k / 8.0) +
                                          unit::Point{std::cos(angle), std::sin(angle)} * 0.002;
                    for (std::size_t other = 0; other < top.shapes.size(); ++other)
                        if (other != s && sample::holds(top.shapes[other], p))
                            found[s].insert(other), found[other].insert(s);
                }
    }
    return found;
}

constexpr const char* pieced_top = R"({"columns": 4, "rows": 3,
    "sashing": {"width": "1", "fabric": "f0", "cornerstone": ["f1", "f2", "f3"]},
    "borders": [{"width": ["2 1/2", "2"], "fabric": "f5"},
                {"width": "4", "pieced": {"recipe": "half-square-triangle",
                                          "roles": {"ground": ["f4"]}, "turns": "alternate"}},
                {"width": "3", "fabric": ["f0", "f1", "f2"], "pieced": true}]})";

} // namespace

TEST_CASE("cornerstones and pieced borders know what they touch, as points around their outlines tell") {
    const Layout layout = top_with({{"/setting", pieced_top}, {"/unit/finished", R"("6")"}});
    const Top top = top_of(layout);
    const std::vector<Extra> extras = extras_of(layout);
    // Derived: 3 x 2 crossings; sides of 32 and 24 in hold 8 and 6 units of 4 in, with corners 32 units of
    // two patches; sides of 40 and 32 in hold 13 and 11 patches, with corners 52.
    REQUIRE(extras.size() == 6 + 64 + 52);
    const auto shape_of = [&](const Extra& one) {
        for (std::size_t s = 0; s < top.shapes.size(); ++s) {
            const Shape& shape = top.shapes[s];
            const bool kind = one.border < 0 ? shape.part == Part::cornerstone && shape.cell == one.number
                                             : shape.part == Part::border && shape.cell == one.border &&
                                                   shape.patch == one.number;
            if (kind) return s;
        }
        FAIL("no such shape");
        return top.shapes.size();
    };
    std::vector<std::size_t> shapes;
    for (const Extra& one : extras) shapes.push_back(shape_of(one));
    const auto near = touching(top);
    for (std::size_t e = 0; e < extras.size(); ++e) {
        std::set<int> touches;
        std::set<FabricId> beside;
        for (const std::size_t other : near[shapes[e]]) {
            const auto at = std::find(shapes.begin(), shapes.end(), other);
            if (at == shapes.end()) {
                beside.insert(top.shapes[other].fabric);
                continue;
            }
            const Extra& its = extras[static_cast<std::size_t>(at - shapes.begin())];
            const bool one_unit =
                its.border == 1 && extras[e].border == 1 && its.number / 2 == extras[e].number / 2;
            const bool grounds = its.takes.size() == 1 && extras[e].takes.size() == 1;
            if (!one_unit && !grounds) touches.insert(static_cast<int>(at - shapes.begin()));
        }
        CHECK(std::set<int>(extras[e].touches.begin(), extras[e].touches.end()) == touches);
        CHECK(std::set<FabricId>(extras[e].beside.begin(), extras[e].beside.end()) == beside);
    }
}

TEST_CASE("units of a border lie with their bottoms to the middle, or turned as the plan says") {
    // At turn 0 the print is above right: on the top side at the upper right, and so on round the top.
    Layout layout = top_with({{"/setting", R"({"columns": 2, "rows": 2, "borders": [
        {"width": "6", "pieced": {"recipe": "half-square-triangle", "roles": {"ground": ["f4"]}}}]})"},
                              {"/unit/finished", R"("6")"}});
    const auto print_off = [&](int unit) { // Where the print lies from its unit's middle.
        const Top top = top_of(layout);
        unit::Point print{}, ground{};
        for (const Shape& shape : top.shapes)
            if (shape.part == Part::border && shape.patch / 2 == unit)
                (shape.patch % 2 == 0 ? print : ground) = unit::centre(shape.outline);
        return std::pair(print.x > ground.x, print.y > ground.y); // Right of it, below it.
    };
    // Clockwise: corner 0, top 1 and 2, corner 3, right 4 and 5, corner 6, bottom 7 and 8, corner 9, left.
    CHECK(print_off(1) == std::pair(true, false));
    CHECK(print_off(4) == std::pair(true, true));
    CHECK(print_off(7) == std::pair(false, true));
    CHECK(print_off(10) == std::pair(false, false));
    CHECK(print_off(2) == print_off(1));
    layout.plan.setting.borders[0].units->turns = BorderTurns::from_middle;
    CHECK(print_off(2) == std::pair(false, false)); // The mirror image of its neighbour, and of the bottom's.
    CHECK(print_off(8) == std::pair(true, true));
    layout.plan.setting.borders[0].units->turns = BorderTurns::list;
    layout.plan.setting.borders[0].units->turn_list = {0, 2};
    CHECK(print_off(1) == std::pair(true, false));
    CHECK(print_off(2) == std::pair(false, true));
}

TEST_CASE("units that do not fill the sides are refused, and every remedy told does") {
    const auto with = [](const std::string& borders) {
        return std::vector<sample::Change>{
            {"/setting", R"({"columns": 7, "rows": 9, "borders": )" + borders + "}"},
            {"/unit/finished", R"("6")"}};
    };
    const std::string units = R"("pieced": {"recipe": "half-square-triangle"})";
    const Fault fault = sample::complaint([&] { sample::plan(with(R"([{"width": "4", )" + units + "}]")); });
    REQUIRE(sample::says(fault, "plan.json /setting/borders/0/width", "42 in and 54 in long"));
    // Derived: 44 and 56 are the next multiples of 4 that leave 1/2 in or more on both sides.
    CHECK(sample::says(fault, "plan.json /setting/borders/0/width", R"("width": "1 in")"));
    sample::plan(with(R"([{"width": "1 in", "fabric": "a"}, {"width": "4", )" + units + "}]"));
    for (const std::string width : {"3", "2", "6", "1 1/2"}) { // All divide 42 and 54.
        CHECK(sample::says(fault, "plan.json /setting/borders/0/width", "\"" + width + " in\""));
        sample::plan(with(R"([{"width": ")" + width + "\", " + units + "}]"));
    }
    // On point a side is 4 x 6 x sqrt 2 = 33.94 and 42.43 in long: only two widths can make up for both.
    std::vector<sample::Change> on_point{
        {"/setting", R"({"columns": 4, "rows": 5, "arrangement": "on-point", "borders": [
            {"width": "3", "pieced": {"recipe": "half-square-triangle"}}]})"},
        {"/unit/finished", R"("6")"}};
    const Fault uneven = sample::complaint([&] { sample::plan(on_point); });
    CHECK(sample::says(uneven, "plan.json /setting/borders/0/width", R"("width": ["1 in", "1 5/16 in"])"));
    on_point[0].second = R"({"columns": 4, "rows": 5, "arrangement": "on-point", "borders": [
            {"width": ["1 in", "1 5/16 in"], "fabric": "a"},
            {"width": "3", "pieced": {"recipe": "half-square-triangle"}}]})";
    sample::plan(on_point);
}

TEST_CASE("a border shows where it touches itself, and units where they touch its fabric") {
    Layout layout = top_with({{"/setting", R"({"columns": 4, "rows": 3, "borders": [{"width": "2",
        "fabric": "f0"}, {"width": "2", "fabric": ["f1", "f2", "f3"], "pieced": true}]})"}});
    const Board board = layout.plan.board();
    // Fabrics that leave nothing to say: rings of three by threes, units of others.
    for (int cell = 0; cell < board.cells(); ++cell)
        layout.assignment.patches[oracle::at(cell)] = oracle::id(4 + (cell + cell / 4) % 2);
    auto& ring = layout.borders[1];
    REQUIRE(ring.size() % 3 == 0);
    for (std::size_t i = 0; i < ring.size(); ++i) ring[i] = oracle::id(1 + static_cast<int>(i % 3));
    CHECK(broken_borders(layout).empty());
    ring[5] = ring[4];
    REQUIRE(broken_borders(layout).size() == 1);
    CHECK(broken_borders(layout)[0] == "touching: f2 at the pieced border 2 in 1 place");
    ring[5] = oracle::id(3);
    layout.assignment.patches[5] = oracle::id(0); // Row 2, column 2: inside.
    CHECK(broken_borders(layout).empty());
    layout.assignment.patches[7] = oracle::id(0);
    REQUIRE(broken_borders(layout).size() == 1);
    CHECK(broken_borders(layout)[0] == "touching: f0 at row 2, column 4 and the border of f0");
    layout.plan.rules.exempt = {"f0"};
    CHECK(broken_borders(layout).empty());
}

TEST_CASE("what a border of units cannot be is told where it stands") {
    const auto refused = [](const std::string& border, const std::string& where, const std::string& what) {
        const Fault fault = sample::complaint([&] {
            sample::plan({{"/setting", R"({"columns": 4, "rows": 4, "borders": [)" + border + "]}"},
                          {"/unit/finished", R"("6")"}});
        });
        INFO(fault.what());
        CHECK(sample::says(fault, "plan.json /setting/borders/0" + where, what));
    };
    refused(R"({"width": "3", "pieced": {"recipe": "nine-patch"}})", "/pieced/recipe", "sewn in batches");
    refused(R"({"width": "3", "pieced": {"recipe": "half-square-triangel"}})", "/pieced/recipe",
            "half-square-triangle");
    refused(R"({"width": "3", "pieced": {"recipe": "half-square-triangle", "roles": {"prnt": ["a"]}}})",
            "/pieced/roles/prnt", "print");
    refused(R"({"width": "3", "fabric": "a", "pieced": {"recipe": "half-square-triangle"}})", "/fabric",
            "roles");
    refused(R"({"width": "3", "corners": "mitred", "pieced": {"recipe": "half-square-triangle"}})", "",
            "mitred");
    refused(R"({"width": "1/2", "pieced": {"recipe": "half-square-triangle"}})", "/width", "too wide");
    refused(R"({"width": ["3", "2"], "pieced": {"recipe": "half-square-triangle"}})", "/width",
            "equally wide");
    refused(R"({"width": "3", "pieced": {"recipe": "half-square-triangle", "turns": "sideways"}})",
            "/pieced/turns", "from-middle");
    refused(R"({"width": ["3", "2", "1"], "fabric": "a"})", "/width", "3 widths");
}
