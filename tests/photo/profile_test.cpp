#include <catch.hpp>
#include <cmath>

#include "colour/difference.h"
#include "colour/space.h"
#include "fault/fault.h"
#include "photo/make_pictures.h"
#include "photo/make_profiles.h"
#include "photo/photo.h"

using namespace motley;
using pictures::Bytes;
using pictures::Picture;

namespace {

double apart(const colour::LinearRgb& a, const colour::LinearRgb& b) {
    return std::max({std::abs(a.r - b.r), std::abs(a.g - b.g), std::abs(a.b - b.b)});
}

double difference(const colour::LinearRgb& a, const colour::LinearRgb& b) {
    return colour::ciede2000(colour::lab(a), colour::lab(b));
}

colour::LinearRgb mean_by(const profiles::Lcms& lcms, const Picture& picture) {
    double sum[3] = {0, 0, 0};
    const double largest = (1 << picture.bits) - 1;
    for (std::size_t i = 0; i < picture.samples.size(); i += 3) {
        const auto light = lcms({picture.samples[i] / largest, picture.samples[i + 1] / largest,
                                 picture.samples[i + 2] / largest});
        for (std::size_t c = 0; c < 3; ++c) sum[c] += light[c];
    }
    const double pixels = picture.width * picture.height;
    return {sum[0] / pixels, sum[1] / pixels, sum[2] / pixels};
}

/// Noise around one strong colour that sRGB can show, so that rounding to whole samples averages out.
Picture cloth(int bits) {
    Picture picture(48, 48, 3, bits);
    const Picture grain = pictures::noise(48, 48, 3, 4, 11);
    constexpr int ink[3] = {206, 58, 72};
    for (std::size_t i = 0; i < picture.samples.size(); ++i) {
        const int eight = ink[i % 3] + grain.samples[i] - 8;
        picture.samples[i] = static_cast<std::uint16_t>(bits == 16   ? eight * 257
                                                        : bits == 10 ? eight * 1023 / 255
                                                                     : eight);
    }
    return picture;
}

/// The same colours in Display P3's samples, by lcms2.
Picture in_display_p3(const Picture& srgb) {
    const profiles::Lcms lcms(profiles::srgb(), profiles::display_p3());
    Picture out = srgb;
    const double largest = (1 << srgb.bits) - 1;
    for (std::size_t i = 0; i < out.samples.size(); i += 3) {
        const auto p3 =
            lcms({srgb.samples[i] / largest, srgb.samples[i + 1] / largest, srgb.samples[i + 2] / largest});
        for (std::size_t c = 0; c < 3; ++c)
            out.samples[i + c] = static_cast<std::uint16_t>(std::lround(p3[c] * largest));
    }
    return out;
}

void check_p3(const Bytes& as_srgb, const Bytes& as_p3, const Bytes& unmarked) {
    const photo::Reading srgb = photo::read(as_srgb, "srgb");
    const photo::Reading p3 = photo::read(as_p3, "p3");
    // 0.3: asked for by issue 2. More than 2 when the mark is ignored: published comparisons speak of 3 to 4
    // for strong reds.
    CHECK(difference(srgb.mean, p3.mean) < 0.3);
    CHECK(difference(srgb.mean, photo::read(unmarked, "unmarked").mean) > 2.0);
    CHECK_FALSE(p3.header.profile.empty());
    CHECK(photo::read(unmarked, "unmarked").header.profile.find("P3") == std::string::npos);
}

} // namespace

TEST_CASE("Display P3 and sRGB files of one cloth give one colour") {
    const Picture srgb = cloth(8);
    const Picture p3 = in_display_p3(srgb);
    const Bytes icc = profiles::display_p3();
    SECTION("PNG, 8 bit") {
        check_p3(pictures::png(srgb), pictures::png(p3, {.icc = icc}), pictures::png(p3));
    }
    SECTION("PNG, 16 bit") {
        const Picture fine = cloth(16);
        const Picture fine_p3 = in_display_p3(fine);
        check_p3(pictures::png(fine), pictures::png(fine_p3, {.icc = icc}), pictures::png(fine_p3));
    }
    SECTION("JPEG") {
        check_p3(pictures::jpeg(srgb, {.quality = 100}), pictures::jpeg(p3, {.quality = 100, .icc = icc}),
                 pictures::jpeg(p3, {.quality = 100}));
    }
    SECTION("WebP") {
        check_p3(pictures::webp(srgb), pictures::webp(p3, {.icc = icc}), pictures::webp(p3));
    }
    SECTION("HEIC with an ICC profile") {
        check_p3(pictures::heif(srgb), pictures::heif(p3, {.icc = icc}), pictures::heif(p3));
    }
    SECTION("HEIC with a coded mark") {
        check_p3(pictures::heif(srgb), pictures::heif(p3, {.primaries = heif_color_primaries_SMPTE_EG_432_1}),
                 pictures::heif(p3));
    }
    SECTION("HEIC, 10 bit, with a coded mark") {
        const Picture ten = cloth(10);
        const Picture ten_p3 = in_display_p3(ten);
        check_p3(pictures::heif(ten),
                 pictures::heif(ten_p3, {.primaries = heif_color_primaries_SMPTE_EG_432_1}),
                 pictures::heif(ten_p3));
    }
    SECTION("AVIF with a coded mark") {
        constexpr auto av1 = heif_compression_AV1;
        check_p3(pictures::heif(srgb, {.coder = av1}),
                 pictures::heif(p3, {.coder = av1, .primaries = heif_color_primaries_SMPTE_EG_432_1}),
                 pictures::heif(p3, {.coder = av1}));
    }
    SECTION("PNG with a coded mark") {
        // PNG, third edition, 11.3.2.6: primaries 12, transfer 13 (ITU-T H.273), matrix 0, full range.
        const Bytes mark = pictures::bytes_of({"\x0c\x0d\0\x01", 4});
        check_p3(pictures::png(srgb), pictures::with_chunk(pictures::png(p3), "cICP", mark),
                 pictures::png(p3));
    }
    SECTION("PNG with primaries and gamma only") {
        const std::vector<double> chroma{0.3127, 0.3290, 0.680, 0.320, 0.265, 0.690, 0.150, 0.060};
        check_p3(pictures::png(srgb), pictures::png(p3, {.gamma = 0.45455, .chromaticities = chroma}),
                 pictures::png(p3));
    }
}

TEST_CASE("curves and a matrix give what lcms2 gives pixel by pixel, to six digits") {
    const std::vector<Bytes> all{profiles::display_p3(), profiles::wide_gamma(), profiles::tabled(),
                                 profiles::srgb()};
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (const int bits : {8, 16}) {
            const Picture picture = pictures::noise(61, 40, 3, bits, static_cast<unsigned>(i));
            const photo::Reading reading = photo::read(pictures::png(picture, {.icc = all[i]}), "noise.png");
            CHECK(apart(reading.mean, mean_by(profiles::Lcms(all[i]), picture)) < 1e-6);
        }
    }
}

TEST_CASE("an sRGB profile changes nothing") {
    const Picture picture = pictures::noise(40, 40, 3, 8, 5);
    const colour::LinearRgb plain = photo::read(pictures::png(picture), "plain.png").mean;
    CHECK(apart(photo::read(pictures::png(picture, {.icc = profiles::srgb()}), "marked.png").mean, plain) <
          1e-4);
    CHECK(apart(photo::read(pictures::png(picture, {.srgb = true}), "marked.png").mean, plain) == 0.0);
    CHECK(apart(photo::read(pictures::png(picture, {.gamma = 0.45455}), "marked.png").mean, plain) == 0.0);
    CHECK(photo::header(pictures::png(picture), "plain.png").profile.empty());
    CHECK(photo::header(pictures::png(picture, {.srgb = true}), "marked.png").profile == "sRGB");
}

TEST_CASE("a table of colours goes through lcms2") {
    const Bytes icc = profiles::table_of_colours(3);
    for (const int bits : {8, 16}) {
        const Picture picture = pictures::noise(33, 29, 3, bits, 3);
        const photo::Reading reading = photo::read(pictures::png(picture, {.icc = icc}), "noise.png");
        const colour::LinearRgb expected = mean_by(profiles::Lcms(icc), picture);
        // lcms2 evaluates in floats here and in doubles there.
        CHECK(apart(reading.mean, expected) < 2e-6);
        CHECK(apart(expected, photo::read(pictures::png(picture), "plain.png").mean) > 0.01);
        CHECK(reading.picture.width == 33);
    }
}

TEST_CASE("gamma and grey profiles") {
    const Picture grey = pictures::noise(30, 30, 1, 8, 9);
    double power = 0, straight = 0;
    for (const std::uint16_t sample : grey.samples) {
        power += std::pow(sample / 255.0, 1.8) / 900;
        straight += sample / 255.0 / 900;
    }
    const photo::Reading profile = photo::read(pictures::png(grey, {.icc = profiles::grey(1.8)}), "grey.png");
    CHECK(apart(profile.mean, {power, power, power}) < 1e-5);
    const photo::Reading gamma = photo::read(pictures::png(grey, {.gamma = 1.0}), "grey.png");
    CHECK(apart(gamma.mean, {straight, straight, straight}) < 1e-6);
    Picture grey_jpeg(16, 16, 1);
    for (std::uint16_t& sample : grey_jpeg.samples) sample = 120;
    const double level = std::pow(120 / 255.0, 1.8);
    const Bytes file = pictures::jpeg(grey_jpeg, {.quality = 100, .icc = profiles::grey(1.8)});
    CHECK(apart(photo::read(file, "grey.jpg").mean, {level, level, level}) < 1e-5);
    // An RGB profile in a grey picture, as some programs write: grey is R = G = B.
    const Bytes mixed = pictures::jpeg(grey_jpeg, {.quality = 100, .icc = profiles::wide_gamma()});
    const double wide = std::pow(120 / 255.0, 2.19921875); // s15.16 gamma of 2.2 is exact to 1e-5.
    CHECK(apart(photo::read(mixed, "grey.jpg").mean, {wide, wide, wide}) < 3e-4);
}

TEST_CASE("CMYK with a profile is converted, without one refused") {
    const Bytes icc = profiles::table_of_colours(4);
    constexpr int ink[4] = {51, 204, 102, 26}; // Of 255; 20, 80, 40 and 10 per cent.
    Picture plain(16, 16, 4), inverted(16, 16, 4);
    for (std::size_t i = 0; i < plain.samples.size(); ++i) {
        plain.samples[i] = static_cast<std::uint16_t>(ink[i % 4]);
        inverted.samples[i] = static_cast<std::uint16_t>(255 - ink[i % 4]);
    }
    const auto light = profiles::Lcms(icc, TYPE_CMYK_DBL)({20, 80, 40, 100.0 * 26 / 255});
    const colour::LinearRgb expected{light[0], light[1], light[2]};
    const Bytes adobe = pictures::jpeg(inverted, {.quality = 100, .icc = icc});
    const Bytes adobe_ycck = pictures::jpeg(inverted, {.quality = 100, .ycck = true, .icc = icc});
    const Bytes bare = pictures::jpeg(plain, {.quality = 100, .adobe = false, .icc = icc});
    // Half a DE00: the samples of a JPEG are whole numbers after a cosine transform.
    CHECK(difference(photo::read(adobe, "adobe.jpg").mean, expected) < 0.5);
    CHECK(difference(photo::read(adobe_ycck, "ycck.jpg").mean, expected) < 0.8);
    CHECK(difference(photo::read(bare, "bare.jpg").mean, expected) < 0.5);
    CHECK_THROWS_WITH(
        photo::read(pictures::jpeg(inverted), "ink.jpg"),
        "ink.jpg: its colours are printing inks (CMYK), and nothing in the file says which inks (save it "
        "again as sRGB)");
    CHECK_THROWS_AS(photo::read(pictures::jpeg(inverted, {.icc = profiles::srgb()}), "ink.jpg"), Fault);
}

TEST_CASE("profiles that cannot be trusted are refused") {
    const Picture picture = pictures::ramps(16, 16);
    Bytes damaged = profiles::display_p3();
    damaged.resize(100);
    CHECK_THROWS_AS(photo::read(pictures::jpeg(picture, {.icc = damaged}), "a.jpg"), Fault);
    CHECK_THROWS_AS(photo::read(pictures::webp(picture, {.icc = damaged}), "a.webp"), Fault);
    CHECK_THROWS_AS(photo::read(pictures::jpeg(picture, {.icc = profiles::table_of_colours(4)}), "a.jpg"),
                    Fault);
    CHECK_THROWS_WITH(
        photo::read(pictures::heif(picture, {.primaries = heif_color_primaries_ITU_R_BT_2020_2_and_2100_0,
                                             .transfer = heif_transfer_characteristic_ITU_R_BT_2100_0_PQ}),
                    "bright.heic"),
        Catch::Contains("HDR"));
}

TEST_CASE("a profile that unpacks to more than any profile needs is refused") {
    // 64 MB of zeros behind a valid start, a few kilobytes in the file.
    Bytes huge = profiles::display_p3();
    huge.resize(std::size_t{64} << 20);
    const std::size_t size = huge.size();
    for (std::size_t i = 0; i < 4; ++i) huge[i] = static_cast<std::byte>(size >> (8 * (3 - i)) & 0xff);
    const Bytes file = pictures::png(pictures::ramps(16, 16), {.icc = huge});
    CHECK(file.size() < 1'000'000);
    CHECK_THROWS_AS(photo::read(file, "huge.png"), Fault);
}

TEST_CASE(
    "a grey PNG with an RGB profile is read as sRGB, a coloured one with a damaged profile is refused") {
    const Bytes grey = pictures::png(pictures::noise(20, 20, 1, 8, 2));
    const Bytes coloured = pictures::png(pictures::ramps(20, 20), {.icc = profiles::display_p3()});
    // The whole iCCP chunk of the coloured file: length, name, data, checksum.
    const std::string_view text(reinterpret_cast<const char*>(coloured.data()), coloured.size());
    const std::size_t at = text.find("iCCP") - 4;
    const std::size_t length =
        std::to_integer<std::size_t>(coloured[at + 2]) << 8 | std::to_integer<std::size_t>(coloured[at + 3]);
    const std::span<const std::byte> data = std::span(coloured).subspan(at + 8, length);
    const photo::Reading plain = photo::read(grey, "grey.png");
    CHECK(apart(photo::read(pictures::with_chunk(grey, "iCCP", data), "grey.png").mean, plain.mean) == 0.0);

    Bytes half(data.begin(), data.begin() + static_cast<std::ptrdiff_t>(length / 2));
    const Bytes damaged = pictures::with_chunk(pictures::png(pictures::ramps(20, 20)), "iCCP", half);
    CHECK_THROWS_WITH(photo::read(damaged, "a.png"), Catch::Contains("colour profile is damaged"));
}
