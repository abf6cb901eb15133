#include <fmt/format.h>

#include <catch.hpp>
#include <cmath>
#include <random>

#include "document/document.h"

using namespace motley;
using namespace motley::document;

namespace {

std::string lines_of(const std::string& text, std::size_t widest) {
    std::string too_wide;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        if (end - at > widest) too_wide += text.substr(at, end - at + 1);
        at = end + 1;
    }
    return too_wide;
}

Json random_value(std::mt19937& chance, int depth) {
    switch (chance() % (depth > 0 ? 8 : 6)) {
        case 0:
            return static_cast<std::int64_t>(chance()) - (1LL << 31);
        case 1:
            return std::ldexp(static_cast<double>(chance() % 4'000'000'000) - 2e9,
                              static_cast<int>(chance() % 200) - 100);
        case 2:
            return chance() % 2 == 0;
        case 3:
            return nullptr;
        case 4:
            return std::string(chance() % 50, static_cast<char>('a' + chance() % 26)) + "\"\\\n\u00E9";
        case 5:
            return static_cast<double>(chance() % 1000) / 1000.0;
        case 6: {
            Json list = Json::array();
            for (auto n = chance() % 30; n > 0; --n) list.push_back(random_value(chance, depth - 1));
            return list;
        }
        default: {
            Json object = Json::object();
            for (auto n = chance() % 6; n > 0; --n)
                object[fmt::format("k{}", n)] = random_value(chance, depth - 1);
            return object;
        }
    }
}

} // namespace

TEST_CASE("print is read back as the same value") {
    std::mt19937 chance(7);
    for (int round = 0; round < 500; ++round) {
        const Json value = random_value(chance, 5);
        const std::string text = print(value);
        REQUIRE(parse(text, "f.json") == value);
        REQUIRE(print(parse(text, "f.json")) == text);
        REQUIRE(text.back() == '\n');
    }
}

TEST_CASE("a small file looks like one typed by hand") {
    const Json json =
        parse(R"({"format":"x","list":[1,2.50,3],"empty":[],"none":{},"nested":{"a":[{"b":1}]}})", "f");
    CHECK(print(json) ==
          "{\n  \"format\": \"x\",\n  \"list\": [1, 2.5, 3],\n  \"empty\": [],\n  \"none\": {},\n"
          "  \"nested\": {\"a\": [{\"b\": 1}]}\n}\n");
    CHECK(print(Json::object()) == "{}\n");
    CHECK(print(3) == "3\n");
}

TEST_CASE("rows of cells share lines, and lines stay narrow") {
    Json row = Json::array();
    for (int i = 0; i < 5; ++i) row.push_back({{"unit", i}, {"turn", 0}});
    const std::string text = print({{"cells", Json::array({row})}});
    CHECK(text ==
          "{\n  \"cells\": [\n    [\n"
          "      {\"unit\": 0, \"turn\": 0}, {\"unit\": 1, \"turn\": 0}, {\"unit\": 2, \"turn\": 0}, "
          "{\"unit\": 3, \"turn\": 0},\n"
          "      {\"unit\": 4, \"turn\": 0}\n    ]\n  ]\n}\n");
    std::mt19937 chance(3);
    Json cells = Json::array();
    for (int r = 0; r < 100; ++r) {
        Json line = Json::array();
        for (int c = 0; c < 100; ++c)
            line.push_back(
                {{"unit", chance() % 5000}, {"turn", chance() % 4}, {"pinned", chance() % 2 == 0}});
        cells.push_back(line);
    }
    const std::string large = print({{"cells", cells}});
    CHECK(lines_of(large, 110).empty());
    CHECK(parse(large, "f")["cells"] == cells);
}

TEST_CASE("numbers are printed in their shortest form") {
    CHECK(print(Json::array({0.1, 1.0 / 3, 1e22, 5e-324})) == "[0.1, 0.3333333333333333, 1e+22, 5e-324]\n");
}

TEST_CASE("what no file can hold is a bug of ours") {
    CHECK_THROWS_AS(print(std::nan("")), std::logic_error);
    CHECK_THROWS_AS(print("\xFF"), std::logic_error);
}
