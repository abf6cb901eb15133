#include "scene/card.h"

#include <bit>
#include <catch.hpp>
#include <vector>

using namespace motley::scene;

namespace {

constexpr CardKind kinds[] = {CardKind::letter, CardKind::a4, CardKind::small};

std::uint16_t turned(std::uint16_t code) {
    unsigned out = 0;
    for (int row = 0; row < 4; ++row)
        for (int column = 0; column < 4; ++column)
            out = out << 1 | (static_cast<unsigned>(code) >> (15 - ((3 - column) * 4 + row)) & 1U);
    return static_cast<std::uint16_t>(out);
}

bool apart(const Area& one, const Area& other) {
    return one.x + one.width <= other.x + 1e-9 || other.x + other.width <= one.x + 1e-9 ||
           one.y + one.height <= other.y + 1e-9 || other.y + other.height <= one.y + 1e-9;
}

} // namespace

TEST_CASE("any two markers, in any turns, differ in five cells or more") {
    std::vector<std::uint16_t> words;
    for (const CardKind kind : kinds)
        for (const Marker& marker : card(kind).markers) {
            std::uint16_t code = marker.code;
            for (int turn = 0; turn < 4; ++turn, code = turned(code)) words.push_back(code);
            CHECK(code == marker.code);
        }
    REQUIRE(words.size() == 48);
    for (std::size_t i = 0; i < words.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            CHECK(std::popcount(static_cast<unsigned>(words[i] ^ words[k])) >= 5);
}

TEST_CASE("everything on a card has a place of its own inside the page") {
    for (const CardKind kind : kinds) {
        const Card& page = card(kind);
        std::vector<Area> all{page.ruler, page.words};
        for (const Marker& marker : page.markers) all.push_back(marker.area);
        for (const Grey& grey : page.ramp) all.push_back(grey.area);
        if (page.field) all.push_back(*page.field);
        for (std::size_t i = 0; i < all.size(); ++i) {
            CHECK(all[i].x >= 0.1);
            CHECK(all[i].y >= 0.1);
            CHECK(all[i].x + all[i].width <= page.width - 0.1);
            CHECK(all[i].y + all[i].height <= page.height - 0.1);
            for (std::size_t k = 0; k < i; ++k) CHECK(apart(all[i], all[k]));
        }
    }
    // US Letter (ANSI/ASME Y14.1) and A4 (ISO 216).
    CHECK(card(CardKind::letter).width == 8.5);
    CHECK(card(CardKind::letter).height == 11);
    CHECK(card(CardKind::a4).width * 25.4 == Approx(210));
    CHECK(card(CardKind::a4).height * 25.4 == Approx(297));
}

TEST_CASE("the squares of the field take turns and fill it") {
    const Area field = *card(CardKind::letter).field;
    CHECK(field.width / checks == Approx(30));
    CHECK_FALSE(tinted(field, {field.x + 0.01, field.y + 0.01}));
    CHECK(tinted(field, {field.x + 0.26, field.y + 0.01}));
    CHECK(tinted(field, {field.x + 0.01, field.y + 0.26}));
    CHECK_FALSE(tinted(field, {field.x + 0.26, field.y + 0.26}));
}
