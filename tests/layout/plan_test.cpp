#include "layout/plan.h"

#include <catch.hpp>

#include "sample.h"

using namespace motley;
using namespace motley::layout;
using sample::Change;
using sample::Json;

namespace {

Json full() {
    return Json::parse(R"({
        "format": "motley plan 1", "name": "Test", "measure": "inch", "seam": "1/4", "palette": "../p",
        "setting": {"columns": 11, "rows": 13, "arrangement": "straight", "borders": []},
        "unit": {"recipe": "half-square-triangle", "finished": "6 1/2", "roles": {"print": ["*"], "ground": ["linen", "oat"]},
                 "turns": "pinwheel"},
        "rules": {"touching": "edge", "apart": 3, "line": true, "contrast": 12.5, "same_if_closer_than": 4, "exempt": ["linen"]},
        "wishes": {"spread": 2, "colour": 0, "value": 3, "value_aim": "diagonal"},
        "counts": {"plum": 6, "linen": {"at_most": 90}, "oat": {"at_least": 3, "at_most": 60}, "fern": "stock", "*": "even"},
        "pins": [{"row": 1, "column": 2, "fabrics": [null, "linen"], "turn": 3}, {"row": 13, "column": 11, "turn": 0}],
        "seed": 7})");
}

Plan read(const Json& json) {
    return read_plan(document::Node(json, "plan.json"));
}

} // namespace

TEST_CASE("a plan that says everything is read as it says") {
    const Plan plan = read(full());
    CHECK(plan.name == "Test");
    CHECK(plan.file == "plan.json");
    CHECK(plan.where("/pins/3") == "plan.json /pins/3");
    CHECK(plan.palette == "../p");
    CHECK(plan.columns == 11);
    CHECK(plan.rows == 13);
    CHECK(plan.recipe == "half-square-triangle");
    CHECK(plan.seam.ticks == 2032);      // 8128 / 4
    CHECK(plan.finished.ticks == 52832); // 8128 * 6.5
    CHECK(plan.turns == Turns::pinwheel);
    CHECK(plan.roles.at("ground") == std::vector<std::string>{"linen", "oat"});
    CHECK(plan.rules.touching == Touching::edge);
    CHECK(plan.rules.apart == 3);
    CHECK(plan.rules.line);
    CHECK(plan.rules.contrast == 12.5);
    CHECK(plan.rules.same_if_closer_than == 4);
    CHECK(plan.rules.exempt == std::vector<std::string>{"linen"});
    CHECK(plan.wishes.spread == 2);
    CHECK(plan.wishes.colour == 0);
    CHECK(plan.wishes.value == 3);
    CHECK(plan.wishes.aim == Aim::diagonal);
    REQUIRE(plan.counts.size() == 5);
    CHECK(plan.counts[0].first == "plum");
    CHECK(plan.counts[0].second.kind == Count::Kind::exact);
    CHECK(plan.counts[0].second.least == 6);
    CHECK(plan.counts[0].second.most == 6);
    CHECK(plan.counts[1].second.kind == Count::Kind::between);
    CHECK(plan.counts[1].second.least == 0);
    CHECK(plan.counts[1].second.most == 90);
    CHECK(plan.counts[2].second.least == 3);
    CHECK(plan.counts[2].second.most == 60);
    CHECK(plan.counts[3].second.kind == Count::Kind::stock);
    CHECK(plan.counts[4].second.kind == Count::Kind::even);
    REQUIRE(plan.pins.size() == 2);
    CHECK(plan.pins[0].row == 0);
    CHECK(plan.pins[0].column == 1);
    REQUIRE(plan.pins[0].fabrics.size() == 2);
    CHECK_FALSE(plan.pins[0].fabrics[0]);
    CHECK(plan.pins[0].fabrics[1] == "linen");
    CHECK(plan.pins[0].turn == 3);
    CHECK(plan.pins[1].row == 12);
    CHECK(plan.seed == 7);
    CHECK(plan.json == full());
}

TEST_CASE("only the palette and the size are required") {
    const Plan plan = sample::plan({});
    CHECK(plan.measure == measure::System::inch);
    CHECK(plan.seam.ticks == 2032);
    CHECK(plan.finished.ticks == 48768);
    CHECK(plan.recipe == "plain-square");
    CHECK(plan.turns == Turns::fixed);
    CHECK(plan.roles.empty());
    CHECK(plan.rules.touching == Touching::corner);
    CHECK(plan.rules.apart == 1);
    CHECK(plan.wishes.spread == 1);
    CHECK(plan.wishes.colour == 0.5);
    CHECK(plan.wishes.value == 1);
    CHECK(plan.wishes.aim == Aim::even);
    CHECK(plan.seed == 1);
    const Plan metric = sample::plan({{"/measure", R"("metric")"}});
    CHECK(metric.seam.ticks == 2400);      // 7.5 mm of 320 ticks
    CHECK(metric.finished.ticks == 48000); // 150 mm
    // Keys left out of a section keep their defaults.
    CHECK(sample::plan({{"/wishes", R"({"spread": 3})"}}).wishes.colour == 0.5);
}

TEST_CASE("lengths are read in the plan's measure") {
    CHECK(sample::plan({{"/unit", R"({"finished": 4.5})"}}).finished.ticks == 36576);
    CHECK(sample::plan({{"/measure", R"("metric")"}, {"/unit", R"({"finished": 10})"}}).finished.ticks ==
          32000);
    CHECK(sample::plan({{"/measure", R"("metric")"}, {"/unit", R"({"finished": "4 in"})"}}).finished.ticks ==
          32512);
    CHECK(sample::plan({{"/seam", "0"}}).seam.ticks == 0);
}

TEST_CASE("turns may be a grid, value a picture") {
    const Plan plan = sample::plan(
        {{"/unit", R"({"turns": [[0, 1], [3, 2]]})"}, {"/wishes", R"({"value_aim": {"picture": "a.png"}})"}});
    CHECK(plan.turns == Turns::grid);
    CHECK(plan.turn_grid == std::vector<std::vector<int>>{{0, 1}, {3, 2}});
    CHECK(plan.wishes.aim == Aim::picture);
    CHECK(plan.wishes.picture == "a.png");
}

TEST_CASE("seeds may be as large as 64 bits") {
    CHECK(sample::plan({{"/seed", "18446744073709551615"}}).seed == 18446744073709551615ULL);
    CHECK(sample::plan({{"/seed", "0"}}).seed == 0);
}

namespace {

struct Bad {
    std::vector<Change> changes;
    std::string pointer;  ///< Of the one complaint.
    std::string fragment; ///< That it says.
};

const Bad bad_plans[] = {
    {{{"/format", R"("motley plan 2")"}}, "/format", "motley plan 1"},
    {{{"/format", R"("motley palette 1")"}}, "/format", "not a plan"},
    {{{"/format", "1"}}, "/format", ""},
    {{{"/colums", "3"}}, "/colums", ""},
    {{{"/rulez", "{}"}}, "/rulez", "rules"},
    {{{"/measure", R"("inches")"}}, "/measure", "inch"},
    {{{"/measure", "3"}}, "/measure", ""},
    {{{"/palette", ""}}, "", "palette"},
    {{{"/palette", R"("")"}}, "/palette", "name the folder"},
    {{{"/palette", "[]"}}, "/palette", ""},
    {{{"/name", "[]"}}, "/name", ""},
    {{{"/setting", ""}}, "", "setting"},
    {{{"/setting", "4"}}, "/setting", ""},
    {{{"/setting/columns", ""}}, "/setting", "columns"},
    {{{"/setting/rows", "0"}}, "/setting/rows", "0"},
    {{{"/setting/rows", "-3"}}, "/setting/rows", "-3"},
    {{{"/setting/rows", "2.5"}}, "/setting/rows", "2.5"},
    {{{"/setting/rows", R"("3")"}}, "/setting/rows", ""},
    {{{"/setting/rows", "40001"}}, "/setting/rows", "40001"},
    {{{"/setting/rows", "1e300"}}, "/setting/rows", ""},
    {{{"/setting/rows", "201"}, {"/setting/columns", "200"}}, "/setting", "40200"},
    {{{"/setting/row", "3"}}, "/setting/row", "rows"},
    {{{"/setting/arrangement", R"("bricks")"}}, "/setting/arrangement", "brick"},
    {{{"/setting/arrangement", R"("brick")"}, {"/setting/alternate", R"("linen")"}},
     "/setting/alternate",
     "plain blocks"},
    {{{"/setting/arrangement", R"("staight")"}}, "/setting/arrangement", "straight"},
    {{{"/setting/sashing", R"({"width": "1"})"}}, "/setting/sashing", "fabric"},
    {{{"/setting/borders", R"([{"width": "4"}])"}}, "/setting/borders/0", "fabric"},
    {{{"/setting/borders", R"([{"width": "4", "fabric": ["a", "b"]}])"}}, "/setting/borders/0", "pieced"},
    {{{"/setting/borders", R"([{"width": "4", "fabric": "a", "corners": "squares"}])"}},
     "/setting/borders/0",
     "corner"},
    {{{"/setting/arrangement", R"("on-point")"},
      {"/setting/sashing", R"({"width": "1", "fabric": "linen", "around": true})"}},
     "/setting/sashing/around",
     "border"},
    {{{"/setting/symmetry", R"("quarter-turn")"}}, "/setting/symmetry", "half-turn"},
    {{{"/setting/borders", "4"}}, "/setting/borders", ""},
    {{{"/seam", R"("-1/4")"}}, "/seam", "-1/4"},
    {{{"/seam", R"("2 1/8")"}}, "/seam", "too large"},
    {{{"/seam", R"("a bit")"}}, "/seam", "a bit"},
    {{{"/seam", "true"}}, "/seam", "length"},
    {{{"/seam", "2"}, {"/unit/finished", "4"}}, "/seam", "less than half"},
    {{{"/unit/finished", R"("1/2")"}}, "/unit/finished", "less than half"},
    {{{"/unit/finished", "0"}}, "/unit/finished", "too small"},
    {{{"/unit/finished", "61"}}, "/unit/finished", "too large"},
    {{{"/unit/finished", "-6"}}, "/unit/finished", "-6"},
    {{{"/unit", "[]"}}, "/unit", ""},
    {{{"/unit/recipe", R"("half-square-triangles")"}}, "/unit/recipe", "half-square-triangle"},
    {{{"/unit/receipt", R"("x")"}}, "/unit/receipt", "recipe"},
    {{{"/unit/roles", R"({"print": "*"})"}}, "/unit/roles/print", ""},
    {{{"/unit/roles", R"({"print": [3]})"}}, "/unit/roles/print/0", ""},
    {{{"/unit/turns", R"("pinwheels")"}}, "/unit/turns", "pinwheel"},
    {{{"/unit/turns", "1"}}, "/unit/turns", "pinwheel"},
    {{{"/unit/turns", "[]"}}, "/unit/turns", "empty"},
    {{{"/unit/turns", "[[]]"}}, "/unit/turns/0", "empty"},
    {{{"/unit/turns", "[[0, 1], [2]]"}}, "/unit/turns/1", "equally long"},
    {{{"/unit/turns", "[[0, 4]]"}}, "/unit/turns/0/1", "4"},
    {{{"/unit/turns", "[[0, 1, 2, 3, 0]]"}}, "/unit/turns", "repeats"},
    {{{"/unit/turns", "[[0], [0], [0], [0]]"}}, "/unit/turns", "repeats"},
    {{{"/rules/touching", R"("corners")"}}, "/rules/touching", "corner"},
    {{{"/rules/apart", "0"}}, "/rules/apart", "0"},
    {{{"/rules/apart", "1001"}}, "/rules/apart", "1001"},
    {{{"/rules/line", "1"}}, "/rules/line", ""},
    {{{"/rules/contrast", "101"}}, "/rules/contrast", "101"},
    {{{"/rules/contrast", "-1"}}, "/rules/contrast", "-1"},
    {{{"/rules/same_if_closer_than", R"("2")"}}, "/rules/same_if_closer_than", ""},
    {{{"/rules/exempt", R"("linen")"}}, "/rules/exempt", ""},
    {{{"/rules/toching", R"("edge")"}}, "/rules/toching", "touching"},
    {{{"/wishes/spread", "-1"}}, "/wishes/spread", "-1"},
    {{{"/wishes/value", "1001"}}, "/wishes/value", "1001"},
    {{{"/wishes/value_aim", R"("acros")"}}, "/wishes/value_aim", "across"},
    {{{"/wishes/value_aim", R"({"pictur": "a.png"})"}}, "/wishes/value_aim/pictur", "picture"},
    {{{"/wishes/value_aim", R"({"picture": ""})"}}, "/wishes/value_aim", "picture"},
    {{{"/wishes/color", "1"}}, "/wishes/color", "colour"},
    {{{"/counts", "[]"}}, "/counts", ""},
    {{{"/counts/plum", "-1"}}, "/counts/plum", "-1"},
    {{{"/counts/plum", "2.5"}}, "/counts/plum", "2.5"},
    {{{"/counts/plum", "1000001"}}, "/counts/plum", "1000001"},
    {{{"/counts/plum", R"("evn")"}}, "/counts/plum", "even"},
    {{{"/counts/plum", "true"}}, "/counts/plum", "at_most"},
    {{{"/counts/plum", "{}"}}, "/counts/plum", "says nothing"},
    {{{"/counts/plum", R"({"at_most": 2, "at_least": 3})"}}, "/counts/plum", "cannot both hold"},
    {{{"/counts/plum", R"({"atmost": 2})"}}, "/counts/plum/atmost", "at_most"},
    {{{"/counts/a~1b", "-1"}}, "/counts/a~1b", "-1"},
    {{{"/pins", "{}"}}, "/pins", ""},
    {{{"/pins", "[{}]"}}, "/pins/0", "row"},
    {{{"/pins", R"([{"row": 0, "column": 1, "turn": 0}])"}}, "/pins/0/row", "0"},
    {{{"/pins", R"([{"row": 1, "column": 1.5, "turn": 0}])"}}, "/pins/0/column", "1.5"},
    {{{"/pins", R"([{"row": 1, "column": 1}])"}}, "/pins/0", "nothing"},
    {{{"/pins", R"([{"row": 1, "column": 1, "fabrics": [null]}])"}}, "/pins/0", "nothing"},
    {{{"/pins", R"([{"row": 1, "column": 1, "turn": 4}])"}}, "/pins/0/turn", "4"},
    {{{"/pins", R"([{"row": 1, "column": 1, "fabrics": ["a", "b"]}])"}}, "/pins/0/fabrics", "one patch"},
    {{{"/pins", R"([{"row": 1, "column": 1, "turn": 0, "sewn": true}])"}}, "/pins/0/sewn", "sewn"},
    {{{"/seed", "-1"}}, "/seed", "-1"},
    {{{"/seed", "1.5"}}, "/seed", "1.5"},
};

} // namespace

TEST_CASE("a bad plan is refused with its place and what would be right") {
    for (const Bad& bad : bad_plans) {
        INFO(bad.changes[0].first << " = " << bad.changes[0].second);
        const Fault fault = sample::complaint([&] { sample::plan(bad.changes); });
        INFO(fault.what());
        CHECK(fault.cause() == Cause::input);
        CHECK(fault.problems().size() == 1);
        CHECK(sample::says(fault, bad.pointer.empty() ? "plan.json" : "plan.json " + bad.pointer,
                           bad.fragment));
    }
}

TEST_CASE("what is not an object is no plan") {
    for (const char* text : {"[]", "3", "null", R"("plan")"}) {
        const Json json = Json::parse(text);
        CHECK(sample::says(sample::complaint([&] { read(json); }), "plan.json", "not a plan"));
    }
}

TEST_CASE("several mistakes are told in one go") {
    const Fault fault = sample::complaint([] {
        sample::plan(
            {{"/setting/rows", "0"},
             {"/setting/colums", "1"},
             {"/rules", R"({"apart": 0, "touching": "never"})"},
             {"/counts", R"({"a": -1, "b": 2.5})"},
             {"/pins", R"([{"row": 0, "column": 1, "turn": 0}, {"row": 1, "column": 1, "turn": 9}])"},
             {"/wishes", R"({"value": -1})"}});
    });
    INFO(fault.what());
    for (const char* pointer : {"/setting/rows", "/setting/colums", "/rules/apart", "/rules/touching",
                                "/counts/a", "/counts/b", "/pins/0/row", "/pins/1/turn", "/wishes/value"})
        CHECK(sample::says(fault, std::string("plan.json ") + pointer, ""));
    CHECK(fault.problems().size() == 9);
}
