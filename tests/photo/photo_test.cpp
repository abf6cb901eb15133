#include "photo/photo.h"

#include <catch.hpp>
#include <cmath>

#include "colour/space.h"
#include "fault/fault.h"
#include "photo/make_pictures.h"

using namespace motley;
using pictures::Bytes;
using pictures::Picture;

namespace {

Picture squares(int side, int pitch, const int (&one)[3], const int (&other)[3]) {
    Picture picture(side, side);
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            const auto& ink = (x / pitch + y / pitch) % 2 == 0 ? one : other;
            for (int c = 0; c < 3; ++c) picture.at(x, y, c) = static_cast<std::uint16_t>(ink[c]);
        }
    }
    return picture;
}

void check_near(const colour::LinearRgb& a, const colour::LinearRgb& b, double most) {
    CHECK(std::abs(a.r - b.r) <= most);
    CHECK(std::abs(a.g - b.g) <= most);
    CHECK(std::abs(a.b - b.b) <= most);
}

double light_of(int code) {
    return colour::decode(code / 255.0);
}

} // namespace

TEST_CASE("squares of two colours in equal parts average as light does") {
    // Derived from the transfer function of IEC 61966-2-1: half the sum of the two linear lights, coded
    // again; L* by CIE 15.
    struct Pair {
        int one[3], other[3];
        colour::Srgb mean;
        double lightness;
    };
    const Pair pairs[] = {
        {{0, 0, 0}, {255, 255, 255}, {0xbc, 0xbc, 0xbc}, 76.07},
        {{0x1f, 0x2a, 0x44}, {0xf4, 0xef, 0xe3}, {0xb4, 0xb2, 0xac}, 72.52},
        {{0xc8, 0x10, 0x2e}, {0xff, 0xff, 0xff}, {0xe6, 0xbc, 0xbe}, 79.85},
        {{0x0b, 0x3d, 0x91}, {0xff, 0xd1, 0x00}, {0xbc, 0x9e, 0x69}, 66.64},
    };
    for (const Pair& pair : pairs) {
        for (const int pitch : {1, 2, 3, 7, 21}) {
            const Bytes file = pictures::png(squares(84, pitch, pair.one, pair.other));
            const photo::Reading reading = photo::read(file, "squares.png", 16);
            CHECK(colour::srgb(reading.mean) == pair.mean);
            CHECK(colour::lightness(reading.mean) == Approx(pair.lightness).margin(0.006));
            check_near(photo::read(file, "squares.png", 84).mean, reading.mean, 0.0);
        }
    }
}

TEST_CASE("every kind of file tells its kind and size") {
    const Picture picture = pictures::ramps(40, 24);
    const auto check = [](const Bytes& file, photo::Format format) {
        const photo::Header header = photo::header(file, "any name");
        CHECK(header.format == format);
        CHECK(header.width == 40);
        CHECK(header.height == 24);
        CHECK(header.orientation == 1);
        const photo::Reading reading = photo::read(file, "any name");
        CHECK(reading.header.format == format);
        CHECK(reading.opaque == 1.0);
        CHECK(reading.picture.width == 40);
        CHECK(reading.picture.pixels.size() == 3U * 40 * 24);
    };
    check(pictures::jpeg(picture), photo::Format::jpeg);
    check(pictures::jpeg(picture, {.progressive = true}), photo::Format::jpeg);
    check(pictures::png(picture), photo::Format::png);
    check(pictures::webp(picture), photo::Format::webp);
    check(pictures::webp(picture, {.lossless = false}), photo::Format::webp);
    check(pictures::heif(picture), photo::Format::heif);
    check(pictures::heif(picture, {.coder = heif_compression_AV1}), photo::Format::heif);
    CHECK(photo::name(photo::Format::heif) == "HEIC/AVIF");
}

TEST_CASE("lossy kinds give nearly the colour of the lossless one") {
    const Picture picture = pictures::ramps(64, 48);
    const colour::LinearRgb exact = photo::read(pictures::png(picture), "a.png").mean;
    // 1 % of white: what quality settings above 90 keep of a soft picture.
    check_near(photo::read(pictures::jpeg(picture), "a").mean, exact, 0.01);
    check_near(photo::read(pictures::jpeg(picture, {.full_chroma = false, .progressive = true}), "a").mean,
               exact, 0.01);
    check_near(photo::read(pictures::webp(picture, {.lossless = false}), "a").mean, exact, 0.01);
    check_near(photo::read(pictures::heif(picture), "a").mean, exact, 0.01);
    check_near(photo::read(pictures::heif(picture, {.coder = heif_compression_AV1}), "a").mean, exact, 0.01);
    check_near(photo::read(pictures::webp(picture), "a").mean, exact, 0.0);
    check_near(photo::read(pictures::png(picture, {.interlaced = true}), "a").mean, exact, 0.0);
}

TEST_CASE("grey, palette and small depths") {
    Picture grey(10, 10, 1), coloured(10, 10, 3), indexed(10, 10, 1), two_bits(10, 10, 1, 2),
        four_levels(10, 10, 1);
    for (int i = 0; i < 100; ++i) {
        const auto at = static_cast<std::size_t>(i);
        grey.samples[at] = static_cast<std::uint16_t>(i * 2);
        indexed.samples[at] = static_cast<std::uint16_t>(i % 2);
        two_bits.samples[at] = static_cast<std::uint16_t>(i % 4);
        four_levels.samples[at] = static_cast<std::uint16_t>(85 * (i % 4));
        for (std::size_t c = 0; c < 3; ++c) coloured.samples[3 * at + c] = grey.samples[at];
    }
    const auto mean = [](const Bytes& file) { return photo::read(file, "a.png").mean; };
    check_near(mean(pictures::png(grey)), mean(pictures::png(coloured)), 0.0);
    check_near(mean(pictures::png(two_bits)), mean(pictures::png(four_levels)), 0.0);
    const std::vector<png_color> palette{{200, 30, 60}, {20, 90, 250}};
    const colour::LinearRgb half{(light_of(200) + light_of(20)) / 2, (light_of(30) + light_of(90)) / 2,
                                 (light_of(60) + light_of(250)) / 2};
    check_near(mean(pictures::png(indexed, {.palette = palette})), half, 1e-7);
    // The second colour of the palette transparent: it does not count.
    const Bytes clear =
        pictures::png(indexed, {.interlaced = true, .palette = palette, .palette_alpha = {255, 0}});
    check_near(mean(clear), {light_of(200), light_of(30), light_of(60)}, 1e-7);
    CHECK(photo::read(clear, "a.png").opaque == 0.5);
    check_near(mean(pictures::jpeg(grey, {.quality = 100})), mean(pictures::png(grey)), 2e-3);
}

TEST_CASE("16-bit samples are read at 16 bits") {
    // Two levels that share their upper eight bits: cut to 8 bits both would be 30.
    Picture picture(16, 16, 3, 16);
    for (std::size_t i = 0; i < picture.samples.size(); ++i)
        picture.samples[i] = i % 2 == 0 ? 0x1e00 : 0x1eff;
    const double expected = (colour::decode(0x1e00 / 65535.0) + colour::decode(0x1eff / 65535.0)) / 2;
    check_near(photo::read(pictures::png(picture), "fine.png").mean, {expected, expected, expected}, 1e-7);
    CHECK(std::abs(expected - light_of(0x1e)) > 1e-5);
}

TEST_CASE("what lies under transparent pixels does not count") {
    Picture picture(32, 32, 4), fine(32, 32, 4, 16);
    for (int y = 0; y < 32; ++y) {
        for (int x = 0; x < 32; ++x) {
            // Left half a colour, the right half hidden green; one column in between at 51 of 255.
            const int rgba[4] = {x < 16 ? 180 : 0, x < 16 ? 40 : 255, x < 16 ? 90 : 0,
                                 x < 16    ? 255
                                 : x == 16 ? 51
                                           : 0};
            for (int c = 0; c < 4; ++c) {
                picture.at(x, y, c) = static_cast<std::uint16_t>(rgba[c]);
                fine.at(x, y, c) = static_cast<std::uint16_t>(257 * rgba[c]);
            }
        }
    }
    const double weight = 16.2;
    const colour::LinearRgb expected{16 * light_of(180) / weight, (16 * light_of(40) + 0.2) / weight,
                                     16 * light_of(90) / weight};
    for (const Bytes& file : {pictures::png(picture), pictures::png(fine),
                              pictures::png(picture, {.interlaced = true}), pictures::webp(picture)}) {
        const photo::Reading reading = photo::read(file, "hole.png");
        check_near(reading.mean, expected, 1e-6);
        CHECK(reading.opaque == Approx(weight / 32));
        const float* pixels = reading.picture.pixels.data();
        CHECK(pixels[3 * 31] == Approx(reading.mean.r)); // Transparent: carries the mean.
        CHECK(pixels[3 * 31 + 1] == Approx(reading.mean.g));
        CHECK(pixels[3 * 16 + 1] == Approx(1.0)); // Partly transparent: its own colour.
        CHECK(pixels[0] == Approx(light_of(180)));
    }
    Picture nothing(20, 20, 4);
    const Bytes clear = pictures::png(nothing);
    CHECK_THROWS_WITH(photo::read(clear, "clear.png"), Catch::Contains("transparent everywhere"));
    CHECK_THROWS_AS(photo::read(pictures::webp(nothing), "clear.webp"), Fault);
    // HEIC with alpha, lossy: near enough.
    const photo::Reading heif = photo::read(pictures::heif(picture), "hole.heic");
    CHECK(heif.opaque == Approx(weight / 32).margin(0.02));
    check_near(heif.mean, expected, 0.02);
}

TEST_CASE("what is not a photo is named") {
    const auto says = [](std::string_view content) {
        try {
            photo::read(pictures::bytes_of(content), "plum.jpg");
        } catch (const Fault& fault) {
            CHECK(fault.cause() == Cause::input);
            REQUIRE(fault.problems().size() == 1);
            CHECK(fault.problems()[0].where == "plum.jpg");
            CHECK_FALSE(fault.problems()[0].remedy.empty());
            return std::string(fault.what());
        }
        return std::string("nothing");
    };
    using Catch::Contains;
    CHECK(says("") == "plum.jpg: the file is empty (copy it from the phone or camera again)");
    CHECK(says("Dear diary, today I cut my stash.\n") ==
          "plum.jpg: this is not a photo in a known format: it begins like a text file (use JPEG, PNG, WebP, "
          "HEIC or AVIF)");
    CHECK_THAT(says("Pfl\xc3\xbcmchen"), Contains("a text file"));
    CHECK_THAT(says("<!DOCTYPE html><html>"), Contains("a web page"));
    CHECK_THAT(says("GIF89a\1\0"), Contains("a GIF picture"));
    CHECK_THAT(says({"II*\0\x08\0\0\0", 8}), Contains("TIFF"));
    CHECK_THAT(says("%PDF-1.7"), Contains("a PDF"));
    CHECK_THAT(says({"\0\0\0\x18"
                     "ftypmp42\0\0\0\0isommp42",
                     24}),
               Contains("a video"));
    CHECK_THAT(says({"\1\2\3\0\0\0\0\0\0\0", 10}), Contains("nothing known"));
    CHECK_THAT(says("\xff"), Contains("nothing known"));
    const Bytes moving = pictures::webp(pictures::ramps(16, 16), {.animated = true});
    CHECK_THROWS_WITH(photo::read(moving, "moving.webp"), Contains("animated"));
}
