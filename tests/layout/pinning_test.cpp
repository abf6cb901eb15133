#include <catch.hpp>

#include "layout/brief.h"
#include "sample.h"

using namespace motley;
using namespace motley::layout;
using sample::Change;

namespace {

constexpr const char* triangles = R"("half-square-triangle")";

/// A 4 x 3 top of fabrics f0 to f7 (L* 10 to 90).
Brief brief(const std::vector<Change>& changes) {
    return make_brief(sample::plan(changes), sample::fabrics(8), {});
}

struct Bad {
    std::vector<Change> changes;
    std::string pointer;
    std::string fragment;
};

void check(const Bad& bad) {
    INFO(bad.changes[0].first << " = " << bad.changes[0].second);
    const Fault fault = sample::complaint([&] { brief(bad.changes); });
    INFO(fault.what());
    CHECK(fault.cause() == Cause::input);
    CHECK(fault.problems().size() == 1);
    CHECK(sample::says(fault, "plan.json " + bad.pointer, bad.fragment));
}

} // namespace

TEST_CASE("pins go where they say") {
    const Brief made = brief({{"/unit", R"({"recipe": "half-square-triangle", "turns": "any"})"},
                              {"/pins", R"([{"row": 2, "column": 3, "fabrics": [null, "f5"], "turn": 2},
                                            {"row": 3, "column": 1, "fabrics": ["f1"]},
                                            {"row": 3, "column": 1, "fabrics": ["f1", "f2"]}])"}});
    const std::size_t first = 4 + 2, second = 8;
    CHECK(made.pinned[first * 2] == no_fabric);
    CHECK(index(made.pinned[first * 2 + 1]) == 5);
    CHECK(made.turns[first] == 2);
    CHECK(made.pinned_turn[first] == 1);
    CHECK(index(made.pinned[second * 2]) == 1);
    CHECK(index(made.pinned[second * 2 + 1]) == 2);
    CHECK(made.turns[second] == -1);
    CHECK(made.pinned_turn[second] == 0);
    CHECK(std::count(made.pinned.begin(), made.pinned.end(), no_fabric) == 24 - 3);
    CHECK(made.shares[1][5] >= 1);
    // A pin's turn goes over the plan's.
    CHECK(brief({{"/pins", R"([{"row": 1, "column": 1, "turn": 3}])"}}).turns[0] == 3);
}

TEST_CASE("open counts make room for pins, even ones do not") {
    const char* pins =
        R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 3, "fabrics": ["f0"]},
                           {"row": 3, "column": 1, "fabrics": ["f0"]}])";
    CHECK(brief({{"/pins", pins}, {"/counts/f0", R"({"at_most": 4})"}}).shares[0][0] == 3);
    check({{{"/pins", pins}}, "/pins/2", "its even share is at most 2"});
}

TEST_CASE("roles, counts and exempt fabrics that are wrong are refused") {
    const Bad table[] = {
        {{{"/unit/roles", R"({"patches": ["*"]})"}}, "/unit/roles/patches", "\"patch\""},
        {{{"/unit/roles", R"({"patch": ["f0", "f11"]})"}}, "/unit/roles/patch/1", "did you mean"},
        {{{"/unit/roles", R"({"patch": []})"}}, "/unit/roles/patch", "no fabrics"},
        {{{"/unit/recipe", triangles},
          {"/unit/roles", R"({"print": ["f0", "f1", "f2", "f3", "f4", "f5", "f6", "f7"]})"}},
         "/unit/roles",
         "\"ground\" has no fabrics"},
        {{{"/rules/exempt", R"(["f1", "linen"])"}}, "/rules/exempt/1", "linen"},
        {{{"/counts", R"({"plum": 3})"}}, "/counts/plum", "no fabric \"plum\""},
        {{{"/counts", R"({"f33": 3})"}}, "/counts/f33", "did you mean \"f3\""},
        {{{"/unit/roles", R"({"patch": ["f0", "f1"]})"}, {"/counts", R"({"f3": 2})"}},
         "/counts/f3",
         "no role takes it"},
        {{{"/counts", R"({"*": 2})"}}, "/counts", "the counts ask for 16 patches, the top has 12"},
        {{{"/counts", R"({"*": 1})"}}, "/counts", "the counts ask for 8 patches, the top has 12"},
        {{{"/counts", R"({"f0": 13})"}}, "/counts", "the counts ask for 13 patches, the top has 12"},
        {{{"/counts", R"({"*": {"at_most": 1}})"}}, "/counts", "4 more"},
        {{{"/counts", R"({"*": {"at_least": 2}})"}}, "/counts", "4 fewer"},
        {{{"/counts", R"({"*": 0})"}}, "/counts", "the counts ask for 0 patches"},
        {{{"/unit/recipe", triangles},
          {"/unit/roles", R"({"ground": ["f0", "f1"]})"},
          {"/counts", R"({"f0": 10, "f1": 4})"}},
         "/counts",
         "14 patches in the role \"ground\", the top has 12"},
        {{{"/unit/recipe", triangles},
          {"/unit/roles", R"({"ground": ["f0", "f1"]})"},
          {"/counts", R"({"f0": 5, "f1": 4})"}},
         "/counts",
         "9 patches in the role \"ground\", the top has 12"},
    };
    for (const Bad& bad : table) check(bad);
    // No complaint: a count of nothing for a fabric out of play.
    CHECK_NOTHROW(brief({{"/unit/roles", R"({"patch": ["f0", "f1"]})"}, {"/counts", R"({"f3": 0})"}}));
}

TEST_CASE("pins that are wrong are refused") {
    const auto pins = [](const std::string& list, std::vector<Change> more = {}) {
        more.insert(more.begin(), {"/pins", list});
        return more;
    };
    const std::string same_row =
        R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 3, "fabrics": ["f0"]}])";
    const std::string same_column =
        R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 3, "column": 1, "fabrics": ["f0"]}])";
    const std::string diagonal =
        R"([{"row": 1, "column": 2, "fabrics": ["f0"]}, {"row": 2, "column": 1, "fabrics": ["f0"]}])";
    const Bad table[] = {
        {pins(R"([{"row": 4, "column": 1, "turn": 0}])"), "/pins/0",
         "row 4, column 1 lies outside the top (the top has 3 rows and 4 columns)"},
        {pins(R"([{"row": 1, "column": 5, "fabrics": ["f0"]}])"), "/pins/0", "outside the top"},
        {pins(R"([{"row": 1, "column": 1, "fabrics": ["f00"]}])"), "/pins/0/fabrics/0",
         "did you mean \"f0\""},
        {pins(R"([{"row": 1, "column": 1, "fabrics": [null, "f1"]}])",
              {{"/unit/recipe", triangles}, {"/unit/roles", R"({"ground": ["f0"]})"}}),
         "/pins/0/fabrics/1", "role \"ground\" does not take it"},
        {pins(R"([{"row": 2, "column": 3, "fabrics": ["f0"]}, {"row": 2, "column": 3, "fabrics": ["f1"]}])"),
         "/pins/1", "row 2, column 3: \"f0\" and \"f1\""},
        {pins(R"([{"row": 2, "column": 3, "turn": 1}, {"row": 2, "column": 3, "turn": 2}])"), "/pins/1",
         "turn 1 and turn 2"},
        {pins(diagonal), "/pins/1", "row 1, column 2 and at row 2, column 1, and the two touch"},
        {pins(same_row, {{"/rules/apart", "3"}}), "/pins/1", "less than 3 units apart"},
        {pins(same_row, {{"/rules/line", "true"}}), "/pins/1", "twice in one row"},
        {pins(same_column, {{"/rules/line", "true"}}), "/pins/1", "twice in one column"},
        // L* of f0 and f1 differ by 80/7 = 11.4 here, and so does their CIEDE2000 by no more.
        {pins(R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 2, "fabrics": ["f1"]}])",
              {{"/rules/same_if_closer_than", "12"}}),
         "/pins/1", "too alike"},
        {pins(R"([{"row": 1, "column": 1, "fabrics": ["f0", "f1"]}])",
              {{"/unit/recipe", triangles}, {"/rules/contrast", "15"}}),
         "/pins/0", "differ by 11.4"},
        {pins(R"([{"row": 1, "column": 1, "fabrics": ["f4"]}])",
              {{"/unit/recipe", triangles}, {"/rules/contrast", "50"}}),
         "/pins/0", "no fabric of the role \"ground\""},
        {pins(same_row, {{"/counts/f0", "1"}}), "/pins/1", "pinned in 2 patches, but its count is 1"},
        {pins(same_row, {{"/counts/f0", "0"}}), "/pins/0", "its count is 0"},
        {pins(same_row, {{"/counts/f0", R"({"at_most": 1})"}}), "/pins/1", "its count is at most 1"},
    };
    for (const Bad& bad : table) check(bad);
}

TEST_CASE("pins that keep the rules are taken") {
    const std::string diagonal =
        R"([{"row": 1, "column": 2, "fabrics": ["f0"]}, {"row": 2, "column": 1, "fabrics": ["f0"]}])";
    CHECK_NOTHROW(brief({{"/pins", diagonal}, {"/rules/touching", R"("edge")"}}));
    CHECK_NOTHROW(brief({{"/pins", diagonal}, {"/rules/touching", R"("free")"}}));
    CHECK_NOTHROW(brief({{"/pins", diagonal}, {"/rules/exempt", R"(["f0"])"}}));
    CHECK_NOTHROW(brief(
        {{"/pins",
          R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 1, "fabrics": ["f0"], "turn": 0}])"}}));
    // Print beside ground: at turn 0 the edge between two triangles side by side is print on the left and
    // ground on the right.
    const std::string beside =
        R"([{"row": 1, "column": 1, "fabrics": [null, "f0"]}, {"row": 1, "column": 2, "fabrics": ["f0"]}])";
    CHECK_NOTHROW(brief({{"/unit/recipe", triangles}, {"/rules/touching", R"("edge")"}, {"/pins", beside}}));
    // Where the search may still turn the units so that they do not touch, nothing is proved.
    const std::string facing =
        R"([{"row": 1, "column": 1, "fabrics": ["f0"]}, {"row": 1, "column": 2, "fabrics": [null, "f0"]}])";
    CHECK_THROWS_AS(brief({{"/unit/recipe", triangles}, {"/rules/touching", R"("edge")"}, {"/pins", facing}}),
                    Fault);
    CHECK_NOTHROW(brief({{"/unit/recipe", triangles},
                         {"/unit/turns", R"("any")"},
                         {"/rules/touching", R"("edge")"},
                         {"/pins", facing}}));
}

TEST_CASE("pins, counts and roles that are wrong are told in one go") {
    const Fault fault = sample::complaint([] {
        brief({{"/rules/exempt", R"(["nobody"])"},
               {"/counts", R"({"nothing": 3})"},
               {"/pins",
                R"([{"row": 9, "column": 1, "turn": 0}, {"row": 1, "column": 1, "fabrics": ["nowhere"]},
                             {"row": 2, "column": 2, "fabrics": ["f0"]}, {"row": 2, "column": 3, "fabrics": ["f0"]}])"}});
    });
    INFO(fault.what());
    for (const char* pointer :
         {"/rules/exempt/0", "/counts/nothing", "/pins/0", "/pins/1/fabrics/0", "/pins/3"})
        CHECK(sample::says(fault, std::string("plan.json ") + pointer, ""));
    CHECK(fault.problems().size() == 5);
}

TEST_CASE("a pin against its count is told beside counts that do not add up") {
    const Fault fault = sample::complaint([] {
        brief({{"/counts", R"({"f0": 0, "f1": 13})"},
               {"/pins", R"([{"row": 1, "column": 1, "fabrics": ["f0"]}])"}});
    });
    INFO(fault.what());
    CHECK(sample::says(fault, "plan.json /pins/0", "its count is 0"));
    CHECK(sample::says(fault, "plan.json /counts", "13"));
    CHECK(fault.problems().size() == 2);
}

TEST_CASE("a flood of complaints is cut short") {
    sample::Json pins = sample::Json::array();
    for (int i = 0; i < 500; ++i) pins.push_back({{"row", 99}, {"column", 1}, {"turn", 0}});
    const Fault fault = sample::complaint([&] { brief({{"/pins", pins.dump()}}); });
    CHECK(fault.problems().size() == 51);
    CHECK(fault.problems().back().what == "... and 450 more like these");
}
