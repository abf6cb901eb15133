#include <catch.hpp>
#include <fstream>
#include <iterator>

#include "document/temporary_folder.h"
#include "fault/fault.h"
#include "pipeline/pipeline.h"
#include "pipeline/reading.h"
#include "scene/staged.h"

using namespace motley;

namespace {

void put(const std::filesystem::path& file, const std::vector<std::byte>& bytes) {
    std::ofstream(file, std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
}

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::byte> edge_to_edge(std::size_t design, std::uint64_t seed) {
    const auto cloth = painter::paint(painter::invented_designs(3, 6)[design], 400, 80);
    return painter::encode_jpeg(painter::photograph(cloth, painter::phone(seed)));
}

/// Four pieces of 3 in on paper.
std::vector<std::byte> four() {
    painter::Table table;
    table.laid.push_back(painter::plain({0.9, 0.9, 0.9}, {0, 0}, 60, 60));
    const auto designs = painter::invented_designs(12, 4);
    for (std::size_t i = 0; i < 4; ++i)
        table.laid.push_back(
            staged::cloth(designs[i], {i % 2 == 0 ? -1.75 : 1.75, i < 2 ? -1.75 : 1.75}, 3, 3));
    painter::View view;
    view.width = 1000;
    view.height = 1000;
    return painter::encode_jpeg(painter::photograph(table, view));
}

pipeline::SwatchRequest into(const std::filesystem::path& palette) {
    pipeline::SwatchRequest request;
    request.palette = palette;
    return request;
}

} // namespace

TEST_CASE("a photo of cloth from edge to edge is read as it is, to the last bit") {
    const auto file = edge_to_edge(1, 1);
    const photo::Reading plain = photo::read(file, "a.jpg", 370);
    const pipeline::ClothReading cloth = pipeline::read_cloth(file, "a.jpg", {.detail = 370});
    CHECK(cloth.how.by == palette::PhotoReading::By::edge_to_edge);
    CHECK(cloth.reading.picture.pixels == plain.picture.pixels);
    CHECK(cloth.reading.mean.r == plain.mean.r);
    CHECK(cloth.reading.mean.g == plain.mean.g);
    CHECK(cloth.reading.mean.b == plain.mean.b);
}

TEST_CASE("a photo with the card tells how it was read, and how wide the cloth is") {
    TemporaryFolder folder;
    staged::OnCard staged = staged::on_card(5, 0.3);
    put(folder / "plum.jpg", painter::encode_jpeg(painter::photograph(staged.table, staged.view), 90));
    const pipeline::Swatched swatched = pipeline::swatch(into(folder.path()));
    REQUIRE(swatched.palette.fabrics.size() == 1);
    const palette::Fabric& fabric = swatched.palette.fabrics.front();
    REQUIRE(fabric.colour);
    REQUIRE(fabric.colour->reading);
    CHECK(fabric.colour->reading->by == palette::PhotoReading::By::card);
    CHECK(fabric.colour->reading->pixels_per_inch > 60);
    // The clean inside: up to a tenth of an inch less on each side.
    CHECK(fabric.photo_width.in_inches() < staged.piece.width);
    CHECK(fabric.photo_width.in_inches() > staged.piece.width - 0.2);
    // What was written is read back as it was.
    const palette::Palette again = palette::read_palette(folder.path());
    CHECK(again.fabrics.front().colour->reading == palette::rounded(*fabric.colour).reading);
}

TEST_CASE("measuring again changes only what changed") {
    TemporaryFolder folder;
    put(folder / "a.jpg", edge_to_edge(0, 1));
    put(folder / "b.jpg", edge_to_edge(1, 2));
    pipeline::swatch(into(folder.path()));
    const std::string first = text_of(folder / "palette.json");
    // A colour that no measuring would give: it stays while its photo does.
    palette::Palette known = palette::read_palette(folder.path());
    known.fabrics[0].colour->srgb = {1, 2, 3};
    known.fabrics[1].colour->srgb = {4, 5, 6};
    std::ofstream(folder / "palette.json") << document::print(palette::write_palette(known));
    put(folder / "b.jpg", edge_to_edge(2, 3));
    const pipeline::Swatched swatched = pipeline::swatch(into(folder.path()));
    CHECK(swatched.palette.fabrics[0].colour->srgb == colour::Srgb{1, 2, 3});
    CHECK_FALSE(swatched.palette.fabrics[1].colour->srgb == colour::Srgb{4, 5, 6});
    REQUIRE(swatched.remarks.size() == 1);
    CHECK(swatched.remarks[0] == "1 of 2 photos are as they were when they were measured");
    CHECK(text_of(folder / "palette.json") != first);
}

TEST_CASE("several fabrics in one photo become photos of their own") {
    TemporaryFolder folder, photos;
    put(photos / "four.jpg", four());
    pipeline::SwatchRequest request = into(folder / "palette");
    request.photos = {photos / "four.jpg"};
    request.pieces = 4;
    request.names = {"Plum", "Red dots", "Leaf", "Sky"};
    request.width = measure::Length::inches(3);
    const pipeline::Swatched swatched = pipeline::swatch(request);
    CHECK(swatched.measured == std::vector<std::string>{"plum", "red-dots", "leaf", "sky"});
    const palette::Palette read = palette::read_palette(folder / "palette");
    REQUIRE(read.fabrics.size() == 4);
    CHECK(read.unlisted.empty()); // split.png is no fabric.
    CHECK(folder.names().count("palette/split.png") == 1);
    for (const palette::Fabric& fabric : read.fabrics) {
        CHECK(fabric.colour->reading->cut_out);
        CHECK(fabric.colour->reading->by == palette::PhotoReading::By::paper);
        CHECK(fabric.photo_width.in_inches() ==
              Approx(3 * 0.95).epsilon(0.01)); // 2.5 % cut away on each side.
    }
    const pipeline::Swatched again = pipeline::swatch(into(folder / "palette"));
    CHECK(again.remarks ==
          std::vector<std::string>{"4 of 4 photos are as they were when they were measured"});
}

TEST_CASE("found four, expected five: nothing is written") {
    TemporaryFolder folder, photos;
    put(photos / "four.jpg", four());
    pipeline::SwatchRequest request = into(folder / "palette");
    request.photos = {photos / "four.jpg"};
    request.pieces = 5;
    try {
        pipeline::swatch(request);
        FAIL("nothing was said");
    } catch (const Fault& fault) {
        CHECK(fault.cause() == Cause::unmet);
        CHECK(std::string(fault.what()).find("found 4 pieces of cloth, expected 5") != std::string::npos);
    }
    CHECK(folder.names().empty());
}

TEST_CASE("the card is the same file every time") {
    TemporaryFolder folder;
    for (const auto paper : {pipeline::CardPaper::letter, pipeline::CardPaper::a4})
        for (const bool small : {false, true}) {
            pipeline::print_card(folder / "one.pdf", paper, small);
            pipeline::print_card(folder / "two.pdf", paper, small);
            CHECK(text_of(folder / "one.pdf") == text_of(folder / "two.pdf"));
            CHECK(text_of(folder / "one.pdf").starts_with("%PDF-1.5"));
        }
}
