#include "layout/layout.h"

#include <catch.hpp>
#include <set>

#include "sample.h"

using namespace motley;
using namespace motley::layout;
using sample::Change;
using sample::Json;

namespace {

/// A random top of random size: fabrics with real colours and stock, flags, a score.
Layout random_layout(sample::Chance& chance) {
    Layout made;
    const bool two = chance.one_in(2);
    const int columns = 1 + chance.below(6), rows = 1 + chance.below(6);
    made.plan = sample::plan({{"/setting/columns", std::to_string(columns)},
                              {"/setting/rows", std::to_string(rows)},
                              {"/measure", chance.one_in(2) ? R"("metric")" : R"("inch")"},
                              {"/name", R"("Überwurf \"A\"")"},
                              {"/seed", "18446744073709551615"},
                              {"/unit/recipe", two ? R"("half-square-triangle")" : R"("plain-square")"}});
    made.seed = chance.one_in(2) ? 18446744073709551615ULL : 3;
    made.version = "0.1.0";
    const int fabrics = 1 + chance.below(9);
    for (int f = 0; f < fabrics; ++f) {
        palette::Fabric fabric;
        fabric.id = sample::fabric_id(f);
        fabric.name = f % 2 ? fmt::format("Fabric, \"{}\"", f) : fabric.id;
        fabric.photo_width = {measure::Length::per_inch * 5};
        const auto code = [&] { return static_cast<std::uint8_t>(chance.below(256)); };
        const std::uint8_t r = code(), g = code(), b = code();
        fabric.colour = palette::typed_colour(colour::Srgb{r, g, b});
        if (f % 3 == 0)
            fabric.stock.push_back(
                {palette::StockPiece::Piece::strip, {20320}, {341376}, 1 + chance.below(5)});
        made.fabrics.push_back(fabric);
    }
    for (int cell = 0; cell < columns * rows; ++cell) {
        for (int p = 0; p < (two ? 2 : 1); ++p)
            made.assignment.patches.push_back(FabricId{static_cast<std::uint16_t>(chance.below(fabrics))});
        made.assignment.turns.push_back(static_cast<std::uint8_t>(chance.below(4)));
        made.pinned.push_back(chance.one_in(4));
        made.sewn.push_back(chance.one_in(5));
    }
    made.score.touching = chance.below(3);
    made.score.closest["f0"] = 2;
    made.score.spread = 0.125;
    made.score.spread_bound = 0.12;
    if (chance.one_in(2)) made.score.value = 0.25;
    made.score.broken = {"touching: f0 at row 1, column 1 and row 1, column 2"};
    return made;
}

Layout read(const Json& json) {
    return read_layout(document::Node(json, "layout.json"));
}

/// 2 x 2 plain squares of f0 to f2.
Json small() {
    Layout made;
    made.plan = sample::plan({{"/setting", R"({"columns": 2, "rows": 2})"}});
    made.version = "0.1.0";
    for (int f = 0; f < 4; ++f) {
        palette::Fabric fabric;
        fabric.id = fabric.name = sample::fabric_id(f);
        fabric.photo_width = {measure::Length::per_inch * 5};
        fabric.colour = palette::typed_colour(colour::Srgb{static_cast<std::uint8_t>(60 * f), 90, 120});
        made.fabrics.push_back(fabric);
    }
    made.assignment.patches = {FabricId{2}, FabricId{0}, FabricId{0}, FabricId{1}};
    made.assignment.turns = {0, 1, 2, 3};
    made.pinned = {1, 0, 0, 0};
    made.sewn = {0, 0, 0, 1};
    made.score.spread = 1.0 / 3;
    return write_layout(made);
}

} // namespace

TEST_CASE("a layout reads back as it was written") {
    sample::Chance chance(21);
    for (int round = 0; round < 200; ++round) {
        const Layout made = random_layout(chance);
        const Json written = write_layout(made);
        const std::string text = document::print(written);
        const Json parsed = document::parse(text, "layout.json");
        const Layout back = read(parsed);
        REQUIRE(back.assignment == made.assignment);
        REQUIRE(back.pinned == made.pinned);
        REQUIRE(back.sewn == made.sewn);
        REQUIRE(back.seed == made.seed);
        REQUIRE(back.version == made.version);
        REQUIRE(back.plan.json == made.plan.json);
        REQUIRE(back.plan.seed == made.plan.seed);
        REQUIRE(back.plan.file.empty());
        REQUIRE(back.plan.where("/pins/3") == "layout.json /plan/pins/3");
        REQUIRE(back.fabrics.size() == made.fabrics.size());
        REQUIRE(back.score.touching == made.score.touching);
        REQUIRE(back.score.closest == made.score.closest);
        REQUIRE(back.score.spread == made.score.spread);
        REQUIRE(back.score.colour == made.score.colour);
        REQUIRE(back.score.value == made.score.value);
        REQUIRE(back.score.spread_bound == made.score.spread_bound);
        REQUIRE(back.score.broken == made.score.broken);
        REQUIRE(document::print(write_layout(back)) == text); // Fabrics and their stock included.
    }
}

TEST_CASE("a layout's file has the contract's shape") {
    const Json json = small();
    CHECK(json.at("format") == "motley layout 1");
    CHECK(json.at("plan") == Json::parse(R"({"palette": "p", "setting": {"columns": 2, "rows": 2}})"));
    CHECK(json.at("fabrics") == Json::parse(R"(["f0", "f1", "f2"])")); // Palette order, used ones only.
    CHECK(json.at("units") == Json::parse(R"([{"recipe": "plain-square", "fabrics": ["f2"], "count": 1},
        {"recipe": "plain-square", "fabrics": ["f0"], "count": 2}, {"recipe": "plain-square", "fabrics": ["f1"], "count": 1}])"));
    CHECK(json.at("cells") ==
          Json::parse(R"([[{"unit": 0, "turn": 0, "pinned": true}, {"unit": 1, "turn": 1}],
                                              [{"unit": 1, "turn": 2}, {"unit": 2, "turn": 3, "sewn": true}]])"));
    CHECK(json.at("palette").size() == 4);
    CHECK(json.at("score").at("spread") == 0.333333); // Six decimals.
    CHECK(json.at("score").at("colour").is_null());
    CHECK(json.at("columns") == 2);
    CHECK(json.at("rows") == 2);
}

TEST_CASE("a layout that does not fit together is refused with its place") {
    struct Bad {
        std::vector<Change> changes;
        std::string pointer, fragment;
    };
    const Bad table[] = {
        {{{"/format", ""}}, "", "format"},
        {{{"/format", R"("motley layout 9")"}}, "/format", "motley layout 1"},
        {{{"/celles", "[]"}}, "/celles", "cells"},
        {{{"/plan", ""}}, "", "plan"},
        {{{"/plan/setting/rows", "0"}}, "/plan/setting/rows", ""},
        {{{"/plan/rulez", "{}"}}, "/plan/rulez", "rules"},
        {{{"/columns", "3"}}, "/columns", "the plan inside it 2"},
        {{{"/rows", "1"}}, "/rows", "the plan inside it 2"},
        {{{"/palette", ""}}, "", "palette"},
        {{{"/palette/1/id", R"("f0")"}}, "/palette/1/id", ""},
        {{{"/palette/1/colour", ""}, {"/palette/1/photo", R"("a.jpg")"}}, "/palette/1", "no colour"},
        {{{"/units/0/fabrics/0", R"("f9")"}}, "/units/0/fabrics/0", "did you mean"},
        {{{"/units/0/fabrics", R"(["f0", "f1"])"}}, "/units/0/fabrics", "2 fabrics"},
        {{{"/units/0/fabrics", "[]"}}, "/units/0/fabrics", "0 fabrics"},
        {{{"/units/0/recipe", R"("half-square-triangle")"}}, "/units/0/recipe", "plain-square"},
        {{{"/units/1/count", "3"}}, "/units/1/count", "the cells show it 2 times"},
        {{{"/units", "[]"}}, "/cells/0/0/unit", "no units"},
        {{{"/cells/1", ""}}, "/cells", "1 rows"},
        {{{"/cells/1/1", ""}}, "/cells/1", "1 cells"},
        {{{"/cells/1/1/unit", "3"}}, "/cells/1/1/unit", "3"},
        {{{"/cells/1/1/unit", "-1"}}, "/cells/1/1/unit", "-1"},
        {{{"/cells/1/1/turn", "4"}}, "/cells/1/1/turn", "4"},
        {{{"/cells/1/1/turn", ""}}, "/cells/1/1", "turn"},
        {{{"/cells/1/1/pinned", "1"}}, "/cells/1/1/pinned", ""},
        {{{"/cells/1/1/swen", "true"}}, "/cells/1/1/swen", "sewn"},
        {{{"/fabrics/0", R"("f3")"}}, "/fabrics", "used in the cells but not listed"},
        {{{"/fabrics", R"(["f0", "f1", "f2", "f3"])"}}, "/fabrics", "used in no cell"},
        {{{"/fabrics", R"(["f0", "f1", "f2", "f0"])"}}, "/fabrics/3", "twice"},
        {{{"/fabrics/0", R"("linen")"}}, "/fabrics/0", "linen"},
        {{{"/score/closest", R"({"linen": 2})"}}, "/score/closest/linen", "linen"},
        {{{"/score/spread", R"("good")"}}, "/score/spread", ""},
        {{{"/seed", "-3"}}, "/seed", "-3"},
    };
    for (const Bad& bad : table) {
        INFO(bad.changes[0].first << " = " << bad.changes[0].second);
        const Json json = sample::changed(small(), bad.changes);
        const Fault fault = sample::complaint([&] { read(json); });
        INFO(fault.what());
        CHECK(fault.cause() == Cause::input);
        CHECK(sample::says(fault, bad.pointer.empty() ? "layout.json" : "layout.json " + bad.pointer,
                           bad.fragment));
    }
    CHECK_NOTHROW(read(small()));
}

namespace {

/// Puts something else, or nothing, at a random place.
void mutate(Json& json, sample::Chance& chance) {
    Json* at = &json;
    for (int depth = chance.below(6); depth > 0 && at->is_structured() && !at->empty(); --depth) {
        auto child = at->begin();
        std::advance(child, chance.below(static_cast<int>(at->size())));
        at = &*child;
    }
    static const char* values[] = {"null",
                                   "0",
                                   "-1",
                                   "1.5",
                                   "1e300",
                                   "40001",
                                   "\"\"",
                                   "\"f0\"",
                                   "\"*\"",
                                   "[]",
                                   "{}",
                                   "[1]",
                                   "[null]",
                                   "true",
                                   "\"6 1/2\"",
                                   "{\"x\": 1}",
                                   "18446744073709551615"};
    if (at->is_object() && chance.one_in(3))
        (*at)[chance.one_in(2) ? "count" : "extra"] = 1;
    else if (at->is_array() && !at->empty() && chance.one_in(2)) {
        const auto victim = static_cast<std::size_t>(chance.below(static_cast<int>(at->size())));
        chance.one_in(2) ? at->erase(victim) : at->push_back(Json((*at)[victim]));
    } else
        *at = Json::parse(values[chance.below(static_cast<int>(std::size(values)))]);
}

} // namespace

TEST_CASE("whatever is broken in a plan or a layout, only a Fault comes out") {
    sample::Chance chance(77);
    const Json plan = Json::parse(
        R"({"format": "motley plan 1", "palette": "p", "seam": "1/4", "setting": {"columns": 2, "rows": 2},
        "unit": {"recipe": "half-square-triangle", "finished": 6, "roles": {"ground": ["f0", "*"]}, "turns": [[0, 1], [3, 2]]},
        "rules": {"touching": "edge", "apart": 1, "exempt": ["f0"], "contrast": 1}, "wishes": {"value_aim": "across"},
        "counts": {"f1": 1, "f2": {"at_most": 3}, "f3": "stock", "*": "even"},
        "pins": [{"row": 1, "column": 1, "fabrics": ["f1", null], "turn": 2}]})");
    const auto fabrics = sample::fabrics(6);
    int refused = 0, taken = 0;
    for (int round = 0; round < 20000; ++round) {
        Json json = round % 2 ? plan : small();
        for (int times = 1 + chance.below(2); times > 0; --times) mutate(json, chance);
        try {
            const document::Node root(json, "file.json");
            if (round % 2)
                make_brief(read_plan(root), fabrics, std::vector<int>(6, 2), {{0, 0.5, 0.5, 1}});
            else
                write_layout(read_layout(root));
            ++taken;
        } catch (const Fault& fault) {
            ++refused;
            REQUIRE(fault.cause() != Cause::system);
        }
    }
    CHECK(refused > 1000);
    CHECK(taken > 100);
}
