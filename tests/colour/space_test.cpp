#include "colour/space.h"

#include <array>
#include <catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <limits>

#include "colour/difference.h"

using namespace motley::colour;

namespace {

struct Row {
    Srgb srgb;
    LinearRgb light;
    Lab lab;
    Oklab oklab;
};

// Source: computed with culori 4.0.2 and equal in colorjs.io 0.7.1. Lab is D65.
const std::array<Row, 32>& reference() {
    static const std::array<Row, 32> rows = {{
        {{0, 0, 0},
         {0.0000000000, 0.0000000000, 0.0000000000},
         {0.000000, 0.000000, 0.000000},
         {0.00000000, 0.00000000, 0.00000000}},
        {{255, 255, 255},
         {1.0000000000, 1.0000000000, 1.0000000000},
         {100.000000, 0.000000, 0.000000},
         {1.00000000, 0.00000000, 0.00000000}},
        {{255, 0, 0},
         {1.0000000000, 0.0000000000, 0.0000000000},
         {53.237116, 80.090114, 67.203264},
         {0.62795536, 0.22486307, 0.12584628}},
        {{0, 255, 0},
         {0.0000000000, 1.0000000000, 0.0000000000},
         {87.735519, -86.181597, 83.186620},
         {0.86643962, -0.23388758, 0.17949845}},
        {{0, 0, 255},
         {0.0000000000, 0.0000000000, 1.0000000000},
         {32.300873, 79.195270, -107.855466},
         {0.45201372, -0.03245698, -0.31152817}},
        {{1, 1, 1},
         {0.0003035270, 0.0003035270, 0.0003035270},
         {0.274175, 0.000000, 0.000000},
         {0.06720462, 0.00000000, 0.00000000}},
        {{10, 10, 10},
         {0.0030352698, 0.0030352698, 0.0030352698},
         {2.741748, 0.000000, 0.000000},
         {0.14478796, 0.00000000, 0.00000000}},
        {{11, 11, 11},
         {0.0033465358, 0.0033465358, 0.0033465358},
         {3.022913, 0.000000, 0.000000},
         {0.14957712, 0.00000000, 0.00000000}},
        {{128, 128, 128},
         {0.2158605001, 0.2158605001, 0.2158605001},
         {53.585013, 0.000000, 0.000000},
         {0.59987081, 0.00000000, 0.00000000}},
        {{200, 16, 46},
         {0.5775804404, 0.0051815167, 0.0273208916},
         {42.535469, 65.890718, 35.711342},
         {0.53036685, 0.19186095, 0.07875612}},
        {{167, 78, 172},
         {0.3864294338, 0.0761853815, 0.4125426135},
         {47.808023, 49.981893, -34.245166},
         {0.57101060, 0.13704469, -0.09446978}},
        {{27, 132, 125},
         {0.0109600940, 0.2307400485, 0.2050787364},
         {49.756294, -29.813267, -4.447296},
         {0.55587120, -0.08925752, -0.01254061}},
        {{154, 94, 65},
         {0.3231432091, 0.1119324278, 0.0528606470},
         {45.985499, 21.449735, 26.820149},
         {0.54238755, 0.06194538, 0.06440697}},
        {{95, 211, 44},
         {0.1144353738, 0.6514056374, 0.0251868596},
         {75.576614, -60.192943, 66.533768},
         {0.76956207, -0.16633301, 0.14753553}},
        {{76, 164, 202},
         {0.0722718507, 0.3712376805, 0.5906188409},
         {63.631395, -14.899171, -27.301110},
         {0.68022775, -0.06586353, -0.07627148}},
        {{252, 204, 118},
         {0.9734452904, 0.6038273389, 0.1811642442},
         {84.582037, 6.987469, 48.871887},
         {0.86971786, 0.01880552, 0.11614717}},
        {{137, 160, 63},
         {0.2501582847, 0.3515325995, 0.0497065660},
         {62.354282, -22.655372, 46.711391},
         {0.66767313, -0.06522187, 0.10787433}},
        {{180, 183, 250},
         {0.4564110232, 0.4735314961, 0.9559733532},
         {76.358042, 13.471814, -33.451646},
         {0.80120587, 0.01974524, -0.09251408}},
        {{84, 114, 181},
         {0.0886555863, 0.1682694002, 0.4620769997},
         {48.579874, 8.839400, -38.823169},
         {0.55963226, -0.00997105, -0.10974551}},
        {{189, 44, 4},
         {0.5088813209, 0.0251868596, 0.0012141079},
         {42.201682, 55.700394, 53.503844},
         {0.52308388, 0.15448777, 0.10384458}},
        {{200, 10, 152},
         {0.5775804404, 0.0030352698, 0.3139887134},
         {45.311247, 74.620000, -25.851530},
         {0.56024499, 0.22604943, -0.06942412}},
        {{62, 142, 131},
         {0.0481718242, 0.2704977910, 0.2269658735},
         {54.035486, -27.212408, -1.530825},
         {0.59375999, -0.08003350, -0.00456147}},
        {{101, 46, 165},
         {0.1301364767, 0.0273208916, 0.3762621230},
         {32.782691, 48.231548, -54.615354},
         {0.44199370, 0.09044962, -0.15582578}},
        {{183, 78, 248},
         {0.4735314961, 0.0761853815, 0.9386857285},
         {54.337833, 68.981324, -67.137920},
         {0.63680513, 0.15590767, -0.19004211}},
        {{213, 99, 180},
         {0.6653872983, 0.1247718176, 0.4564110232},
         {58.383736, 54.510050, -21.982727},
         {0.66345959, 0.16076616, -0.05896525}},
        {{32, 155, 140},
         {0.0144438436, 0.3277780981, 0.2622506575},
         {57.695709, -35.665828, -1.405460},
         {0.62232287, -0.10407097, -0.00437886}},
        {{179, 231, 101},
         {0.4507857828, 0.7991027380, 0.1301364767},
         {85.843315, -36.664244, 56.894003},
         {0.86537618, -0.10320215, 0.13314950}},
        {{213, 158, 4},
         {0.6653872983, 0.3419144249, 0.0012141079},
         {68.467919, 9.634252, 71.810536},
         {0.73172152, 0.01731516, 0.14868955}},
        {{95, 28, 143},
         {0.1144353738, 0.0116122452, 0.2746773121},
         {27.426558, 49.580833, -49.938700},
         {0.39689498, 0.10348161, -0.14217594}},
        {{94, 38, 205},
         {0.1119324278, 0.0193823610, 0.6104955708},
         {34.341833, 60.957972, -75.761598},
         {0.46197156, 0.07511633, -0.21798290}},
        {{18, 21, 50},
         {0.0060488330, 0.0074990320, 0.0318960331},
         {8.085945, 9.048457, -19.753875},
         {0.21111053, 0.00589679, -0.05631540}},
        {{229, 140, 125},
         {0.7835377915, 0.2622506575, 0.2050787364},
         {67.199628, 32.207085, 22.418752},
         {0.72945206, 0.09639615, 0.05628698}},
    }};
    return rows;
}

Srgb grey(int code) {
    const auto byte = static_cast<std::uint8_t>(code);
    return {byte, byte, byte};
}

LinearRgb middle(LinearRgb one, LinearRgb other) {
    return {(one.r + other.r) / 2, (one.g + other.g) / 2, (one.b + other.b) / 2};
}

auto near(double expected, double margin) {
    return Approx(expected).margin(margin).epsilon(0);
}

} // namespace

TEST_CASE("sRGB to linear light, Lab and OKLab against the reference table") {
    for (const Row& row : reference()) {
        CAPTURE(row.srgb.r, row.srgb.g, row.srgb.b);
        const LinearRgb light = linear(row.srgb);
        CHECK(light.r == near(row.light.r, 1e-10));
        CHECK(light.g == near(row.light.g, 1e-10));
        CHECK(light.b == near(row.light.b, 1e-10));
        const Lab in_lab = lab(light);
        CHECK(in_lab.l == near(row.lab.l, 2e-6));
        CHECK(in_lab.a == near(row.lab.a, 2e-6));
        CHECK(in_lab.b == near(row.lab.b, 2e-6));
        const Oklab in_oklab = oklab(light);
        CHECK(in_oklab.l == near(row.oklab.l, 2e-8));
        CHECK(in_oklab.a == near(row.oklab.a, 2e-8));
        CHECK(in_oklab.b == near(row.oklab.b, 2e-8));
        CHECK(lightness(light) == near(row.lab.l, 2e-6));
        CHECK(srgb(linear(row.lab)) == row.srgb);
    }
}

TEST_CASE("sRGB to linear light and back is the identity") {
    for (int code = 0; code < 256; ++code) REQUIRE(srgb(linear(grey(code))) == grey(code));
    for (int r = 0; r < 256; r += 15)
        for (int g = 0; g < 256; g += 15)
            for (int b = 0; b < 256; b += 15) {
                const Srgb colour{static_cast<std::uint8_t>(r), static_cast<std::uint8_t>(g),
                                  static_cast<std::uint8_t>(b)};
                REQUIRE(srgb(linear(colour)) == colour);
                REQUIRE(srgb(linear(lab(linear(colour)))) == colour);
            }
}

TEST_CASE("decode and encode undo each other on both sides of zero") {
    for (int step = -1500; step <= 1500; ++step) {
        const double code = step / 1000.0;
        // The standard's rounded thresholds leave a gap of about 3e-8 at the joint of line and curve.
        REQUIRE(encode(decode(code)) == near(code, 2e-7));
        REQUIRE(decode(-code) == -decode(code));
    }
    CHECK(decode(1.0) == near(1.0, 1e-15));
    CHECK(decode(0.0) == 0.0);
}

TEST_CASE("Lab to linear light and back is the identity, outside sRGB too") {
    for (double l = 0; l <= 100; l += 4)
        for (double a = -120; a <= 120; a += 24)
            for (double b = -120; b <= 120; b += 24) {
                const Lab back = lab(linear(Lab{l, a, b}));
                CAPTURE(l, a, b);
                REQUIRE(back.l == near(l, 1e-9));
                REQUIRE(back.a == near(a, 1e-9));
                REQUIRE(back.b == near(b, 1e-9));
            }
}

TEST_CASE("OKLab to linear light and back is the identity, outside sRGB too") {
    for (double l = 0; l <= 1; l += 0.05)
        for (double a = -0.35; a <= 0.35; a += 0.1)
            for (double b = -0.35; b <= 0.35; b += 0.1) {
                const Oklab back = oklab(linear(Oklab{l, a, b}));
                CAPTURE(l, a, b);
                REQUIRE(back.l == near(l, 1e-9));
                REQUIRE(back.a == near(a, 1e-9));
                REQUIRE(back.b == near(b, 1e-9));
            }
    for (const Row& row : reference()) CHECK(srgb(linear(row.oklab)) == row.srgb);
}

TEST_CASE("greys have no chroma") {
    for (int code = 0; code < 256; ++code) {
        REQUIRE(chroma(lab(linear(grey(code)))) < 1e-10);
        const Oklab in_oklab = oklab(linear(grey(code)));
        REQUIRE(std::hypot(in_oklab.a, in_oklab.b) < 1e-10);
    }
}

TEST_CASE("light is averaged in linear light") {
    // Source: checks of half-and-half pictures computed outside the project; any pitch of squares has this
    // mean.
    struct Mix {
        Srgb one, other, mean;
        double lightness, mean_of_codes_off;
    };
    const std::array<Mix, 4> mixes = {{
        {{0x00, 0x00, 0x00}, {0xff, 0xff, 0xff}, {0xbc, 0xbc, 0xbc}, 76.07, 10},
        {{0x1f, 0x2a, 0x44}, {0xf4, 0xef, 0xe3}, {0xb4, 0xb2, 0xac}, 72.52, 10},
        {{0xc8, 0x10, 0x2e}, {0xff, 0xff, 0xff}, {0xe6, 0xbc, 0xbe}, 79.85, 10},
        {{0x0b, 0x3d, 0x91}, {0xff, 0xd1, 0x00}, {0xbc, 0x9e, 0x69}, 66.64, 10},
    }};
    for (const Mix& mix : mixes) {
        const LinearRgb mean = middle(linear(mix.one), linear(mix.other));
        CHECK(srgb(mean) == mix.mean);
        CHECK(lightness(mean) == near(mix.lightness, 0.005));
        // The trap: a mean of code values is wrong by 10 to 19.
        const Srgb codes{static_cast<std::uint8_t>((mix.one.r + mix.other.r) / 2),
                         static_cast<std::uint8_t>((mix.one.g + mix.other.g) / 2),
                         static_cast<std::uint8_t>((mix.one.b + mix.other.b) / 2)};
        CHECK(ciede2000(lab(mean), lab(linear(codes))) > mix.mean_of_codes_off);
    }
}

TEST_CASE("lightness and luminance undo each other; the joint is where CIE 15 puts it") {
    for (int step = 0; step <= 10000; ++step) {
        const double l = step / 100.0;
        REQUIRE(lightness_of(luminance_of(l)) == near(l, 1e-10));
    }
    CHECK(lightness_of(216.0 / 24389.0) == near(8.0, 1e-10)); // Derived: kappa * epsilon = 8.
    CHECK(luminance_of(8.0) == near(216.0 / 24389.0, 1e-15));
    CHECK(luminance({-1, -1, -1}) == 0.0);
}

TEST_CASE("grey_of gives the code whose lightness is nearest") {
    for (int code = 0; code < 256; ++code) REQUIRE(int{grey_of(lightness(linear(grey(code))))} == code);
    for (int step = -300; step <= 10300; ++step) {
        const double l = step / 100.0;
        double least = std::numeric_limits<double>::infinity();
        for (int code = 0; code < 256; ++code)
            least = std::min(least, std::abs(lightness(linear(grey(code))) - l));
        CAPTURE(l);
        REQUIRE(std::abs(lightness(linear(grey(grey_of(l)))) - l) == near(least, 1e-9));
    }
}

TEST_CASE("colours outside sRGB are clipped channel by channel") {
    CHECK(srgb(LinearRgb{-0.2, 0.5, 1.7}) == Srgb{0, 188, 255});
    const double no_number = std::numeric_limits<double>::quiet_NaN();
    CHECK(srgb(LinearRgb{no_number, 0, 0}) == Srgb{0, 0, 0});
}

TEST_CASE("hue and chroma") {
    CHECK(hue(Lab{50, 0, 0}) == 0.0);
    CHECK(hue(Lab{50, 3, 0}) == near(0, 1e-12));
    CHECK(hue(Lab{50, 0, 3}) == near(90, 1e-12));
    CHECK(hue(Lab{50, -3, 0}) == near(180, 1e-12));
    CHECK(hue(Lab{50, 0, -3}) == near(270, 1e-12));
    CHECK(hue(Lab{50, 5, -1e-300}) < 360.0);
    CHECK(chroma(Lab{50, 3, -4}) == near(5, 1e-12));
}
