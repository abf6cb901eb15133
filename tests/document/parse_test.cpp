#include <catch.hpp>
#include <random>

#include "document/document.h"

using namespace motley;
using namespace motley::document;
using Catch::Contains;

TEST_CASE("what is not JSON is explained at its place") {
    struct Row {
        std::string text;
        std::string expected;
    };
    const std::vector<Row> rows = {
        {"", "f.json: the file is empty"},
        {" \r\n\t", "f.json: the file is empty"},
        {"{\n  \"a\": [1,\n",
         "line 2, column 11: the file ends too early (the [ of line 2, column 8 is never closed)"},
        {R"({"a": [1, 2})", "line 1, column 12: this is not JSON: } (check that every {"},
        {R"({"a": 1,})", "column 9: this is not JSON: } (take out the comma before it)"},
        {"{'a': 1}", "column 2: this is not JSON: 'a': 1} (put texts between double quotes"},
        {R"({"a": 1e999})", "column 7: found 1e999 (the number is too large"},
        {R"({"a": -1e999})", "found -1e999 (the number is too large"},
        {R"({"a": NaN})", "give an ordinary number"},
        {R"({"a": 007})", "column 7: this is not JSON: 007} (write numbers like"},
        {R"({"a": .5})", "write numbers like"},
        {R"({"a" 1})", "a comma or a colon is missing"},
        {"{\"a\": 1\n \"b\": 2}",
         "line 2, column 2: this is not JSON: \"b\": 2} (a comma or a colon is missing"},
        {R"({"a": "C:\Users"})", R"(in a text, write \\ for one \)"},
        {"{\"a\": \"open\n}", "closed with \" on the line"},
        {"{\"a\": \"tab\there\"}", "control character"},
        {"{} {}", "take out what follows"},
        {"{} // done", "no comments"},
        {"// first\n{}", "no comments"},
        {R"({"a": hello})", "put double quotes around a text"},
        {R"({"a": True})", "small letters"},
        {R"({"a": 6 1/2})", "around a length with a fraction"},
        {"[1,,2]", "a comma too many"},
        {"{\"a\": \u201Cx\u201D}", "column 7: this is not JSON: \u201Cx\u201D} (use straight double quotes"},
        {R"({a: 1})", "a key must stand between double quotes"},
        {"\xFF\xFE{\0", "UTF-16"},
        {"{\"\u00E9\": \"\xC3\x28\"}", "column 8: the byte 0xC3 is not UTF-8"},
        {"{\"a\": \"\xED\xA0\x80\"}", "not UTF-8"},              // A surrogate, RFC 3629.
        {"{\"a\": \"\xC0\xAF\"}", "the byte 0xC0 is not UTF-8"}, // Overlong, RFC 3629.
        {R"(["\ud800"])", "not a character"},
    };
    for (const Row& row : rows) {
        INFO(row.text);
        CHECK_THROWS_WITH(parse(row.text, "f.json"), Contains(row.expected));
    }
}

TEST_CASE("a key written twice is found where it stands") {
    CHECK_THROWS_WITH(parse(R"({"a": 1, "b": 2, "a": 1})", "f.json"),
                      "f.json: \"a\" is written twice (keep one of the two)");
    CHECK_THROWS_WITH(parse(R"({"x/y": [0, {"a": 1, "a": 2}]})", "f.json"),
                      Contains("f.json /x~1y/1: \"a\""));
    CHECK_NOTHROW(parse(R"([{"a": 1}, {"a": 1}, {"b": {"a": 1}}])", "f.json"));
}

TEST_CASE("nesting ends at 64 and never reaches the stack") {
    const auto nested = [](std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); };
    CHECK_NOTHROW(parse(nested(64), "f.json"));
    CHECK_THROWS_WITH(parse(nested(65), "f.json"), Contains("column 65") && Contains("deeper than 64"));
    CHECK_THROWS_WITH(parse(std::string(5'000'000, '['), "f.json"), Contains("deeper than 64"));
    std::string objects;
    for (int i = 0; i < 100'000; ++i) objects += "{\"a\":";
    CHECK_THROWS_WITH(parse(objects, "f.json"), Contains("deeper than 64"));
    // Brackets inside a text are no nesting.
    CHECK_NOTHROW(parse("[\"" + std::string(1000, '[') + "\\\"[\"]", "f.json"));
}

TEST_CASE("a byte order mark is passed over") {
    CHECK(parse("\xEF\xBB\xBF{\"a\": 1}", "f.json") == Json{{"a", 1}});
}

TEST_CASE("values arrive as written and in order") {
    const Json json =
        parse(R"({"z": [1, -2, 0.1, true, null, "\u00e9\n"], "a": {}, "m": 18446744073709551615})", "f.json");
    CHECK(json.dump() == "{\"z\":[1,-2,0.1,true,null,\"\u00E9\\n\"],\"a\":{},\"m\":18446744073709551615}");
}

// Replayable: mutations of a good text are read or refused, and nothing else happens.
TEST_CASE("mutated JSON is read or refused") {
    const std::string good =
        "{\"name\": \"Plum \u00E9\", \"rows\": [1, -2.5e3, {\"deep\": [[], {}]}], \"ok\": true, \"no\": "
        "null}";
    std::mt19937 chance(20240611);
    const std::string alphabet = "{}[]\",:\\/0123456789.eE+-truefalsn \n\xC3\xA9\xFF\x01'u";
    int refused = 0;
    for (int round = 0; round < 20'000; ++round) {
        std::string text = good;
        for (auto edits = 1 + chance() % 4; edits > 0 && !text.empty(); --edits) {
            const std::size_t at = chance() % text.size();
            const char c = alphabet[chance() % alphabet.size()];
            switch (chance() % 4) {
                case 0:
                    text[at] = c;
                    break;
                case 1:
                    text.insert(at, 1, c);
                    break;
                case 2:
                    text.erase(at, 1 + chance() % 5);
                    break;
                default:
                    text.insert(at, text.substr(chance() % text.size(), chance() % 20));
            }
        }
        try {
            const Json json = parse(text, "f.json");
            REQUIRE(parse(print(json), "f.json") == json);
        } catch (const Fault& fault) {
            ++refused;
            REQUIRE(fault.cause() == Cause::input);
            REQUIRE(std::string(fault.what()).find('\xFF') == std::string::npos);
        }
    }
    CHECK(refused > 1000);
    CHECK(refused < 20'000);
}
