#include <algorithm>
#include <catch.hpp>

#include "colour/difference.h"
#include "render/render.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

TEST_CASE("the squint of an even top is even up to its border") {
    const colour::LinearRgb rose{0.6, 0.3, 0.35};
    const layout::Layout top = made_up::top(6, 5, "plain-square", {made_up::fabric("rose", rose)});
    const photo::Raster squint = draw_squint(top, {{}}, {.longest_side = 300});
    REQUIRE(squint.width == 150);
    REQUIRE(squint.height == 125);
    const colour::Srgb tone = colour::srgb(rose);
    for (std::size_t i = 0; i < squint.pixels.size(); i += 3) {
        REQUIRE(std::abs(squint.pixels[i] - tone.r) <= 2); // What is left of the weave.
        REQUIRE(std::abs(squint.pixels[i + 1] - tone.g) <= 2);
        REQUIRE(std::abs(squint.pixels[i + 2] - tone.b) <= 2);
    }
}

TEST_CASE("the squint mixes light, not code values") {
    // Black and white fabrics by turns, a fine print each: light adds, so the whole is #bcbcbc on average
    // (IEC 61966-2-1; a mean of code values would be #808080).
    const std::vector<palette::Fabric> fabrics{made_up::fabric("black", {0, 0, 0}),
                                               made_up::fabric("white", {1, 1, 1})};
    const layout::Layout top = made_up::top(9, 8, "plain-square", fabrics);
    const photo::Raster squint = draw_squint(top, {{}, {}}, {.longest_side = 270});
    const colour::LinearRgb mixed = mean(made_up::light_of(squint, 0, 0, squint.width, squint.height));
    CHECK(mixed.g == Approx(0.5).margin(0.015));
    // Blurred: nowhere the full step from black to white between neighbours.
    int steepest = 0;
    for (std::size_t i = 3; i < squint.pixels.size(); i += 3)
        if (i / 3 % static_cast<std::size_t>(squint.width) != 0)
            steepest = std::max(steepest, std::abs(squint.pixels[i] - squint.pixels[i - 3]));
    CHECK(steepest < 40);
}

TEST_CASE("the sheet of candidates shows each top once, with words beneath") {
    const std::vector<palette::Fabric> fabrics{made_up::fabric("dark", {0.02, 0.02, 0.1}),
                                               made_up::fabric("light", {0.8, 0.7, 0.6})};
    std::vector<layout::Layout> tops(3, made_up::top(6, 7, "plain-square", fabrics));
    for (layout::Layout& top : tops) top.score.spread = 0.28;
    const std::vector<Cloth> cloths(2);
    const photo::Raster sheet = draw_candidates(tops, cloths);
    tops[1].score.spread = 0.31;
    const photo::Raster other = draw_candidates(tops, cloths);
    REQUIRE(sheet.pixels.size() == other.pixels.size());
    // Only the words of the second differ: some ink, in one small box.
    int left = sheet.width, right = 0, count = 0;
    for (std::size_t i = 0; i < sheet.pixels.size(); ++i)
        if (sheet.pixels[i] != other.pixels[i]) {
            const int x = static_cast<int>(i / 3 % static_cast<std::size_t>(sheet.width));
            left = std::min(left, x);
            right = std::max(right, x);
            ++count;
        }
    CHECK(count > 20);
    CHECK(right - left < 60);
    // As much dark cloth three times as once.
    const auto darks = [](const photo::Raster& raster) {
        int dark = 0;
        for (std::size_t i = 0; i < raster.pixels.size(); i += 3)
            dark += raster.pixels[i] < 50 && raster.pixels[i + 2] > raster.pixels[i] + 20;
        return dark;
    };
    CHECK(darks(draw_candidates({tops[0]}, cloths)) * 3 == Approx(darks(sheet)).epsilon(0.02));
}
