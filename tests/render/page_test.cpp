#include "render/page.h"

#include <catch.hpp>
#include <string>

using namespace motley;
using namespace motley::render;

namespace {

std::string text_of(const std::vector<std::byte>& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

int count_of(const std::string& text, const std::string& part) {
    int count = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
    return count;
}

/// As cairo marks them.
int pages_of(const std::string& pdf) {
    return count_of(pdf, "<< /Type /Page %");
}

Table of_rows(int rows, const std::string& words) {
    Table table{{{"Number", Side::right}, {"Words", Side::left, true}}, {}};
    for (int i = 0; i < rows; ++i) table.rows.push_back({{{std::to_string(i)}, {words}}});
    return table;
}

/// Words that tell where they are.
std::string long_text(int words) {
    std::string text;
    for (int i = 0; i < words; ++i) text += "word" + std::to_string(i) + " ";
    return text;
}

} // namespace

TEST_CASE("a text cut at a page's end goes on with the next word, and neither part is a lone line") {
    const Type type{.size = 10};
    const std::string all = long_text(200);
    for (double room = 30; room < 400; room += 23) {
        BlockPtr first = text_block(all, type, 200);
        const double whole = first->height();
        BlockPtr rest = first->cut(room);
        REQUIRE(rest);
        CHECK(first->height() <= std::max(room, first->least_height()) + 1e-6);
        CHECK(first->height() + rest->height() == Approx(whole).margin(8)); // No line of 14 lost, none twice.
        const double line = whole / std::round(whole / text_block("x", type, 200)->height());
        CHECK(first->height() > 1.5 * line);
        CHECK(rest->height() > 1.5 * line);
    }
    CHECK_FALSE(text_block("Three words only", type, 200)->cut(5)); // One line is not cut.
    CHECK_FALSE(text_block(all, type, 200)->cut(1e6));
}

TEST_CASE("a table is cut between rows, its headings come again, and a sum is not left alone") {
    const Type type{.size = 10};
    Table table = of_rows(20, "some words");
    table.rows.push_back({{{"190"}, {"in all"}}, true});
    BlockPtr first = table_block(table, type, 300);
    const double whole = first->height(),
                 row = (whole - table_block(of_rows(1, "some words"), type, 300)->height()) / 20;
    const double head = table_block(of_rows(1, "some words"), type, 300)->height() - row;
    BlockPtr rest = first->cut(whole - row * 0.5); // Room for all but the sum.
    REQUIRE(rest);
    CHECK(first->height() == Approx(head + 19 * row).margin(0.5));
    CHECK(rest->height() == Approx(head + 2 * row).margin(0.5));
    CHECK(first->least_height() < head + 2 * row + 1);
}

TEST_CASE("columns that do not fit side by side are told one after the other, within the width") {
    const Type type{.size = 18};
    Table table;
    for (int c = 0; c < 9; ++c) table.columns.push_back({"Heading " + std::to_string(c), Side::right});
    table.rows.push_back({std::vector<Cell>(9, Cell{"12 3/4 in"})});
    const BlockPtr narrow = table_block(table, type, 300), wide = table_block(table, type, 2000);
    CHECK(narrow->width() <= 300 + 1e-6);
    CHECK(narrow->height() > 2 * wide->height());
}

TEST_CASE("a heading is never the last thing on a page") {
    int turned = 0;
    for (int lines = 40; lines < 75; ++lines) {
        Pages pages({});
        for (int i = 0; i < lines; ++i) pages.put(text_block("A line.", {.size = 9}, 300), 0);
        const double before = pages.left();
        pages.heading("A heading");
        pages.say("One line below it.");
        CHECK(pages.left() >= 0);
        if (pages.left() < before) continue; // Both found room.
        ++turned;
        // Both went over: what is taken of the new page is the heading and its text.
        const double taken = pages.full_height() - pages.left();
        CHECK(taken > 24);
        CHECK(taken < 80);
    }
    CHECK(turned > 0);
}

TEST_CASE("pages are numbered, bookmarked and described, and come out the same again") {
    const auto make = [] {
        Pages pages({.title = "A title", .subject = "S", .author = "A"});
        pages.contents({"First part", "Second part", "No such part"});
        pages.part("First part");
        pages.table(of_rows(100, "words"));
        pages.part("Second part");
        pages.say(long_text(900));
        pages.figure({.width = 100,
                      .height = 2000, // Taller than a page: reduced.
                      .draw = [](Canvas& canvas) { canvas.box({0, 0, 100, 2000}, inks::wash); },
                      .alt = "A long “box” 𝄞"});
        return pages.print();
    };
    const std::vector<std::byte> pdf = make();
    const std::string text = text_of(pdf);
    CHECK((pdf == make()));
    CHECK(text.find("/Title (First part)") != std::string::npos);
    CHECK(text.find("/Lang (en-US)") != std::string::npos);
    // “ is U+201C; 𝄞 is U+1D11E, in UTF-16 D834 DD1E (the Unicode standard, from memory).
    CHECK(text.find("201C0062006F0078201D0020D834DD1E>") != std::string::npos);
    CHECK(count_of(text, "/S /Figure") == 2); // As cairo wrote it, and again with its words.
    CHECK(pages_of(text) >= 4);
}

TEST_CASE("no pages but one come of nothing, and a heading with nothing below it is still printed") {
    Pages none({});
    CHECK(pages_of(text_of(none.print())) == 1);
    Pages lone({});
    lone.heading("Alone");
    CHECK(text_of(lone.print()).find("/Title (Alone)") != std::string::npos);
}

TEST_CASE("words on a swatch are black or white, whichever stands out") {
    CHECK(readable_on({1, 1, 1}).r < 0.5);
    CHECK(readable_on({1, 0.9, 0.3}).r < 0.5);
    CHECK(readable_on({0, 0, 0}).r > 0.5);
    CHECK(readable_on({0.1, 0.1, 0.7}).r > 0.5);
}
