// Cut lists as files: what is read, what is refused and how, what is told.

#include "cutting/cut_file.h"

#include <catch.hpp>

#include "fault/fault.h"

using namespace motley;
using namespace motley::cutting;
using measure::Length;

namespace {

CutList read(const std::string& text) {
    const document::Json json = document::parse(text, "cuts.json");
    return read_cut_list(document::Node(json, "cuts.json"));
}

std::string refusal(const std::string& text) {
    try {
        read(text);
    } catch (const Fault& fault) {
        CHECK(fault.cause() == Cause::input);
        return fault.what();
    }
    return "it was read";
}

std::string with(const std::string& fabric, const std::string& pieces, const std::string& more = "") {
    return R"({"format": "motley cuts 1", "fabric": )" + fabric + more + R"(, "pieces": )" + pieces + "}";
}

const std::string cloth = R"({"usable_width": "42"})";
const std::string squares = R"([{"name": "a", "width": "2 1/2", "height": 2.5, "count": 4}])";

} // namespace

TEST_CASE("a cut list as the contract has it") {
    const CutList list =
        read(R"({"format": "motley cuts 1", "measure": "inch", "fabric": {"usable_width": "42"},
        "stages": 3,
        "pieces": [{"name": "a", "width": "2 1/2", "height": "4 1/2", "count": 32, "turn": true}]})");
    CHECK(list.usable_width == Length::inches(42));
    CHECK(list.stages == 3);
    CHECK(list.step == Length::inches(4.5)); // 1/8 yd.
    REQUIRE(list.pieces.size() == 1);
    CHECK(list.pieces[0].width == Length::inches(2.5));
    CHECK(list.pieces[0].height == Length::inches(4.5));
    CHECK(list.pieces[0].count == 32);
    CHECK(list.pieces[0].turn);
}

TEST_CASE("metric lists: centimetres, and 10 cm to the step") {
    const CutList list = read(R"({"measure": "metric", "fabric": {"usable_width": 105, "ends": "5 mm"},
        "pieces": [{"width": 16.5, "height": "6.5 cm", "count": 3}]})");
    CHECK(list.usable_width.ticks == 1050 * Length::per_millimetre);
    CHECK(list.ends.ticks == 5 * Length::per_millimetre);
    CHECK(list.step.ticks == 100 * Length::per_millimetre);
    CHECK(list.pieces[0].width.ticks == 165 * Length::per_millimetre);
    const document::Json told = plan_json(list, plan_cuts(list));
    // One strip of three pieces, the lower way up: 6.5 cm and the ends, sold as 10 cm.
    CHECK(told["length"] == 7.0);
    CHECK(told["buy_metres"] == 0.1);
}

TEST_CASE("stock in the palette's form: a strip's length lies across the cloth") {
    const CutList list =
        read(with(cloth, squares,
                  R"(, "stock": [{"piece": "strip", "width": "2 1/2", "count": 3}, {"piece": "fat quarter"},
            {"piece": "yardage", "length": "1/4 yd", "width": 40}])"));
    REQUIRE(list.sheets.size() == 3);
    CHECK(list.sheets[0].width == Length::inches(42));
    CHECK(list.sheets[0].length == Length::inches(2.5));
    CHECK(list.sheets[0].count == 3);
    CHECK(list.sheets[1].width == Length::inches(22)); // 18 x 22 in: common practice, no source.
    CHECK(list.sheets[1].length == Length::inches(18));
    CHECK(list.sheets[2].length == Length::inches(9));
}

TEST_CASE("what is wrong with a cut list, and where") {
    struct Case {
        std::string text;
        std::vector<std::string> fragments;
    };
    const std::vector<Case> cases{
        {"[]", {"cuts.json"}},
        {"{}", {"fabric", "pieces"}},
        {R"({"format": "motley plan 1", "fabric": {"usable_width": 42}, "pieces": []})",
         {"/format", "motley cuts 1"}},
        {with(cloth, squares, R"(, "peices": [])"), {"/peices", "pieces"}},
        {with("{}", squares), {"/fabric", "usable_width"}},
        {with(R"({"usable_width": 0})", squares), {"/fabric/usable_width"}},
        {with(R"({"usable_width": "forty"})", squares), {"/fabric/usable_width", "forty"}},
        {with(R"({"usable_width": "42 in cm"})", squares), {"/fabric/usable_width", "42 in cm"}},
        {with(R"({"usable_width": "42", "width": 3})", squares), {"/fabric/width"}},
        {with(cloth, squares, R"(, "measure": "yards")"), {"/measure", "yards", "inch"}},
        {with(cloth, squares, R"(, "stages": 4)"), {"/stages", "4"}},
        {with(cloth, "[]"), {"/pieces"}},
        {with(cloth, R"([{"name": "a", "width": 0, "height": 2}])"), {"/pieces/0/width"}},
        {with(cloth, R"([{"name": "a", "width": -2, "height": 2}])"), {"/pieces/0/width"}},
        {with(cloth, R"([{"name": "a", "width": 2}])"), {"/pieces/0", "height"}},
        {with(cloth, R"([{"name": "a", "width": 2, "height": 2, "count": 1e12}])"), {"/pieces/0/count"}},
        {with(cloth, R"([{"name": "a", "width": 2, "height": 2, "count": 0}])"), {"/pieces/0/count"}},
        {with(cloth, R"([{"name": "a", "width": 2, "height": 2, "count": 2.5}])"),
         {"/pieces/0/count", "2.5"}},
        {with(cloth, R"([{"name": "a", "width": 2, "height": 2, "turn": "no"}])"), {"/pieces/0/turn"}},
        {with(cloth, R"([{"name": "a", "width": 43, "height": 50}])"),
         {"/pieces/0", "43 in", "42 in", "turned"}},
        {with(cloth, R"([{"name": "a", "width": 43, "height": 5, "turn": false}])"),
         {"/pieces/0", "43 in", "42 in"}},
        {with(cloth,
              R"([{"width": 2, "height": 2, "count": 900000}, {"width": 3, "height": 2, "count": 900000}])"),
         {"/pieces", "1800000", "1000000"}},
        {with(cloth, squares, R"(, "stock": [{"piece": "stripe", "width": 2}])"),
         {"/stock/0/piece", "strip"}},
        {with(cloth, squares, R"(, "stock": [{"piece": "scrap", "width": 2}])"), {"/stock/0", "length"}},
        {with(cloth, squares, R"(, "stock": 4)"), {"/stock"}},
        {with(cloth, R"([{"name": "a", "width": 2, "height": 2}, {"name": "a", "width": 3, "height": 3}])"),
         {"/pieces/1/name", "a"}},
        {with(cloth, R"([{"name": "piece 2", "width": 2, "height": 2}, {"width": 3, "height": 3}])"),
         {"/pieces/1", "piece 2"}},
        {with(cloth, R"([{"name": "a", "width": 43, "height": 50}])",
              R"(, "stock": [{"piece": "scrap", "width": 43, "length": 49}])"),
         {"/pieces/0", "43 in", "stock"}},
    };
    for (const Case& one : cases) {
        const std::string told = refusal(one.text);
        INFO(one.text << "\n" << told);
        CHECK(told.find("cuts.json") != std::string::npos);
        CHECK(told.find("/0/stock") == std::string::npos);
        for (const std::string& fragment : one.fragments) {
            INFO(fragment);
            CHECK(told.find(fragment) != std::string::npos);
        }
    }
}

TEST_CASE("all that is wrong comes at once") {
    const std::string told =
        refusal(with(R"({"usable_width": "wide"})",
                     R"([{"width": 0, "height": 2}, {"width": 2, "height": "x"}])", R"(, "stages": 7)"));
    for (const char* fragment : {"/fabric/usable_width", "/stages", "/pieces/0/width", "/pieces/1/height"})
        CHECK(told.find(fragment) != std::string::npos);
}

TEST_CASE("a piece that fits only when turned is turned") {
    const CutList list = read(with(cloth, R"([{"name": "border", "width": 60, "height": "4 1/2"}])"));
    const document::Json told = plan_json(list, plan_cuts(list));
    CHECK(told["length"] == 60.0);
    const document::Json& piece = told["strips"][0]["segments"][0]["pieces"][0];
    CHECK(piece["name"] == "border");
    CHECK(piece["width"] == 4.5);
    CHECK(piece["height"] == 60.0);
}
