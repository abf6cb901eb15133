// The main job through the command line, on photos that the test invents.

#include <catch.hpp>

#include "cli/workshop.h"

using namespace motley;
using namespace motley::tests;

namespace {

/// Fabric of every cell's first patch, out of a layout.json: read with the plainest code there is.
std::vector<std::vector<std::string>> first_fabrics(const document::Json& layout) {
    std::vector<std::vector<std::string>> rows;
    for (const auto& row : layout["cells"]) {
        rows.emplace_back();
        for (const auto& cell : row)
            rows.back().push_back(
                layout["units"][cell["unit"].get<std::size_t>()]["fabrics"][0].get<std::string>());
    }
    return rows;
}

std::uint32_t big_endian(const std::string& bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < 4; ++i) number = number * 256 + static_cast<unsigned char>(bytes[at + i]);
    return number;
}

} // namespace

TEST_CASE("make leaves a valid layout, the pictures and the counts") {
    const Workshop shop;
    const Told told =
        say({"make", shop.plan(R"(, "pins": [{"row": 2, "column": 3, "fabrics": ["cloth-4"]}])"), "--out",
             shop.path("out")});
    INFO(told.err);
    REQUIRE(told.code == 0);
    for (const char* name :
         {"layout.json", "preview.png", "values.png", "squint.png", "flat.png", "counts.csv"}) {
        INFO(name);
        CHECK(fs::file_size(shop.folder() / "out" / name) > 50);
    }
    const document::Json layout = document::parse(content(shop.folder() / "out/layout.json"), "layout.json");
    CHECK(layout["format"] == "motley layout 1");
    const auto rows = first_fabrics(layout);
    REQUIRE(rows.size() == 6);
    std::map<std::string, int> uses;
    for (int r = 0; r < 6; ++r)
        for (int c = 0; c < 5; ++c) {
            const auto at = [&](int i, int j) {
                return rows[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
            };
            ++uses[at(r, c)];
            for (int i = r; i <= std::min(5, r + 1); ++i)
                for (int j = std::max(0, c - 1); j <= std::min(4, c + 1); ++j)
                    if ((i != r || j != c)) CHECK(at(i, j) != at(r, c));
        }
    CHECK(rows[1][2] == "cloth-4");
    for (const auto& [fabric, count] : uses) CHECK((count == 3 || count == 4)); // 30 patches of 9 fabrics.
    // The counts say what the picture shows: area is 36 sq in a patch at the usual 6 in.
    const std::string counts = content(shop.folder() / "out/counts.csv");
    CHECK(counts.starts_with("fabric,units,patches,finished_area_sqin,share\n"));
    for (const auto& [fabric, count] : uses)
        CHECK(counts.find(fabric + "," + std::to_string(count) + "," + std::to_string(count) + "," +
                          std::to_string(36 * count)) != std::string::npos);
    const std::string flat = content(shop.folder() / "out/flat.png");
    CHECK(big_endian(flat, 16) % 5 == 0); // Width and height in the PNG header: whole pixels to a unit.
    CHECK(big_endian(flat, 20) % 6 == 0);
    CHECK(big_endian(flat, 16) / 5 == big_endian(flat, 20) / 6);
}

TEST_CASE("the same plan and seed give the same bytes, whatever the threads and the folder") {
    const Workshop shop;
    const std::string plan = shop.plan();
    REQUIRE(say({"make", plan, "--out", shop.path("one"), "--threads", "1", "--seed", "5"}).code == 0);
    REQUIRE(say({"make", plan, "--out", shop.path("deep/er/two"), "--threads", "8", "--seed", "5"}).code ==
            0);
    CHECK(snapshot(shop.folder() / "one") == snapshot(shop.folder() / "deep/er/two"));
    REQUIRE(say({"make", plan, "--out", shop.path("three"), "--seed", "6"}).code == 0);
    CHECK(content(shop.folder() / "one/flat.png") != content(shop.folder() / "three/flat.png"));
}

TEST_CASE("a stored layout can be drawn and counted again") {
    const Workshop shop;
    REQUIRE(say({"make", shop.plan(), "--out", shop.path("out")}).code == 0);
    const auto made = snapshot(shop.folder() / "out");
    const Told drawn = say({"draw", shop.path("out/layout.json"), "--out", shop.path("again")});
    INFO(drawn.err);
    REQUIRE(drawn.code == 0);
    for (const auto& [name, bytes] : snapshot(shop.folder() / "again")) {
        INFO(name);
        CHECK((made.at(name) == bytes));
    }
    CHECK(snapshot(shop.folder() / "again").size() == 4);
    REQUIRE(say({"count", shop.path("out/layout.json"), "--out", shop.path("counted")}).code == 0);
    CHECK(content(shop.folder() / "counted/counts.csv") == made.at("counts.csv"));
    // Without the photos it is drawn in solids, and says so.
    fs::remove_all(shop.folder() / "cloths");
    const Told solids = say({"draw", shop.path("out/layout.json"), "--out", shop.path("solid")});
    CHECK(solids.code == 0);
    CHECK(solids.err.find("--palette") != std::string::npos);
    CHECK(content(shop.folder() / "solid/flat.png") == made.at("flat.png"));
}

TEST_CASE("candidates differ visibly and come with a sheet") {
    const Workshop shop;
    const Told told = say({"make", shop.plan(), "--out", shop.path("out"), "--candidates", "3"});
    INFO(told.err);
    REQUIRE(told.code == 0);
    CHECK(fs::exists(shop.folder() / "out/candidates.png"));
    std::vector<std::vector<std::vector<std::string>>> tops;
    for (const char* name : {"layout.json", "layout-2.json", "layout-3.json"})
        tops.push_back(first_fabrics(document::parse(content(shop.folder() / "out" / name), name)));
    for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t b = a + 1; b < 3; ++b) {
            int differ = 0;
            for (std::size_t r = 0; r < 6; ++r)
                for (std::size_t c = 0; c < 5; ++c) differ += tops[a][r][c] != tops[b][r][c];
            CHECK(differ >= 10);
        }
}

TEST_CASE("place prints the layout or writes it, and swatch keeps measures") {
    const Workshop shop;
    const Told printed = say({"place", shop.plan()});
    REQUIRE(printed.code == 0);
    REQUIRE(say({"place", shop.plan(), "--out", shop.path("top.json")}).code == 0);
    CHECK(content(shop.folder() / "top.json") == printed.out);
    REQUIRE(say({"swatch", "--palette", shop.path("cloths")}).code == 0);
    const document::Json palette =
        document::parse(content(shop.folder() / "cloths/palette.json"), "palette.json");
    REQUIRE(palette["fabrics"].size() == 9);
    CHECK(palette["fabrics"][0]["colour"]["from"] == "photo");
    // Measured once or measured now: the same layout.
    CHECK(say({"place", shop.plan()}).out == printed.out);
    // A photo changed since is measured again.
    const auto changed = invented_photo(77);
    write(shop.folder() / "cloths/cloth-0.png",
          std::string(reinterpret_cast<const char*>(changed.data()), changed.size()));
    CHECK(say({"place", shop.plan()}).out != printed.out);
}

TEST_CASE("half-square triangles with a drift of lightness") {
    const Workshop shop(12);
    const std::string more =
        R"(, "unit": {"recipe": "half-square-triangle", "finished": "4", "turns": "pinwheel",
            "roles": {"print": ["cloth-0", "cloth-1", "cloth-2", "cloth-3", "cloth-4", "cloth-5"], "ground": ["*"]}},
            "wishes": {"spread": 0, "colour": 0, "value": 1, "value_aim": "diagonal"})";
    const Told told = say({"make", shop.plan(more, 6, 6), "--out", shop.path("out")});
    INFO(told.err);
    REQUIRE(told.code == 0);
    const document::Json layout = document::parse(content(shop.folder() / "out/layout.json"), "layout.json");
    CHECK(layout["score"]["touching"] == 0);
    CHECK(layout["score"]["value"].get<double>() < 0.6);
    CHECK(layout["cells"][0][1]["turn"] == 1);
    CHECK(layout["cells"][1][0]["turn"] == 3);
}

TEST_CASE("--help and --version") {
    CHECK(say({"--version"}).out == "motley 0.1.0\n");
    CHECK(say({"--help"}).out.find("make") != std::string::npos);
    for (const char* command : {"make", "swatch", "place", "draw", "count", "check"}) {
        const Told told = say({command, "--help"});
        CHECK(told.code == 0);
        CHECK(told.out.find(command) != std::string::npos);
    }
}
