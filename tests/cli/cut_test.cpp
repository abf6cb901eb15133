// `motley cut` through the real command.

#include <catch.hpp>

#include "cli/workshop.h"

using namespace motley;
using namespace motley::tests;

namespace {

const std::string ten_inch_squares = R"({"format": "motley cuts 1", "measure": "inch",
    "fabric": {"usable_width": "42"}, "stages": 3,
    "pieces": [{"name": "square", "width": "10", "height": "10", "count": 30}]})";

} // namespace

TEST_CASE("thirty ten-inch squares: 2 1/4 yd, as JSON and in words") {
    // 4 in a strip of 42 in, so 8 strips of 10 in: 80 in, sold as 81 in.
    const TemporaryFolder folder;
    write(folder.path() / "cuts.json", ten_inch_squares);
    const std::string file = (folder.path() / "cuts.json").string();
    const Told told = say({"cut", file, "--json"});
    REQUIRE(told.code == 0);
    CHECK(told.err.empty());
    const document::Json json = document::parse(told.out, "answer");
    CHECK(json["length"] == 80.0);
    CHECK(json["buy_yards"] == 2.25);
    CHECK(json["bound"] == 80.0);
    CHECK(json["proved"] == true);
    REQUIRE(json["strips"].size() == 8);
    std::size_t squares = 0;
    for (const document::Json& strip : json["strips"]) {
        CHECK(strip["height"] == 10.0);
        for (const document::Json& segment : strip["segments"])
            for (const document::Json& piece : segment["pieces"])
                squares += piece["name"] == "square" ? 1 : 0;
    }
    CHECK(squares == 30);

    const Told words = say({"cut", file});
    REQUIRE(words.code == 0);
    for (const char* fragment : {"Buy 2 1/4 yd (81 in)", "No plan can do with less than 80 in",
                                 "Strips 1 to 7 (cut 7 alike): 10 in tall", "Strip 8: 10 in tall",
                                 "Close the rotary cutter's blade"}) {
        INFO(fragment << "\n" << words.out);
        CHECK(words.out.find(fragment) != std::string::npos);
    }
}

TEST_CASE("stock is cut first, and may be enough") {
    const TemporaryFolder folder;
    write(folder.path() / "cuts.json", R"({"format": "motley cuts 1", "fabric": {"usable_width": "42"},
        "stock": [{"piece": "fat quarter", "count": 2}],
        "pieces": [{"name": "square", "width": "6", "height": "6", "count": 18}]})");
    const std::string file = (folder.path() / "cuts.json").string();
    // A fat quarter, 18 x 22 in, gives nine 6 in squares.
    const document::Json json = document::parse(say({"cut", file, "--json"}).out, "answer");
    CHECK(json["length"] == 0.0);
    CHECK(json["buy_yards"] == 0.0);
    CHECK(json["proved"] == true);
    CHECK(json["sheets"].size() == 2);
    CHECK(json["strips"].empty());
    const Told words = say({"cut", file});
    CHECK(words.out.find("Nothing needs to be bought") != std::string::npos);
    CHECK(words.out.find("2 of them cut alike") != std::string::npos);
}

TEST_CASE("cut lists that are wrong are refused with their place") {
    const TemporaryFolder folder;
    const std::string file = (folder.path() / "cuts.json").string();
    const auto refused = [&](const std::string& text, int code, const std::vector<std::string>& fragments) {
        write(folder.path() / "cuts.json", text);
        const Told told = say({"cut", file});
        INFO(text << "\n" << told.err);
        CHECK(told.code == code);
        CHECK(told.out.empty());
        for (const std::string& fragment : fragments) CHECK(told.err.find(fragment) != std::string::npos);
    };
    refused("not json", 2, {"cuts.json", "line 1"});
    refused(R"({"fabric": {"usable_width": 42}, "pieces": [{"width": 50, "height": 60}]})", 2,
            {"cuts.json /pieces/0", "50 in", "42 in"});
    refused(R"({"fabric": {}, "pieces": [{"width": 5, "height": 6}]})", 2, {"/fabric", "usable_width"});
    CHECK(say({"cut", (folder.path() / "none.json").string()}).code == 3);
    CHECK(say({"cut"}).code == 2);
}
