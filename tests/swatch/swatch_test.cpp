#include "swatch/swatch.h"

#include <array>
#include <catch.hpp>
#include <cmath>

#include "print_room.h"

using namespace print_room;
using namespace motley;
using colour::Srgb;
using colour::Value;
using palette::Accent;
using palette::Fabric;
using palette::FabricColour;

namespace {

photo::Reading reading_of(const Photo& photo) {
    photo::Reading reading;
    reading.header.width = photo.image.width;
    reading.header.height = photo.image.height;
    reading.mean = photo.mean;
    reading.picture = photo.image;
    return reading;
}

Photo squares(Srgb one, Srgb other, double pitch) {
    const Print print{{colour::linear(one), colour::linear(other)}, [=](double x, double y) {
                          return (static_cast<int>(x / pitch) + static_cast<int>(y / pitch)) % 2;
                      }};
    return photograph(print,
                      {.width = 256, .height = 192, .blur = 0, .weave = 0, .noise = 0, .fall = 0, .seed = 1});
}

Fabric fabric(double lightness) {
    Fabric fabric;
    fabric.colour = FabricColour{};
    fabric.colour->lab = {lightness, 0, 0};
    fabric.colour->from = FabricColour::From::photo;
    return fabric;
}

std::vector<Value> values_of(const std::vector<Fabric>& fabrics) {
    std::vector<Value> values;
    for (const Fabric& fabric : fabrics) values.push_back(fabric.colour->value.value());
    return values;
}

bool is_step(double number) {
    return std::abs(number * 1e4 - std::round(number * 1e4)) < 1e-6;
}

double busy_of(const Print& print, std::uint64_t seed) {
    return swatch::busy(
        swatch::accents(photograph(print, {.blur = 1, .weave = 0.04, .fall = 0.3, .seed = seed}).image));
}

} // namespace

TEST_CASE("the colour of a cloth is its mean in linear light") {
    // Source: half-and-half pictures computed outside the project; the same at any pitch.
    struct Mix {
        Srgb one, other, mean;
        double lightness;
    };
    const std::array<Mix, 4> mixes = {{{{0x00, 0x00, 0x00}, {0xff, 0xff, 0xff}, {0xbc, 0xbc, 0xbc}, 76.07},
                                       {{0x1f, 0x2a, 0x44}, {0xf4, 0xef, 0xe3}, {0xb4, 0xb2, 0xac}, 72.52},
                                       {{0xc8, 0x10, 0x2e}, {0xff, 0xff, 0xff}, {0xe6, 0xbc, 0xbe}, 79.85},
                                       {{0x0b, 0x3d, 0x91}, {0xff, 0xd1, 0x00}, {0xbc, 0x9e, 0x69}, 66.64}}};
    for (const Mix& mix : mixes)
        for (const double pitch : {1.0, 4.0, 32.0}) {
            const FabricColour found =
                swatch::measure(reading_of(squares(mix.one, mix.other, pitch)), "hash");
            CHECK(found.srgb == mix.mean);
            CHECK(found.lab.l == Approx(mix.lightness).margin(0.006).epsilon(0));
            if (pitch < 32.0) continue;
            REQUIRE(found.accents.size() == 2);
            for (const Accent& accent : found.accents) {
                CHECK(accent.share == Approx(0.5).margin(0.01));
                const double off_one =
                    colour::ciede2000(lab_of(colour::linear(accent.srgb)), lab_of(colour::linear(mix.one)));
                const double off_other =
                    colour::ciede2000(lab_of(colour::linear(accent.srgb)), lab_of(colour::linear(mix.other)));
                CHECK(std::min(off_one, off_other) < 1.0);
            }
        }
}

TEST_CASE("what is recorded is rounded, says where it is from, and has no value yet") {
    Dice dice(1);
    const FabricColour found = swatch::measure(
        reading_of(photograph(dots({invented_dye(dice), invented_dye(dice)}, 12, 0.1), {.seed = 2})),
        "0123456789abcdef");
    CHECK(found.from == FabricColour::From::photo);
    CHECK(found.photo_hash == "0123456789abcdef");
    CHECK_FALSE(found.value.has_value());
    for (const double number : {found.lab.l, found.lab.a, found.lab.b, found.busy}) CHECK(is_step(number));
    for (const Accent& accent : found.accents) CHECK(is_step(accent.share));
}

TEST_CASE("measuring twice gives the same") {
    Dice dice(2);
    const photo::Reading reading =
        reading_of(photograph(gingham(invented_dye(dice), invented_dye(dice), 30), {.seed = 4}));
    const FabricColour one = swatch::measure(reading, "x"), other = swatch::measure(reading, "x");
    CHECK(one.lab.l == other.lab.l);
    CHECK(one.busy == other.busy);
    REQUIRE(one.accents.size() == other.accents.size());
    for (std::size_t i = 0; i < one.accents.size(); ++i) {
        CHECK(one.accents[i].srgb == other.accents[i].srgb);
        CHECK(one.accents[i].share == other.accents[i].share);
    }
}

TEST_CASE("transparent areas, which carry the mean, are no colour of the cloth") {
    photo::Reading reading = reading_of(squares({20, 40, 120}, {250, 240, 230}, 24));
    const std::size_t third = reading.picture.pixels.size() / 9;
    for (std::size_t i = 0; i < third; ++i) {
        reading.picture.pixels[3 * i] = static_cast<float>(reading.mean.r);
        reading.picture.pixels[3 * i + 1] = static_cast<float>(reading.mean.g);
        reading.picture.pixels[3 * i + 2] = static_cast<float>(reading.mean.b);
    }
    reading.opaque = 2.0 / 3.0;
    CHECK(swatch::measure(reading, "").accents.size() == 2);
    // Without the word that part of it is transparent a third of the cloth has that colour.
    reading.opaque = 1.0;
    CHECK(swatch::measure(reading, "").accents.size() == 3);
    // A solid with a hole is still a solid.
    photo::Reading plain = reading_of(squares({90, 90, 40}, {90, 90, 40}, 24));
    plain.opaque = 0.5;
    CHECK(swatch::measure(plain, "").accents.size() == 1);
}

TEST_CASE("busy follows its formula") {
    // Derived: two colours p and 1 - p at distance d give s^2 = p (1 - p) d^2. Black and white are 100 apart.
    const std::vector<Accent> halves = {{{0, 0, 0}, 0.5}, {{255, 255, 255}, 0.5}};
    CHECK(swatch::busy(halves) == Approx(50.0 / 62.0).epsilon(1e-9));
    const std::vector<Accent> few = {{{255, 255, 255}, 0.9}, {{0, 0, 0}, 0.1}};
    CHECK(swatch::busy(few) == Approx(30.0 / 42.0).epsilon(1e-9));
    const std::vector<Accent> one = {{{12, 200, 40}, 1.0}};
    CHECK(swatch::busy(one) == 0.0);
    CHECK(swatch::busy({}) == 0.0);
}

TEST_CASE("solid, tone on tone, dots, bold stripes: ever busier") {
    for (std::uint64_t round = 0; round < 5; ++round) {
        Dice dice(60 + round);
        const double middle = dice.roll(42, 60), a = dice.roll(-12, 12), b = dice.roll(-12, 12);
        const auto at = [&](double step) { return colour::linear(Lab{middle + step, a, b}); };
        const double plain = busy_of(solid(at(0)), round);
        const double tonal = busy_of(dots({at(0), at(9)}, 14, 0.2), round);
        const double dotted = busy_of(dots({at(0), at(35)}, 14, 0.2), round);
        const double striped = busy_of(stripes({at(-30), at(35)}, {30, 30}, 0.5), round);
        const double checked = busy_of(gingham(at(-30), at(35), 40), round);
        CAPTURE(tonal, dotted, striped, checked);
        CHECK(plain == 0.0);
        CHECK(tonal > 0.1);
        CHECK(dotted > tonal + 0.1);
        CHECK(striped > dotted + 0.1);
        CHECK(checked > dotted);
        CHECK(striped < 1.0);
    }
}

TEST_CASE("values are relative to the set") {
    using enum Value;
    std::vector<Fabric> fabrics = {fabric(20), fabric(90), fabric(55), fabric(22), fabric(88)};
    swatch::set_values(fabrics);
    CHECK(values_of(fabrics) == std::vector<Value>{dark, light, medium, dark, light});
    // The same fabric of L* 55 among darker ones is light; values set before do not stick.
    std::vector<Fabric> among_dark = {fabrics[0], fabrics[2], fabrics[3]};
    swatch::set_values(among_dark);
    CHECK(values_of(among_dark) == std::vector<Value>{dark, light, dark});
}

TEST_CASE("the user's word overrides the measured value, of that fabric alone") {
    using enum Value;
    std::vector<Fabric> fabrics = {fabric(20), fabric(90), fabric(55), fabric(22), fabric(88)};
    fabrics[1].value_said = dark;
    fabrics[2].value_said = light;
    swatch::set_values(fabrics);
    CHECK(values_of(fabrics) == std::vector<Value>{dark, dark, light, dark, light});
    swatch::set_values(fabrics); // What was set before is not taken for a word.
    CHECK(values_of(fabrics) == std::vector<Value>{dark, dark, light, dark, light});
}

TEST_CASE("a fabric without a colour has no value and no say") {
    std::vector<Fabric> fabrics = {fabric(30), Fabric{}, fabric(70)};
    swatch::set_values(fabrics);
    CHECK_FALSE(fabrics[1].colour.has_value());
    CHECK(fabrics[0].colour->value == Value::dark);
    CHECK(fabrics[2].colour->value == Value::light);
    std::vector<Fabric> none;
    swatch::set_values(none);
    CHECK(none.empty());
}
