#include "swatch/light.h"

#include <catch.hpp>
#include <cmath>

#include "print_room.h"
#include "swatch/mixture.h"

using namespace print_room;
using namespace motley::swatch;

namespace {

// The largest step in the logarithm of L between the corners and middle of a cloth of one colour.
double unevenness(const Cloth& cloth) {
    double low = 1e9, high = -1e9;
    const auto width = static_cast<std::size_t>(cloth.width), height = static_cast<std::size_t>(cloth.height);
    for (const std::size_t y : {height / 20, height / 2, height - 1 - height / 20})
        for (const std::size_t x : {width / 20, width / 2, width - 1 - width / 20}) {
            double sum = 0; // Over a patch, so that the weave does not count.
            for (std::size_t i = 0; i < 64; ++i)
                sum += static_cast<double>(cloth.l[(y + i / 8 - 4) * width + x + i % 8 - 4]) / 64;
            low = std::min(low, std::log(sum));
            high = std::max(high, std::log(sum));
        }
    return high - low;
}

} // namespace

TEST_CASE("the float OKLab of the cloth is that of colour::oklab, a and b doubled") {
    LinearImage image{32, 32, {}};
    Dice dice(5);
    std::vector<LinearRgb> colours;
    for (int i = 0; i < 32 * 32; ++i) {
        const LinearRgb dye =
            i == 0 ? LinearRgb{0, 0, 0} : LinearRgb{dice.roll(), dice.roll() * dice.roll(), dice.roll()};
        colours.push_back(dye);
        for (const double channel : {dye.r, dye.g, dye.b})
            image.pixels.push_back(static_cast<float>(channel));
    }
    const Cloth cloth = reduced(image, std::nullopt);
    for (std::size_t i = 1; i < colours.size(); ++i) {
        const auto exact = motley::colour::oklab(colours[i]);
        REQUIRE(static_cast<double>(cloth.l[i]) == Approx(exact.l).margin(1e-5));
        REQUIRE(static_cast<double>(cloth.a[i]) == Approx(2 * exact.a).margin(2e-5));
        REQUIRE(static_cast<double>(cloth.b[i]) == Approx(2 * exact.b).margin(2e-5));
    }
    CHECK(cloth.l[0] < 0.006F); // Black.
}

TEST_CASE("reducing averages light, not codes") {
    LinearImage image{2048, 512, {}};
    for (int i = 0; i < 2048 * 512; ++i)
        for (int channel = 0; channel < 3; ++channel)
            image.pixels.push_back((i + i / 2048) % 2 != 0 ? 1.0F : 0.0F);
    const Cloth cloth = reduced(image, std::nullopt);
    CHECK(cloth.width == 1024);
    CHECK(cloth.height == 256);
    // Derived: half the light is the cube root of a half in OKLab.
    for (const float l : cloth.l) REQUIRE(static_cast<double>(l) == Approx(std::cbrt(0.5)).margin(1e-5));
}

TEST_CASE("uneven light is found on solids and prints alike and taken out") {
    for (std::uint64_t round = 0; round < 4; ++round) {
        Dice dice(20 + round);
        const Camera camera{.blur = 1, .weave = 0.04, .noise = 0.01, .fall = 0.5, .seed = round};
        const LinearRgb dye = invented_dye(dice);
        Cloth plain = reduced(photograph(solid(dye), camera).image, std::nullopt);
        const double before = unevenness(plain);
        even_out(plain, find_light(plain));
        CHECK(before > 0.1); // The logarithm of L is a third of that of the light.
        CHECK(unevenness(plain) < 0.015);

        // The light that a print of quite other colours shows, under the same camera, takes it out of the
        // solid as well.
        const Print print = dots({dye, dye_apart(dice, {dye}, 25)}, 25, 0.3);
        Cloth printed = reduced(photograph(print, camera).image, std::nullopt);
        calm(printed);
        Cloth again = reduced(photograph(solid(dye), camera).image, std::nullopt);
        even_out(again, find_light(printed));
        CHECK(unevenness(again) < 0.02);
    }
}

TEST_CASE("even light is left alone") {
    Dice dice(40);
    const Camera camera{.blur = 1, .weave = 0.03, .fall = 0, .seed = 1};
    // Stripes that keep an order, softly blurred: their edges all run one way.
    const Print print =
        stripes({invented_dye(dice), invented_dye(dice), invented_dye(dice)}, {40, 60, 30}, 0.7);
    Cloth cloth = reduced(photograph(print, camera).image, std::nullopt);
    calm(cloth);
    const Light light = find_light(cloth);
    for (const double u : {-1.0, 0.0, 1.0})
        for (const double v : {-1.0, 0.0, 1.0}) CHECK(std::abs(light.at(u, v)) < 0.02);
}

TEST_CASE("a blurred edge is made of what it lies between") {
    Dice dice(50);
    for (int round = 0; round < 50; ++round) {
        const LinearRgb one = invented_dye(dice), other = dye_apart(dice, {one}, 20);
        const Mixture mixture(tone_of(one), tone_of(other));
        for (const double share : {0.0, 0.1, 0.35, 0.5, 0.8, 1.0}) {
            const Tone tone = tone_of({one.r + share * (other.r - one.r), one.g + share * (other.g - one.g),
                                       one.b + share * (other.b - one.b)});
            const Mixture::Fit fit = mixture.fit(tone);
            CHECK(static_cast<double>(fit.share) == Approx(share).margin(0.05));
            CHECK(fit.distance < 0.01F);
        }
    }
    // A colour off the line is not.
    const Mixture greys(tone_of({0.01, 0.01, 0.01}), tone_of({0.9, 0.9, 0.9}));
    CHECK(greys.fit(tone_of({0.5, 0.05, 0.05})).distance > 0.2F);
}
