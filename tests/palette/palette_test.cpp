#include "palette/palette.h"

#include <sys/stat.h>

#include <catch.hpp>
#include <cmath>
#include <functional>
#include <random>

#include "document/temporary_folder.h"

using namespace motley;
using namespace motley::palette;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

// A palette of these fabrics, in a folder of its own.
Palette read(const std::string& fabrics, const std::string& before = "") {
    const TemporaryFolder folder;
    folder.put("palette.json", "{" + before + "\"fabrics\": [" + fabrics + "]}");
    return read_palette(folder.path());
}

Fabric read_one(const std::string& members) {
    return read("{\"id\": \"plum\", " + members + "}").fabrics.at(0);
}

const std::string typed = R"("colour": {"srgb": [118, 42, 71]})";

Fault fault_of(const std::function<void()>& action) {
    try {
        action();
    } catch (const Fault& fault) {
        return fault;
    }
    throw std::runtime_error("no fault");
}

} // namespace

TEST_CASE("the palette of the contract is read") {
    const TemporaryFolder folder;
    // From formats.md, "Palette".
    folder.put("palette.json", R"({"format": "motley palette 1", "name": "Orchard",
 "fabrics": [
   {"id": "plum-dot", "name": "Plum dots", "photo": "plum-dot.jpg", "photo_width": "5 in",
    "stock": [{"piece": "strip", "width": "2 1/2", "length": "42", "count": 2}, {"piece": "yardage", "length": "1/4 yd", "width": "42"}],
    "colour": {"srgb": [118, 42, 71], "lab": [29.6, 36.1, -2.3], "value": "dark", "from": "photo"}},
   {"id": "linen", "colour": {"srgb": [238, 232, 219]}}]})");
    folder.put("stranger.jpg", "left alone");
    const Palette palette = read_palette(folder.path());
    CHECK(palette.name == "Orchard");
    CHECK(palette.folder == folder.path());
    CHECK(palette.measure == measure::System::inch);
    REQUIRE(palette.fabrics.size() == 2);
    const Fabric& plum = palette.fabrics[0];
    CHECK(plum.id == "plum-dot");
    CHECK(plum.name == "Plum dots");
    CHECK(plum.photo == "plum-dot.jpg");
    CHECK(plum.photo_width.ticks == 5 * measure::Length::per_inch);
    REQUIRE(plum.stock.size() == 2);
    CHECK(plum.stock[0].piece == StockPiece::Piece::strip);
    CHECK(plum.stock[0].width.in_inches() == 2.5);
    CHECK(plum.stock[0].length.in_inches() == 42);
    CHECK(plum.stock[0].count == 2);
    CHECK(plum.stock[1].length.in_inches() == 9);
    CHECK(plum.stock[1].count == 1);
    REQUIRE(plum.colour);
    CHECK(plum.colour->from == FabricColour::From::photo);
    CHECK(plum.colour->value == colour::Value::dark);
    CHECK(plum.colour->lab.l == 29.6); // Both given: the numbers are Lab's, not sRGB's.
    CHECK(plum.colour->srgb == colour::Srgb{118, 42, 71});
    const Fabric& linen = palette.fabrics[1];
    CHECK(linen.name == "linen");
    CHECK(linen.photo.empty());
    CHECK(linen.colour->from == FabricColour::From::typed);
    CHECK(read_palette(folder / "palette.json").folder == folder.path());
}

TEST_CASE("a typed colour has both sRGB and Lab") {
    // sRGB red: L* 53.2408, a* 80.0925, b* 67.2032 under D65 (the usual table value, from memory; two
    // decimals agree whichever white rounding is used).
    const Fabric red = read_one(R"("colour": {"srgb": [255, 0, 0]})");
    CHECK(red.colour->lab.l == Approx(53.24).margin(0.01));
    CHECK(red.colour->lab.a == Approx(80.09).margin(0.02));
    CHECK(red.colour->lab.b == Approx(67.20).margin(0.02));
    const Fabric back = read_one(R"("colour": {"lab": [53.2408, 80.0925, 67.2032]})");
    CHECK(back.colour->srgb == colour::Srgb{255, 0, 0});
    CHECK(read_one(R"("colour": {"lab": [100, 0, 0]})").colour->srgb == colour::Srgb{255, 255, 255});
    CHECK(typed_colour(colour::Srgb{128, 128, 128}).lab.a == 0.0);
    CHECK_FALSE(std::signbit(typed_colour(colour::Srgb{128, 128, 128}).lab.a));
}

TEST_CASE("the user's word on value stands beside the measured one") {
    const Fabric fabric =
        read_one(R"("value": "light", "colour": {"lab": [20, 0, 0], "value": "dark", "from": "photo"})");
    CHECK(fabric.value_said == colour::Value::light);
    CHECK(fabric.colour->value == colour::Value::dark);
    CHECK_FALSE(read_one(typed).value_said);
    // Typed by hand, without "from", the value is the user's word; as motley writes it, it is what was found.
    CHECK(read_one(R"("colour": {"lab": [20, 0, 0], "value": "light"})").value_said == colour::Value::light);
    CHECK_FALSE(read_one(R"("colour": {"lab": [20, 0, 0], "value": "light", "from": "typed"})").value_said);
}

TEST_CASE("stock has the usual sizes where none are said") {
    const auto stock = [](const std::string& json) {
        return read_one(typed + ", \"stock\": [" + json + "]").stock.at(0);
    };
    // 42 in of usable width, fat quarter 18 x 22 in: common practice, no source.
    CHECK(stock(R"({"piece": "strip", "width": 2.5})").length.in_inches() == 42);
    CHECK(stock(R"({"piece": "square", "width": "10"})").length.in_inches() == 10);
    CHECK(stock(R"({"piece": "fat quarter"})").width.in_inches() == 22);
    CHECK(stock(R"({"piece": "fat quarter"})").length.in_inches() == 18);
    CHECK(stock(R"({"piece": "yardage", "length": "1/2 yd"})").width.in_inches() == 42);
    CHECK(stock(R"({"piece": "yardage", "length": "1/2 yd"})").length.in_inches() == 18);
    CHECK(stock(R"({"piece": "scrap", "width": "3", "length": "7", "count": 4})").count == 4);
}

TEST_CASE("metric palettes measure in centimetres") {
    const Palette palette =
        read(R"({"id": "a", "photo": "a.jpg", "photo_width": 12.5})", R"("measure": "metric", )");
    CHECK(palette.fabrics[0].photo_width.ticks == 125 * measure::Length::per_millimetre);
    CHECK(document::print(write_palette(palette)).find("\"12.5 cm\"") != std::string::npos);
}

TEST_CASE("bad fabrics are refused with place and remedy") {
    struct Row {
        std::string members;
        std::string expected;
    };
    const std::vector<Row> rows = {
        {"\"name\": \"x\"", "/fabrics/0: the fabric \"plum\" has neither a photo nor a colour"},
        {typed + ", \"foto\": \"x.jpg\"",
         "/fabrics/0/foto: \"foto\" is not a known key here (did you mean \"photo\"?)"},
        {typed + ", \"name\": \"\"", "/fabrics/0/name: found \"\" (give a name"},
        {typed + ", \"name\": 7", "/fabrics/0/name: found 7 (a number) (give a text"},
        {"\"photo\": \"../x.jpg\"",
         "/fabrics/0/photo: the photo \"../x.jpg\" is outside the palette's folder"},
        {"\"photo\": \"a/../../x.jpg\"", "outside the palette's folder"},
        {"\"photo\": \"/etc/x.jpg\"", "outside the palette's folder"},
        {"\"photo\": \"..\"", "outside the palette's folder"},
        {"\"photo\": \"\"", "no file's name"},
        {"\"photo\": \".\"", "no file's name"},
        {"\"photo\": \"sub/\"", "no file's name"},
        {R"("photo": "a\u0000.jpg")", "no file's name"},
        {"\"photo\": \"x.jpg\", \"photo_width\": \"1/8\"",
         "/fabrics/0/photo_width: found \"1/8\" (give a length from 1/4 in to 120 in)"},
        {"\"photo\": \"x.jpg\", \"photo_width\": 121", "photo_width: found 121 (give a length"},
        {"\"photo\": \"x.jpg\", \"photo_width\": \"wide\"", "found \"wide\" where a length belongs"},
        {"\"photo\": \"x.jpg\", \"photo_width\": [5]", "a length belongs here"},
        {typed + ", \"value\": \"drak\"", "did you mean \"dark\"?"},
        {"\"colour\": {}", "/fabrics/0/colour: a colour needs \"srgb\" or \"lab\""},
        {"\"colour\": {\"srgb\": [1, 2]}",
         "/fabrics/0/colour/srgb: found a list of 2 (give three whole numbers"},
        {"\"colour\": {\"srgb\": [1, 2, 256]}",
         "/fabrics/0/colour/srgb/2: found 256 (a number) (give a whole number from 0 to 255)"},
        {"\"colour\": {\"srgb\": \"#762a47\"}",
         "/fabrics/0/colour/srgb: found \"#762a47\" (a text) (give a list"},
        {"\"colour\": {\"lab\": [101, 0, 0]}", "/fabrics/0/colour/lab/0: found 101"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"from\": \"foto\"}", "did you mean \"photo\"?"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"busy\": 1.1}", "busy: found 1.1"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"print\": {\"stripes\": \"acros\"}}", "did you mean \"across\"?"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"print\": {\"repeat_in\": [[1]]}}",
         "/print/repeat_in/0: found a list of 1"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"print\": {\"repeat_in\": [[0, 0]]}}", "a repeat of no length"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"print\": {\"repeat_in\": [[1, 0], [0, 1], [1, 1]]}}",
         "found 3 steps"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"photo_hash\": \"XYZ\"}", "photo_hash: found \"XYZ\""},
        {"\"colour\": {\"lab\": [1, 0, 0], \"accents\": [{\"srgb\": [1, 2, 3], \"share\": 0}]}",
         "covers nothing"},
        {"\"colour\": {\"lab\": [1, 0, 0], \"accents\": [{\"srgb\": [1, 2, 3]}]}", "has no \"share\""},
        {"\"colour\": {\"lab\": [1, 0, 0], \"accents\": [{\"srgb\": [1, 2, 3], \"share\": 0.1}, {\"srgb\": "
         "[1, 2, 3], \"share\": 0.2}]}",
         "/accents/1: this accent is larger than the one before it"},
        {typed + ", \"stock\": [{\"piece\": \"fat-quarter\"}]",
         "/fabrics/0/stock/0/piece: found \"fat-quarter\" (did you mean \"fat quarter\"?"},
        {typed + ", \"stock\": [{\"width\": 2}]", "has no \"piece\""},
        {typed + ", \"stock\": [{\"piece\": \"strip\"}]", "has no \"width\""},
        {typed + ", \"stock\": [{\"piece\": \"yardage\"}]", "has no \"length\""},
        {typed + ", \"stock\": [{\"piece\": \"strip\", \"width\": 0}]",
         "/stock/0/width: found 0 (give a length from 1/8 in"},
        {typed + ", \"stock\": [{\"piece\": \"square\", \"width\": 5, \"length\": 6}]",
         "two different sides"},
        {typed + ", \"stock\": [{\"piece\": \"fat quarter\", \"count\": 0}]", "count: found 0"},
        {typed + ", \"stock\": {}", "give a list"},
    };
    for (const Row& row : rows) {
        INFO(row.members);
        const Fault fault = fault_of([&] { read_one(row.members); });
        CHECK(fault.cause() == Cause::input);
        CHECK_THAT(fault.what(), Contains("palette.json /fabrics/0") && Contains(row.expected));
    }
}

TEST_CASE("ids name one fabric each") {
    const auto with_id = [](const std::string& id) { read("{\"id\": " + id + ", " + typed + "}"); };
    CHECK_THROWS_WITH(with_id("\"\""), Contains("\"\" is no fabric id: it is empty"));
    CHECK_THROWS_WITH(with_id("\"a*\""), Contains("* stands for all fabrics"));
    CHECK_THROWS_WITH(with_id(R"("a\u0007")"), Contains("control character"));
    CHECK_THROWS_WITH(with_id("\"" + std::string(65, 'a') + "\""), Contains("longer than 64 bytes"));
    CHECK_THROWS_WITH(with_id("7"), Contains("give a text"));
    CHECK_NOTHROW(with_id("\"" + std::string(64, 'a') + "\""));
    CHECK_NOTHROW(with_id("\"\u00C4pfel & Birnen\""));
}

TEST_CASE("all that is wrong is told at once") {
    const Fault fault = fault_of([] {
        read("{\"id\": \"a\", " + typed + "}, {\"id\": \"a\", " + typed +
             "}, {\"id\": \"b\"}, {\"id\": \"a\", " + typed + "}, 5");
    });
    CHECK(fault.problems().size() == 4);
    CHECK_THAT(fault.what(), Contains("/fabrics/1/id: the id \"a\" is taken already, at") &&
                                 Contains("/fabrics/0") &&
                                 Contains("/fabrics/2: the fabric \"b\" has neither") &&
                                 Contains("/fabrics/3/id") && Contains("/fabrics/4: found 5"));
    std::string many = "{}";
    for (int i = 0; i < 999; ++i) many += ",{}";
    const Fault long_fault = fault_of([&] { read(many); });
    CHECK(long_fault.problems().size() == 21);
    CHECK_THAT(long_fault.what(), Contains("980 more problems"));
}

TEST_CASE("files that are no palette") {
    const auto with_text = [](const std::string& text) {
        const TemporaryFolder folder;
        folder.put("palette.json", text);
        read_palette(folder.path());
    };
    CHECK_THROWS_WITH(with_text("{"), Contains("palette.json: line 1"));
    CHECK_THROWS_WITH(with_text("[]"), Contains("give an object"));
    CHECK_THROWS_WITH(with_text("{}"), Contains("has no \"fabrics\""));
    CHECK_THROWS_WITH(with_text("{\"fabrics\": []}"), Contains("/fabrics: this palette lists no fabric"));
    CHECK_THROWS_WITH(with_text("{\"fabrics\": {}}"),
                      Contains("/fabrics: found {} (an object) (give a list"));
    CHECK_THROWS_WITH(with_text(R"({"format": "motley plan 1", "setting": {}})"), Contains("not a palette"));
    CHECK_THROWS_WITH(with_text(R"({"format": "motley palette 2", "new": 1})"), Contains("does not know"));
    CHECK_THROWS_WITH(with_text(R"({"measure": "inches", "fabrics": []})"),
                      Contains("did you mean \"inch\"?"));
    CHECK_THROWS_WITH(with_text(R"({"fabric": [], "fabrics": []})"), Contains("did you mean \"fabrics\"?"));
    std::string many = "{\"fabrics\": [0";
    for (std::size_t i = 0; i < most_fabrics; ++i) many += ",0";
    CHECK_THROWS_WITH(with_text(many + "]}"), Contains("found 4097 fabrics (a palette holds at most 4096)"));
    const TemporaryFolder folder;
    fs::create_directory(folder / "palette.json");
    CHECK_THROWS_WITH(read_palette(folder.path()), Contains("palette.json: this is a folder"));
    const Fault missing = fault_of([&] { read_palette(folder / "orchard"); });
    CHECK(missing.cause() == Cause::system);
    CHECK_THAT(missing.what(), Contains("there is no such file"));
}

TEST_CASE("a folder of photos is a palette") {
    const TemporaryFolder folder;
    for (const std::string name : {"b.JPG", "a.jpeg", "C.png", "d.e.webp", "f.HEIC", "g.heif", "h.avif"})
        folder.put(name, "");
    for (const std::string name : {".hidden.jpg", "notes.txt", "jpg", "x.tiff"}) folder.put(name, "");
    fs::create_directory(folder / "folder.jpg");
    CHECK_THROWS_WITH(read_palette(folder.path()), Contains("folder.jpg: this is a folder"));
    fs::remove(folder / "folder.jpg");
    const Palette palette = read_palette(folder.path());
    std::vector<std::string> ids;
    for (const Fabric& fabric : palette.fabrics) ids.push_back(fabric.id + "=" + fabric.photo);
    CHECK(ids == std::vector<std::string>{"C=C.png", "a=a.jpeg", "b=b.JPG", "d.e=d.e.webp", "f=f.HEIC",
                                          "g=g.heif", "h=h.avif"});
    CHECK(palette.name == folder.path().filename().string());
    CHECK(read_palette(folder.path() / "").name == palette.name);
    CHECK(palette.fabrics[0].photo_width == usual_photo_width);
    CHECK_FALSE(palette.fabrics[0].colour);
    folder.put("palette.json",
               R"({"fabrics": [{"id": "b", "photo": "b.JPG"}, {"id": "h", "photo": "h.avif"}]})");
    fs::create_directory(folder / "folder.jpg");
    CHECK(read_palette(folder.path()).unlisted ==
          std::vector<std::string>{"C.png", "a.jpeg", "d.e.webp", "f.HEIC", "g.heif"});
}

TEST_CASE("a folder that makes no palette") {
    const TemporaryFolder folder;
    folder.put("notes.txt", "");
    CHECK_THROWS_WITH(read_palette(folder.path()),
                      Contains("neither \"palette.json\" nor a photo") && Contains(".heic"));
    folder.put("plum.jpg", "");
    folder.put("plum.png", "");
    folder.put("a*b.jpg", "");
    folder.put("bad\xFF.jpg", "");
    const Fault fault = fault_of([&] { read_palette(folder.path()); });
    CHECK(fault.cause() == Cause::input);
    CHECK(fault.problems().size() == 3);
    CHECK_THAT(fault.what(),
               Contains("two photos make the same fabric id \"plum\": \"plum.jpg\" and \"plum.png\"") &&
                   Contains("* stands for all fabrics") && Contains("bad\\xff.jpg") && Contains("not UTF-8"));
}

TEST_CASE("photo paths take their normal form") {
    CHECK(read_one("\"photo\": \"./a//b/../x.jpg\"").photo == "a/x.jpg");
    CHECK(read_one("\"photo\": \"..x.jpg\"").photo == "..x.jpg");
}

TEST_CASE("a palette file named without its folder is read from where one stands") {
    const TemporaryFolder folder;
    folder.put("palette.json", "{\"fabrics\": [{\"id\": \"plum\", " + typed + "}]}");
    const fs::path before = fs::current_path();
    fs::current_path(folder.path());
    const Palette palette = read_palette("palette.json");
    fs::current_path(before);
    CHECK(palette.folder == ".");
    CHECK(palette.fabrics.size() == 1);
}

TEST_CASE("a one-way print and a price are kept") {
    const Fabric fabric = read_one(typed + R"(, "one_way": true, "price": 12.5)");
    CHECK(fabric.one_way);
    CHECK(fabric.price == 12.5);
    CHECK_FALSE(read_one(typed).one_way);
    CHECK_FALSE(read_one(typed).price);
    CHECK_THROWS_AS(read_one(typed + R"(, "price": -1)"), Fault);
    CHECK_THROWS_AS(read_one(typed + R"(, "one_way": "yes")"), Fault);
}

TEST_CASE("one-way: a no is a word as good as a yes") {
    CHECK(read_one(typed + R"(, "one_way": false)").one_way_said);
    CHECK_FALSE(read_one(typed + R"(, "one_way": false)").one_way);
    CHECK_FALSE(read_one(typed).one_way_said);
    const std::string written =
        document::print(write_fabrics({read_one(typed + R"(, "one_way": false)")}, measure::System::inch));
    CHECK(written.find("\"one_way\": false") != std::string::npos);
}

TEST_CASE("a print's repeat follows the photo's width when somebody corrects it") {
    const std::string print = R"("colour": {"lab": [50, 0, 0], "from": "photo", "print":
        {"repeat_in": [[0.5, 0], [0.25, 0.3]], "photo_width": "5 in", "stripes": "none",
         "one_way_suggested": true, "sure": 0.9}})";
    const Print as_measured = *read_one(R"("photo": "x.jpg", "photo_width": "5 in", )" + print).colour->print;
    CHECK(as_measured.repeat == std::vector<Print::Step>{{0.5, 0}, {0.25, 0.3}});
    CHECK(as_measured.one_way);
    const Print corrected = *read_one(R"("photo": "x.jpg", "photo_width": "8 in", )" + print).colour->print;
    CHECK(corrected.repeat == std::vector<Print::Step>{{0.8, 0}, {0.4, 0.48}});
    CHECK(corrected.sure == 0.9);
}

TEST_CASE("prints in plain words") {
    const auto words = [](const Print& print) { return in_words(print, measure::System::inch); };
    CHECK(words({}).empty());
    CHECK(words({.repeat = {{0.5003, 0.0001}, {0, 0.4998}}, .stripes = Print::Stripes::both}) ==
          "checks, repeat 1/2 in");
    CHECK(words({.repeat = {{0.62, 0}}, .stripes = Print::Stripes::along}) == "stripes along, repeat 5/8 in");
    CHECK(words({.stripes = Print::Stripes::across}) == "stripes across");
    CHECK(words({.repeat = {{0.3, 0.3}, {-0.3, 0.3}}}) == "repeat 5/8 in half-drop");
    CHECK(words({.repeat = {{0.6, 0}, {0.3, 0.5}}, .one_way = true}) ==
          "repeat 5/8 in x 1 in half-drop, looks one-way");
    CHECK(words({.repeat = {{0.5, 0.2}, {-0.2, 0.5}}}) == "repeat 9/16 in aslant");
    CHECK(words({.one_way = true}) == "looks one-way");
    CHECK(in_words({.repeat = {{1, 0}, {0, 2}}}, measure::System::metric) == "repeat 25 mm x 51 mm");
}
