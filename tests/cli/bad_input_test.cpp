// Bad input: exit code, a message that says where and what would be right, and nothing touched.

#include <catch.hpp>

#include "cli/workshop.h"

using namespace motley;
using namespace motley::tests;

namespace {

struct Case {
    std::string more; ///< After the setting of the plan.
    int code;
    std::vector<std::string> fragments;
};

} // namespace

TEST_CASE("plans that are wrong or cannot be met") {
    const std::vector<Case> cases{
        {R"(, "rulse": {})", 2, {"plan.json", "rulse", "rules"}},
        {R"(, "rules": {"touching": "corners"})", 2, {"/rules/touching", "corners", "corner"}},
        {R"(, "rules": {"apart": "2"})", 2, {"/rules/apart"}},
        {R"(, "counts": {"cloth-44": 3})", 2, {"/counts", "cloth-44", "cloth-4"}},
        {R"(, "counts": {"*": 3})", 2, {"/counts", "27", "30"}},
        {R"(, "pins": [{"row": 9, "column": 1, "fabrics": ["cloth-1"]}])", 2, {"/pins/0", "9"}},
        {R"(, "pins": [{"row": 1, "column": 1, "fabrics": ["cloth-1"]}, {"row": 1, "column": 1, "fabrics": ["cloth-2"]}])",
         2,
         {"/pins/1"}},
        {R"(, "pins": [{"row": 1, "column": 1, "fabrics": ["cloth-1"]}, {"row": 2, "column": 2, "fabrics": ["cloth-1"]}])",
         2,
         {"/pins/1", "cloth-1"}},
        {R"(, "unit": {"recipe": "plain-sqare"})", 2, {"/unit/recipe", "plain-square"}},
        {R"(, "unit": {"finished": "0"})", 2, {"/unit/finished"}},
        {R"(, "unit": {"finished": "six"})", 2, {"/unit/finished", "six"}},
        {R"(, "counts": {"cloth-1": 10})", 1, {"impossible", "cloth-1", "10", "9"}},
        {R"(, "rules": {"apart": 4})", 1, {"impossible", "16", "9"}},
    };
    const Workshop shop;
    write(shop.folder() / "out/layout.json", "what was there before");
    for (const Case& one : cases) {
        const std::string plan = shop.plan(one.more);
        const auto before = snapshot(shop.folder());
        const Told told = say({"make", plan, "--out", shop.path("out")});
        INFO(one.more << "\n" << told.err);
        CHECK(told.code == one.code);
        CHECK(told.out.empty());
        for (const std::string& fragment : one.fragments) {
            INFO(fragment);
            CHECK(told.err.find(fragment) != std::string::npos);
        }
        CHECK((snapshot(shop.folder()) == before));
        CHECK(say({"check", plan}).code == one.code);
    }
}

TEST_CASE("sizes out of range") {
    const Workshop shop;
    for (const auto& [columns, rows] :
         std::vector<std::pair<int, int>>{{0, 5}, {-3, 5}, {5, 0}, {201, 200}, {2'000'000'000, 2}}) {
        const Told told = say({"make", shop.plan("", columns, rows), "--out", shop.path("out")});
        INFO(told.err);
        CHECK(told.code == 2);
        CHECK(told.err.find("/setting") != std::string::npos);
    }
}

TEST_CASE("photos that are no photos are named, all of them at once") {
    const Workshop shop;
    write(shop.folder() / "cloths/empty.jpg", "");
    write(shop.folder() / "cloths/letter.jpg", "Dear all, this is not a photo.\n");
    write(shop.folder() / "cloths/cut.png", content(shop.folder() / "cloths/cloth-1.png").substr(0, 300));
    const Told told = say({"make", shop.plan(), "--out", shop.path("out")});
    INFO(told.err);
    CHECK(told.code == 2);
    for (const char* name : {"empty.jpg", "letter.jpg", "cut.png"})
        CHECK(told.err.find(name) != std::string::npos);
    CHECK_FALSE(fs::exists(shop.folder() / "out"));
    fs::remove(shop.folder() / "cloths/empty.jpg");
    fs::remove(shop.folder() / "cloths/letter.jpg");
    fs::remove(shop.folder() / "cloths/cut.png");
    fs::create_directory(shop.folder() / "cloths/folder.jpg");
    const Told folder = say({"swatch", shop.path("cloths/folder.jpg")});
    INFO(folder.err);
    CHECK(folder.code != 0);
    CHECK(folder.err.find("folder.jpg") != std::string::npos);
}

TEST_CASE("a palette and its folder that have drifted apart") {
    const Workshop shop;
    REQUIRE(say({"swatch", "--palette", shop.path("cloths")}).code == 0);
    // A word of the user's stays through new measures.
    std::string list = content(shop.folder() / "cloths/palette.json");
    const std::size_t at = list.find("\"photo\": \"cloth-3.png\"");
    REQUIRE(at != std::string::npos);
    write(shop.folder() / "cloths/palette.json", list.insert(at, "\"value\": \"dark\", "));
    const auto added = invented_photo(40);
    write(shop.folder() / "cloths/new.png",
          std::string(reinterpret_cast<const char*>(added.data()), added.size()));
    CHECK(say({"place", shop.plan()}).err.find("new.png") != std::string::npos);
    REQUIRE(say({"swatch", "--palette", shop.path("cloths")}).code == 0);
    const document::Json palette =
        document::parse(content(shop.folder() / "cloths/palette.json"), "palette.json");
    CHECK(palette["fabrics"].size() == 10);
    CHECK(palette["fabrics"][3]["value"] == "dark");
    CHECK(palette["fabrics"][3]["colour"]["value"] == "dark");
    CHECK(say({"place", shop.plan()}).err.empty());
    fs::remove(shop.folder() / "cloths/cloth-5.png");
    for (const std::vector<std::string>& words : std::vector<std::vector<std::string>>{
             {"place", shop.plan()}, {"swatch", "--palette", shop.path("cloths")}}) {
        const Told told = say(words);
        INFO(told.err);
        CHECK(told.code == 2);
        CHECK(told.err.find("palette.json") != std::string::npos);
        CHECK(told.err.find("cloth-5") != std::string::npos);
    }
}

TEST_CASE("a palette may keep photos in folders of its own") {
    const Workshop shop(2);
    fs::create_directory(shop.folder() / "cloths/blue");
    fs::rename(shop.folder() / "cloths/cloth-1.png", shop.folder() / "cloths/blue/cloth-1.png");
    write(shop.folder() / "cloths/palette.json",
          R"({"fabrics": [{"id": "a", "photo": "cloth-0.png"}, {"id": "b", "photo": "blue/cloth-1.png"}]})");
    for (int again = 0; again < 2; ++again) {
        const Told told = say({"swatch", "--palette", shop.path("cloths")});
        INFO(told.err);
        REQUIRE(told.code == 0);
        const document::Json palette =
            document::parse(content(shop.folder() / "cloths/palette.json"), "palette.json");
        REQUIRE(palette["fabrics"].size() == 2);
        CHECK(palette["fabrics"][1]["photo"] == "blue/cloth-1.png");
        CHECK(palette["fabrics"][1]["colour"]["from"] == "photo");
    }
    CHECK_FALSE(fs::exists(shop.folder() / "cloths/cloth-1.png"));
}

TEST_CASE("what asks for nothing, or for something that is not there, is said") {
    const Workshop shop;
    const Told aim = say({"place", shop.plan(R"(, "wishes": {"value_aim": {"picture": "granny.png"}})")});
    CHECK(aim.code == 2);
    CHECK(aim.err.find("/wishes/value_aim/picture") != std::string::npos);
    CHECK(say({"place", shop.plan(R"(, "rules": {"contrast": 20})")}).err.find("contrast") !=
          std::string::npos);
    const Told stock = say({"place", shop.plan(R"(, "counts": {"cloth-1": "stock"})")});
    CHECK(stock.code == 0);
    CHECK(stock.err.find("cloth-1") != std::string::npos);
    REQUIRE(say({"make", shop.plan(), "--out", shop.path("out"), "--candidates", "3"}).code == 0);
    CHECK(say({"make", shop.plan(), "--out", shop.path("out")}).err.find("layout-3.json") !=
          std::string::npos);
}

TEST_CASE("files that are missing, not JSON, or in the way") {
    const Workshop shop;
    const Told missing = say({"make", shop.path("no-plan.json")});
    INFO(missing.err);
    CHECK(missing.code == 3);
    CHECK(missing.err.find("no-plan.json") != std::string::npos);
    write(shop.folder() / "broken.json", "{\"palette\": \"cloths\", \"setting\": {");
    CHECK(say({"make", shop.path("broken.json")}).code == 2);
    write(shop.folder() / "lost.json", R"({"palette": "nowhere", "setting": {"columns": 3, "rows": 3}})");
    const Told lost = say({"make", shop.path("lost.json")});
    CHECK(lost.code == 2);
    CHECK(lost.err.find("/palette") != std::string::npos);
    write(shop.folder() / "in-the-way", "a file");
    const Told blocked = say({"make", shop.plan(), "--out", shop.path("in-the-way")});
    INFO(blocked.err);
    CHECK(blocked.code == 3);
    CHECK(content(shop.folder() / "in-the-way") == "a file");
}

TEST_CASE("words that are wrong") {
    const Workshop shop;
    CHECK(say({}).code == 2);
    const Told command = say({"mkae", shop.plan()});
    CHECK(command.code == 2);
    CHECK(command.err.find("did you mean make?") != std::string::npos);
    const Told option = say({"make", shop.plan(), "--sede", "3"});
    CHECK(option.code == 2);
    CHECK(option.err.find("did you mean --seed?") != std::string::npos);
    for (const std::vector<std::string>& words :
         std::vector<std::vector<std::string>>{{"make"},
                                               {"make", shop.plan(), "--seed", "x"},
                                               {"make", shop.plan(), "--seed", "-1"},
                                               {"make", shop.plan(), "--candidates", "0"},
                                               {"make", shop.plan(), "--threads", "0"},
                                               {"make", shop.plan(), "more.json"},
                                               {"swatch"},
                                               {"draw"}}) {
        const Told told = say(words);
        INFO(told.err);
        CHECK(told.code == 2);
        CHECK_FALSE(told.err.empty());
    }
}
