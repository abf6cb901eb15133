// "motley mend" as a user meets it: shortages, changed pins and rules, sewn rows, and what it refuses.

#include <catch.hpp>
#include <functional>

#include "cli/workshop.h"

using namespace motley;
using document::Json;
using tests::say;
using tests::Told;
using tests::Workshop;

namespace {

Json read(const std::string& path) {
    return document::parse(tests::content(path), path);
}

/// The workshop's plan placed, and the layout changed as a user would by hand.
std::string layout(const Workshop& workshop, const std::string& plan_more,
                   const std::function<void(Json&)>& edit = {}, int columns = 5, int rows = 6) {
    REQUIRE(
        say({"place", workshop.plan(plan_more, columns, rows), "--out", workshop.path("layout.json")}).code ==
        0);
    if (edit) {
        Json json = read(workshop.path("layout.json"));
        edit(json);
        tests::write(workshop.path("layout.json"), document::print(json));
    }
    return workshop.path("layout.json");
}

std::string fabric_at(const Json& layout, int row, int column) {
    return layout["units"]
                 [layout["cells"][static_cast<std::size_t>(row)][static_cast<std::size_t>(column)]["unit"]
                      .get<std::size_t>()]["fabrics"][0];
}

std::map<std::string, int> uses(const Json& layout) {
    std::map<std::string, int> uses;
    for (int row = 0; row < layout["rows"]; ++row)
        for (int column = 0; column < layout["columns"]; ++column) ++uses[fabric_at(layout, row, column)];
    return uses;
}

int changes(const Json& one, const Json& other) {
    int cells = 0;
    for (int row = 0; row < one["rows"]; ++row)
        for (int column = 0; column < one["columns"]; ++column)
            cells += fabric_at(one, row, column) != fabric_at(other, row, column);
    return cells;
}

} // namespace

TEST_CASE("nothing to mend changes no byte") {
    const Workshop workshop;
    const std::string file = layout(workshop, "");
    const Told told = say({"mend", file, "--out", workshop.path("new.json")});
    CHECK(told.code == 0);
    CHECK(told.out.starts_with("Nothing needs to change: the layout meets its plan.\n"));
    CHECK(tests::content(workshop.path("new.json")) == tests::content(file));
}

TEST_CASE("two squares short: two units change, and the new plan asks for what is left") {
    const Workshop workshop;
    const std::string file = layout(workshop, R"(, "counts": {"*": "even"})");
    const Json before = read(file);
    const int had = uses(before)["cloth-4"];
    REQUIRE(had >= 3);
    const Told told = say({"mend", file, "--short", "cloth-4=2", "--out", workshop.path("new.json")});
    INFO(told.err);
    REQUIRE(told.code == 0);
    CHECK(told.out.find("2 units change:") != std::string::npos);
    CHECK(told.out.find(" becomes ") != std::string::npos);
    CHECK(told.out.find("Fewer would not do (proved).") != std::string::npos);
    const Json after = read(workshop.path("new.json"));
    CHECK(changes(before, after) == 2);
    CHECK(uses(after)["cloth-4"] == had - 2);
    CHECK(after["plan"]["counts"]["cloth-4"] == had - 2);
    CHECK(after["score"]["broken"].empty());
    // It meets its own plan: mended again nothing changes; it can be counted and drawn.
    REQUIRE(say({"mend", workshop.path("new.json"), "--out", workshop.path("newer.json")}).code == 0);
    CHECK(tests::content(workshop.path("newer.json")) == tests::content(workshop.path("new.json")));
    CHECK(say({"count", workshop.path("new.json")}).code == 0);
    CHECK(say({"draw", workshop.path("new.json"), "--out", workshop.path("drawn"), "--pixels", "100"}).code ==
          0);
    // Once more the same; printed without a file, the account then goes beside it.
    const Told printed = say({"mend", file, "--short", "cloth-4=2"});
    CHECK(printed.out == tests::content(workshop.path("new.json")));
    CHECK(printed.err.substr(0, printed.err.rfind("The new layout is printed")) ==
          told.out.substr(0, told.out.rfind("In ")));
    CHECK(tests::content(file) == document::print(before));
    CHECK(say({"mend", file, "--short", "cloth-4=2", "--json"}).err.empty());
}

TEST_CASE("counts that are written down stand in a shortage") {
    const Workshop workshop;
    const std::string loose =
        layout(workshop, R"(, "counts": {"cloth-0": 3, "cloth-1": {"at_most": 4}, "*": "even"})");
    const std::map<std::string, int> had = uses(read(loose));
    REQUIRE(say({"mend", loose, "--short", "cloth-2=2", "--short", "cloth-3=1", "--out",
                 workshop.path("new.json")})
                .code == 0);
    std::map<std::string, int> now = uses(read(workshop.path("new.json")));
    CHECK(now["cloth-0"] == 3);
    CHECK(now["cloth-1"] <= 4);
    CHECK(now["cloth-2"] == had.at("cloth-2") - 2);
    CHECK(now["cloth-3"] == had.at("cloth-3") - 1);

    std::string all;
    for (int f = 0; f < 9; ++f)
        all += (f ? ", \"cloth-" : "\"cloth-") + std::to_string(f) + "\": " + (f < 3 ? "4" : "3");
    const std::string tight = layout(workshop, ", \"counts\": {" + all + "}");
    const Told told = say({"mend", tight, "--short", "cloth-2=1"});
    CHECK(told.code == 1);
    CHECK(told.err.find("the counts ask for 29 patches, the top has 30") != std::string::npos);
    CHECK(told.out.empty());
}

TEST_CASE("a changed pin or rule is met with few changes; sewn and pinned units stay") {
    const Workshop workshop;
    const std::string pin =
        R"(, "rules": {"touching": "edge"}, "pins": [{"row": 6, "column": 5, "fabrics": ["cloth-8"]}])";
    Json before;
    const std::string file = layout(workshop, pin, [&](Json& json) {
        for (std::size_t column = 0; column < 5; ++column) json["cells"][0][column]["sewn"] = true;
        std::string wanted = fabric_at(json, 2, 2) == "cloth-1" ? "cloth-2" : "cloth-1";
        json["plan"]["pins"].push_back({{"row", 3}, {"column", 3}, {"fabrics", {wanted}}});
        json["plan"]["rules"]["touching"] = "corner";
        before = json;
    });
    const Told told = say({"mend", file, "--out", workshop.path("new.json")});
    INFO(told.err << told.out);
    REQUIRE(told.code == 0);
    const Json after = read(workshop.path("new.json"));
    for (int column = 0; column < 5; ++column) {
        CHECK(fabric_at(after, 0, column) == fabric_at(before, 0, column));
        CHECK(after["cells"][0][static_cast<std::size_t>(column)]["sewn"] == true);
    }
    CHECK(fabric_at(after, 5, 4) == "cloth-8");
    CHECK(fabric_at(after, 2, 2) == before["plan"]["pins"][1]["fabrics"][0]);
    CHECK(after["cells"][2][2]["pinned"] == true);
    CHECK(after["score"]["broken"].empty());
    CHECK(changes(before, after) >= 1);
}

TEST_CASE("a shortage that the sewn rows have used up is refused") {
    const Workshop workshop;
    int used = 0;
    const std::string file = layout(workshop, "", [&](Json& json) {
        used = uses(json)["cloth-5"];
        for (Json& row : json["cells"])
            for (Json& cell : row)
                if (json["units"][cell["unit"].get<std::size_t>()]["fabrics"][0] == "cloth-5")
                    cell["sewn"] = true;
    });
    const auto there = tests::snapshot(workshop.folder());
    const Told told = say({"mend", file, "--short", "cloth-5=1", "--out", workshop.path("new.json")});
    CHECK(told.code == 1);
    CHECK(told.err.find("only " + std::to_string(used - 1) + " of cloth-5 are left, but " +
                        std::to_string(used) + " patches are sewn") != std::string::npos);
    CHECK(tests::snapshot(workshop.folder()) == there);
}

TEST_CASE("bad shortages are named, all in one run") {
    const Workshop workshop;
    const std::string file = layout(workshop, "");
    const int used = uses(read(file))["cloth-3"];
    const Told unknown =
        say({"mend", file, "--short", "cloht-3=1", "--short", "cloth-3=" + std::to_string(used + 1)});
    CHECK(unknown.code == 2);
    CHECK(unknown.err.find("did you mean \"cloth-3\"?") != std::string::npos);
    CHECK(unknown.err.find("the layout uses " + std::to_string(used)) != std::string::npos);
    CHECK(say({"mend", file, "--short", "cloth-3=1", "--short", "cloth-3=1"}).err.find("named twice") !=
          std::string::npos);
    for (const char* word :
         {"cloth-3", "=3", "cloth-3=", "cloth-3=0", "cloth-3=-1", "cloth-3=1.5", "cloth-3=99999999999"}) {
        const Told told = say({"mend", file, "--short", word});
        INFO(word);
        CHECK(told.code == 2);
        CHECK(told.err.find("such as plum=3") != std::string::npos);
        CHECK(told.out.empty());
    }
    CHECK(say({"mend", workshop.path("plan.json")}).code == 2);
    CHECK(say({"mend", workshop.path("nowhere.json")}).code == 3);
    CHECK(say({"mend"}).code == 2);
}

TEST_CASE("a pin that says otherwise than a sewn unit is named") {
    const Workshop workshop;
    const std::string file = layout(workshop, "", [](Json& json) {
        json["cells"][1][1]["sewn"] = true;
        const std::string other = fabric_at(json, 1, 1) == "cloth-1" ? "cloth-2" : "cloth-1";
        json["plan"]["pins"] = Json::array({{{"row", 2}, {"column", 2}, {"fabrics", {other}}}});
    });
    const Told told = say({"mend", file});
    CHECK(told.code == 2);
    CHECK(told.err.find("/plan/pins/0: the unit at row 2, column 2 is sewn with") != std::string::npos);
}

TEST_CASE("rules that sewn units break between themselves are said to be impossible") {
    const Workshop workshop;
    const std::string file = layout(workshop, R"(, "rules": {"touching": "edge"})", [](Json& json) {
        for (Json& row : json["cells"])
            for (Json& cell : row) cell["sewn"] = true;
        json["plan"]["rules"]["line"] = true;
    });
    const Told told = say({"mend", file});
    CHECK(told.code == 1);
    CHECK(told.err.find("sewn") != std::string::npos);
    CHECK(told.out.empty());
}

TEST_CASE("sewn units that a changed rule forbids are named, and unpicking them does") {
    const Workshop workshop;
    Json before;
    const std::string file = layout(
        workshop, R"(, "rules": {"touching": "edge"})",
        [&](Json& json) {
            for (std::size_t row = 0; row < 2; ++row)
                for (Json& cell : json["cells"][row]) cell["sewn"] = true;
            json["plan"]["rules"]["line"] = true;
            before = json;
        },
        5, 6);
    // Two of the ten sewn squares made to show one fabric in one row.
    Json clash = before;
    const auto swap_in = [&] {
        for (std::size_t row = 2; row < 6; ++row)
            for (Json& lower : clash["cells"][row])
                if (lower["unit"] == clash["cells"][0][0]["unit"]) {
                    std::swap(lower["unit"], clash["cells"][0][4]["unit"]);
                    return true;
                }
        return false;
    };
    REQUIRE(swap_in());
    tests::write(file, document::print(clash));
    const auto there = tests::snapshot(workshop.folder());
    const Told told = say({"mend", file, "--out", workshop.path("new.json")});
    INFO(told.err);
    CHECK(told.code == 1);
    CHECK(told.err.find("while every sewn unit stays: ") != std::string::npos);
    CHECK(told.err.find("are both sewn with " + fabric_at(clash, 0, 0) + " and lie in one row") !=
          std::string::npos);
    CHECK(told.err.find("unpick the unit") != std::string::npos);
    CHECK(tests::snapshot(workshop.folder()) == there);
    // Unpick all that the remedy names.
    Json unpicked = clash;
    const std::string remedy = told.err.substr(told.err.find("(unpick"));
    int named = 0;
    for (int row = 0; row < 2; ++row)
        for (int column = 0; column < 5; ++column)
            if (remedy.find("row " + std::to_string(row + 1) + ", column " + std::to_string(column + 1)) !=
                std::string::npos) {
                unpicked["cells"][static_cast<std::size_t>(row)][static_cast<std::size_t>(column)].erase(
                    "sewn");
                ++named;
            }
    CHECK(named >= 1);
    CHECK(named < 10);
    tests::write(file, document::print(unpicked));
    CHECK(say({"mend", file, "--out", workshop.path("new.json")}).code == 0);
}

TEST_CASE("turns that the plan changes leave sewn units as they are, and the score says all is kept") {
    const Workshop workshop;
    const std::string file = layout(
        workshop,
        R"(, "unit": {"recipe": "half-square-triangle", "turns": "fixed"}, "rules": {"touching": "free"})",
        [](Json& json) {
            for (Json& cell : json["cells"][0]) cell["sewn"] = true;
            json["plan"]["unit"]["turns"] = "alternate";
        },
        4, 4);
    const Told told = say({"mend", file, "--out", workshop.path("new.json")});
    INFO(told.err);
    REQUIRE(told.code == 0);
    const Json after = read(workshop.path("new.json"));
    for (const Json& cell : after["cells"][0]) CHECK(cell["turn"] == 0);
    CHECK(after["cells"][1][0]["turn"] == 1);
    CHECK(after["score"]["broken"].empty());
    CHECK(told.out.find("it takes a quarter turn clockwise") != std::string::npos);
}

TEST_CASE("a second candidate is mended like the first, and the bar shows on a terminal") {
    const Workshop workshop;
    REQUIRE(say({"make", workshop.plan(R"(, "counts": {"*": "even"})"), "--candidates", "2", "--pixels",
                 "100", "--out", workshop.path("made")})
                .code == 0);
    const std::string file = workshop.path("made/layout-2.json");
    const auto there = tests::snapshot(workshop.folder());
    std::ostringstream out, err;
    REQUIRE(cli::run({"mend", file, "--short", "cloth-4=2", "--out", workshop.path("mended.json")},
                     {out, err, true}) == 0);
    CHECK(err.str().find("mending") != std::string::npos);
    CHECK(out.str().find("2 units change:") != std::string::npos);
    auto now = tests::snapshot(workshop.folder());
    CHECK(now.erase("mended.json") == 1);
    CHECK(now == there);
    CHECK(changes(read(file), read(workshop.path("mended.json"))) == 2);
}
