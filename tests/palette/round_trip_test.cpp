#include <fmt/format.h>

#include <catch.hpp>
#include <cmath>
#include <random>

#include "document/temporary_folder.h"
#include "palette/palette.h"

using namespace motley;
using namespace motley::palette;

namespace {

class Inventor {
public:
    explicit Inventor(std::uint32_t seed) : chance_(seed) {}

    Palette palette() {
        Palette palette;
        palette.name = "Invented";
        palette.measure = one_of(2) == 0 ? measure::System::inch : measure::System::metric;
        for (int n = one_of(12); n >= 0; --n) palette.fabrics.push_back(fabric(n));
        return palette;
    }

private:
    int one_of(int choices) { return static_cast<int>(chance_() % static_cast<unsigned>(choices)); }
    double share() { return static_cast<double>(chance_() % 1'000'000) / 999'999.0; }
    colour::Srgb srgb() {
        const auto channel = [&] { return static_cast<std::uint8_t>(one_of(256)); };
        return {channel(), channel(), channel()};
    }
    measure::Length length(int least, int most) { // In ticks: most of them fit neither measure.
        return {least + one_of(most - least + 1)};
    }

    Print print() {
        Print print;
        for (int n = one_of(3); n > 0; --n) print.repeat.push_back({0.01 + share() * 9, share() * 20 - 10});
        print.stripes = static_cast<Print::Stripes>(one_of(5));
        print.lean = share() * 180 - 90;
        print.one_way = one_of(2) == 0;
        print.sure = share();
        return print;
    }

    FabricColour colour() {
        FabricColour colour =
            one_of(2) == 0
                ? typed_colour(srgb())
                : typed_colour(colour::Lab{share() * 100, share() * 200 - 100, share() * 200 - 100});
        if (one_of(2) == 0) colour.value = static_cast<colour::Value>(one_of(3));
        if (one_of(2) == 0) {
            colour.from = FabricColour::From::photo;
            double rest = 1;
            for (int n = one_of(7); n > 0; --n) {
                rest *= 0.3 + 0.7 * share();
                colour.accents.push_back({srgb(), rest});
            }
            colour.busy = share();
            if (one_of(3) > 0) colour.print = print();
            colour.photo_hash = document::content_hash(document::bytes_of(std::to_string(one_of(1000))));
        }
        return rounded(colour);
    }

    StockPiece stock() {
        StockPiece piece;
        piece.piece = static_cast<StockPiece::Piece>(one_of(5));
        piece.width = length(1016, 500'000);
        piece.length = piece.piece == StockPiece::Piece::square ? piece.width : length(1016, 5'000'000);
        piece.count = 1 + one_of(20);
        return piece;
    }

    Fabric fabric(int number) {
        Fabric fabric;
        fabric.id = fmt::format("fabric \u00E9 {}", number);
        fabric.name = one_of(2) == 0 ? fabric.id : "A \"name\" / with \\ signs";
        if (one_of(3) > 0) fabric.photo = fmt::format("sub/photo{}.jpg", number);
        if (one_of(2) == 0) fabric.photo_width = length(2032, 975'360);
        for (int n = one_of(4); n > 0; --n) fabric.stock.push_back(stock());
        if (one_of(2) == 0) fabric.value_said = static_cast<colour::Value>(one_of(3));
        fabric.one_way_said = one_of(3) > 0;
        fabric.one_way = fabric.one_way_said && one_of(2) == 0;
        if (one_of(2) == 0) fabric.price = one_of(4000) / 100.0;
        if (fabric.photo.empty() || one_of(2) == 0) fabric.colour = colour();
        return fabric;
    }

    std::mt19937 chance_;
};

bool same(const FabricColour& a, const FabricColour& b) {
    bool equal = a.srgb == b.srgb && a.lab.l == b.lab.l && a.lab.a == b.lab.a && a.lab.b == b.lab.b &&
                 a.value == b.value && a.from == b.from && a.busy == b.busy && a.print == b.print &&
                 a.photo_hash == b.photo_hash && a.accents.size() == b.accents.size();
    for (std::size_t i = 0; equal && i < a.accents.size(); ++i)
        equal = a.accents[i].srgb == b.accents[i].srgb && a.accents[i].share == b.accents[i].share;
    return equal;
}

bool same(const Fabric& a, const Fabric& b) {
    bool equal = a.id == b.id && a.name == b.name && a.photo == b.photo && a.photo_width == b.photo_width &&
                 a.one_way == b.one_way && a.one_way_said == b.one_way_said && a.price == b.price &&
                 a.value_said == b.value_said && a.colour.has_value() == b.colour.has_value() &&
                 (!a.colour || same(*a.colour, *b.colour)) && a.stock.size() == b.stock.size();
    for (std::size_t i = 0; equal && i < a.stock.size(); ++i)
        equal = a.stock[i].piece == b.stock[i].piece && a.stock[i].width == b.stock[i].width &&
                a.stock[i].length == b.stock[i].length && a.stock[i].count == b.stock[i].count;
    return equal;
}

} // namespace

TEST_CASE("a written palette is read back the same") {
    const TemporaryFolder folder;
    for (std::uint32_t seed = 1; seed <= 200; ++seed) {
        const Palette palette = Inventor(seed).palette();
        const std::string text = document::print(write_palette(palette));
        folder.put("palette.json", text);
        const Palette back = read_palette(folder.path());
        INFO(text);
        REQUIRE(back.name == palette.name);
        REQUIRE(back.measure == palette.measure);
        REQUIRE(back.fabrics.size() == palette.fabrics.size());
        for (std::size_t i = 0; i < back.fabrics.size(); ++i)
            REQUIRE(same(back.fabrics[i], palette.fabrics[i]));
        REQUIRE(document::print(write_palette(back)) == text);
    }
}

TEST_CASE("colours are rounded to what the file says") {
    FabricColour colour;
    colour.lab = {12.34567, -0.00001, 1.00005};
    colour.accents = {{{1, 2, 3}, 0.123456}};
    colour.busy = 0.99999;
    const FabricColour once = rounded(colour);
    CHECK(once.lab.l == 12.3457);
    CHECK(once.lab.a == 0);
    CHECK_FALSE(std::signbit(once.lab.a));
    CHECK(once.accents[0].share == 0.1235);
    CHECK(once.busy == 1.0);
    CHECK(same(rounded(once), once));
}

// Replayable: a damaged palette is read or refused, and nothing else happens.
TEST_CASE("mutated palettes are read or refused") {
    std::mt19937 chance(4711);
    const std::vector<std::string> pieces = {
        "{",    "}", "[",   "]", ",",  ":",       "\"",   "-",        "0",      "9e9",      ".5",  "null",
        "true", "*", "../", "/", "\\", "\\u0000", "\xC3", "\xC3\xA9", "\"id\"", "\"srgb\"", "1/0", " "};
    int taken = 0;
    int refused = 0;
    for (std::uint32_t round = 0; round < 6000; ++round) {
        const Palette palette = Inventor(round % 50).palette();
        std::string text = document::print(write_fabrics(palette.fabrics, palette.measure));
        for (auto edits = 1 + chance() % 3; edits > 0; --edits) {
            const std::size_t at = chance() % text.size();
            const std::string& piece = pieces[chance() % pieces.size()];
            if (const std::size_t digit = text.find_first_of("0123456789", at);
                chance() % 2 == 0 && digit < text.size())
                text[digit] =
                    static_cast<char>('0' + chance() % 10); // Still JSON: the values are put to the test.
            else if (chance() % 2 == 0)
                text.replace(at, std::min<std::size_t>(chance() % 6, text.size() - at), piece);
            else
                text.insert(at, text.substr(chance() % text.size(), chance() % 60));
        }
        try {
            const document::Json json = document::parse(text, "f.json");
            const std::vector<Fabric> fabrics = read_fabrics(document::Node(json, "f.json"), palette.measure);
            ++taken;
            for (const Fabric& fabric : fabrics) {
                REQUIRE(trouble_with_id(fabric.id).empty());
                REQUIRE((fabric.colour || !fabric.photo.empty()));
                REQUIRE_FALSE(fabric.photo.starts_with("/"));
                REQUIRE_FALSE(("/" + fabric.photo).find("/../") != std::string::npos);
            }
        } catch (const Fault& fault) {
            ++refused;
            REQUIRE(fault.cause() == Cause::input);
        }
    }
    CHECK(taken > 100);
    CHECK(refused > 1000);
}
