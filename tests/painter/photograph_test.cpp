#include "painter/photograph.h"

#include <catch.hpp>

#include "colour/difference.h"
#include "photo/photo.h"

using namespace motley;

namespace {

painter::Cloth solid(colour::Srgb ground) {
    return painter::paint({.print = painter::Solid{}, .ground = ground, .seed = 3}, 480, 96, 360);
}

double difference(colour::LinearRgb light, colour::Srgb asked) {
    return colour::ciede2000(colour::lab(light), colour::lab(colour::linear(asked)));
}

constexpr colour::Srgb red{170, 40, 48}, sand{226, 208, 176}, navy{26, 38, 76};

} // namespace

TEST_CASE("a photo keeps the mean colour of the cloth") {
    for (const colour::Srgb asked : {red, sand, navy}) {
        const auto file = painter::encode_jpeg(painter::photograph(solid(asked), {}), 90);
        CHECK(difference(photo::read(file, "photo.jpg").mean, asked) < 1.0);
    }
}

TEST_CASE("the same camera gives the same picture, another seed other noise") {
    const painter::Cloth cloth = solid(sand);
    const auto first = painter::photograph(cloth, {.seed = 1}).raster.pixels;
    CHECK(first == painter::photograph(cloth, {.seed = 1}).raster.pixels);
    CHECK(first != painter::photograph(cloth, {.seed = 2}).raster.pixels);
}

TEST_CASE("light is uneven by what the camera says") {
    // From the right, a tenth of falloff: the outer eighths lie 7/8 of the width apart, so by 8.75 %.
    const auto raster =
        painter::photograph(solid(sand),
                            {.falloff = 0.1, .direction = 1.5708, .vignette = 0, .waves = 0, .noise = 0})
            .raster;
    double left = 0, right = 0;
    for (int y = 0; y < raster.height; ++y) {
        for (int x = 0; x < 60; ++x) {
            const auto green = [&](int column) {
                return colour::decode(
                    raster.pixels[static_cast<std::size_t>(3 * (y * raster.width + column) + 1)] / 255.0);
            };
            left += green(x);
            right += green(raster.width - 1 - x);
        }
    }
    CHECK(right / left == Approx(1.0875).margin(0.015));
}

TEST_CASE("Display P3 and sRGB files of one cloth show one colour") {
    // A picture stored as Display P3 and as sRGB gives one colour within 0.3 (the project's own demand). On
    // cloth of many shades: a flat colour would only tell how JPEG rounds that one colour.
    for (const colour::Srgb asked : {red, sand, navy}) {
        const painter::Cloth cloth =
            painter::paint({.print = painter::ToneOnTone{}, .ground = asked, .seed = 3}, 480, 96, 360);
        const auto plain = painter::encode_jpeg(painter::photograph(cloth, {}), 95);
        const painter::Photo wide = painter::photograph(cloth, {.gamut = painter::Gamut::display_p3});
        const auto tagged = photo::read(painter::encode_jpeg(wide, 95), "p3.jpg");
        CHECK(tagged.header.profile == "Display P3");
        const auto lab = colour::lab(photo::read(plain, "srgb.jpg").mean);
        CHECK(colour::ciede2000(lab, colour::lab(tagged.mean)) < 0.3);
    }
    // Pure sRGB red is (234, 51, 35) in Display P3 (ICC registry's Display P3, from memory).
    painter::Cloth pure{.picture = {.width = 16, .height = 16, .pixels = {}}, .pixels_per_inch = 16};
    for (int k = 0; k < 256; ++k) pure.picture.pixels.insert(pure.picture.pixels.end(), {1.0F, 0.0F, 0.0F});
    const auto raster =
        painter::photograph(
            pure, {.falloff = 0, .vignette = 0, .waves = 0, .noise = 0, .gamut = painter::Gamut::display_p3})
            .raster;
    CHECK(std::vector<int>(raster.pixels.begin(), raster.pixels.begin() + 3) ==
          std::vector<int>{234, 51, 35});
}

TEST_CASE("an HEIC file reads back as the same cloth") {
    const auto file = painter::encode_heic(painter::photograph(solid(red), {}));
    const auto reading = photo::read(file, "photo.heic");
    CHECK(reading.header.format == photo::Format::heif);
    CHECK(reading.header.width == 480);
    CHECK(reading.header.height == 360);
    CHECK(difference(reading.mean, red) < 1.5);
}

TEST_CASE("a profile is the same bytes every time") {
    CHECK(painter::profile(painter::Gamut::display_p3) == painter::profile(painter::Gamut::display_p3));
    CHECK(painter::profile(painter::Gamut::display_p3) != painter::profile(painter::Gamut::srgb));
}
