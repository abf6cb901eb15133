#include <fmt/format.h>

#include <catch.hpp>
#include <cmath>

#include "document/document.h"

using namespace motley;
using namespace motley::document;
using Catch::Contains;

namespace {

// Keeps the value alive as long as the node that looks at it.
struct Sample {
    Json json;
    Node node;
    explicit Sample(const std::string& text) : json(parse(text, "plan.json")), node(json, "plan.json") {}
};

} // namespace

TEST_CASE("a wrong value is told with file, pointer, finding and remedy") {
    const Sample sample(R"({"setting": {"rows": "thirteen", "a/b": [7.5, {"c": []}], "text": 4, "yes": 1}})");
    const Node setting = sample.node.at("setting");
    CHECK_THROWS_WITH(
        setting.at("rows").integer(1, 40'000),
        "plan.json /setting/rows: found \"thirteen\" (a text) (give a whole number from 1 to 40,000)");
    CHECK_THROWS_WITH(setting.at("a/b").items()[0].integer(-5, 5),
                      "plan.json /setting/a~1b/0: found 7.5 (a number) (give a whole number from -5 to 5)");
    CHECK_THROWS_WITH(setting.at("a/b").text(), Contains("found [7.5, {\"c\": []}] (a list) (give a text"));
    CHECK_THROWS_WITH(setting.at("text").items(), Contains("found 4 (a number) (give a list"));
    CHECK_THROWS_WITH(setting.at("yes").boolean(), Contains("give true or false"));
    CHECK_THROWS_WITH(setting.at("text").number(5, 9.5), Contains("give a number from 5 to 9.5"));
    CHECK_THROWS_WITH(setting.at("text").at("x"), Contains("give an object"));
    CHECK_THROWS_WITH(setting.at("text").members(), Contains("give an object"));
    CHECK_THROWS_WITH(setting.at("text").allow_only({}), Contains("give an object"));
    CHECK_THROWS_WITH(sample.node.text(), Contains("plan.json: found {\"setting\": {\"rows\": \"thirteen\""));
}

TEST_CASE("good values pass, whole numbers in either form") {
    const Sample sample(R"([7, 7.0, -3, "a", true, 1e300, 18446744073709551615, 9007199254740994.0])");
    const auto items = sample.node.items();
    CHECK(items[0].integer(0, 10) == 7);
    CHECK(items[1].integer(0, 10) == 7);
    CHECK(items[2].integer(-3, 10) == -3);
    CHECK(items[2].number() == -3.0);
    CHECK(items[3].text() == "a");
    CHECK(items[4].boolean());
    CHECK_THROWS_AS(items[5].integer(INT64_MIN, INT64_MAX), Fault);
    CHECK_THROWS_AS(items[6].integer(INT64_MIN, INT64_MAX), Fault);
    CHECK_THROWS_AS(items[7].integer(INT64_MIN, INT64_MAX),
                    Fault); // Beyond 2^53 a double is no whole number in particular.
    CHECK(items[5].number() == 1e300);
}

TEST_CASE("numbers that are none do not pass") {
    for (const double bad : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        const Json json = bad;
        CHECK_THROWS_AS(Node(json, "f").number(), Fault);
        CHECK_THROWS_AS(Node(json, "f").number(-1e9, 1e9), Fault);
        CHECK_THROWS_AS(Node(json, "f").integer(-9, 9), Fault);
    }
}

TEST_CASE("members: missing, null, and misspelled") {
    const Sample sample(R"({"colums": 4, "none": null, "x": 1})");
    CHECK_FALSE(sample.node.find("rows"));
    CHECK_FALSE(sample.node.find("none"));
    CHECK(sample.node.find("x")->integer(0, 9) == 1);
    CHECK_THROWS_WITH(sample.node.at("rows"), "plan.json: has no \"rows\" (add \"rows\")");
    CHECK_THROWS_WITH(sample.node.at("columns"), Contains("or is it spelled \"colums\" here?"));
    CHECK_THROWS_WITH(sample.node.at("none"), "plan.json: has no \"none\" (add \"none\")");
    CHECK(sample.node.members()[2].first == "x");
}

TEST_CASE("unknown keys are told all at once") {
    const Sample sample(R"({"rows": 1, "colums": 2, "weather": 3})");
    CHECK_THROWS_WITH(
        sample.node.allow_only({"rows", "columns"}),
        "plan.json /colums: \"colums\" is not a known key here (did you mean \"columns\"?)\n"
        "plan.json /weather: \"weather\" is not a known key here (known keys are \"rows\" or \"columns\")");
    CHECK_NOTHROW(sample.node.allow_only({"weather", "rows", "colums", "other"}));
    Json many;
    for (int i = 0; i < 1025; ++i) many[fmt::format("key{}", i)] = i;
    try {
        Node(many, "f").allow_only({"rows"});
        FAIL("passed");
    } catch (const Fault& fault) {
        CHECK(fault.problems().size() == 21);
        CHECK_THAT(fault.what(), Contains("1,005 more keys"));
    }
}

TEST_CASE("a choice names the nearest word") {
    const Sample sample(R"(["edge", "conrer", "banana", 3])");
    const auto items = sample.node.items();
    const std::vector<std::string> words = {"corner", "edge", "free"};
    CHECK(items[0].choice(words) == 1);
    CHECK_THROWS_WITH(items[1].choice(words), Contains("did you mean \"corner\"?"));
    CHECK_THROWS_WITH(items[2].choice(words),
                      "plan.json /2: found \"banana\" (give one of \"corner\", \"edge\" or \"free\")");
    CHECK_THROWS_WITH(items[3].choice(words), Contains("found 3 (a number) (give one of"));
}

TEST_CASE("fragments are short, whole characters, and harmless") {
    CHECK(shortened(std::string(60, 'a')) == std::string(60, 'a'));
    CHECK(shortened(std::string(61, 'a')) == std::string(57, 'a') + "...");
    std::string accents;
    for (int i = 0; i < 61; ++i) accents += "\u00E9";
    CHECK(shortened(accents) == accents.substr(0, 114) + "...");
    CHECK(shortened("\x1B[31m\n\t\x7F") == "\\x1b[31m\\n\\t\\x7f");
    CHECK(shortened("\u009B1m") == "\\x9b1m"); // C1 controls steer terminals as well (ECMA-48).
    CHECK(shortened("a\xFF") == "a\\xff");
    CHECK(shortened("abcdef", 5) == "ab...");
    const Json json = {{"key\x1B", std::string(10'000, '\x1B')}};
    try {
        Node(json, "f").text();
        FAIL("passed");
    } catch (const Fault& fault) {
        const std::string message = fault.what();
        CHECK(message.size() < 200);
        CHECK(message.find('\x1B') == std::string::npos);
    }
}
