#include <catch.hpp>
#include <cmath>
#include <string>

#include "print_room.h"
#include "swatch/swatch.h"

using namespace print_room;
using motley::colour::ciede2000;
using motley::colour::linear;
using motley::palette::Accent;
using motley::swatch::accents;

namespace {

// What may be asked of a print. `colour` in CIEDE2000; `share` relative to the true share plus 1 % of the
// cloth.
struct Tolerance {
    double colour = 2.5; ///< About the least that is seen without comparing side by side is 2 to 3 (common
                         ///< practice, no source).
    double share = 0.15;
};

Camera any_camera(Dice& dice, std::uint64_t seed) {
    return {.blur = dice.roll(0.5, 1.5),
            .weave = dice.roll(0.02, 0.07),
            .noise = dice.roll(0.005, 0.03),
            .fall = dice.roll(0, 0.45),
            .seed = seed};
}

std::vector<LinearRgb> dyes_apart(Dice& dice, int count, double least) {
    std::vector<LinearRgb> dyes;
    for (int i = 0; i < count; ++i) dyes.push_back(dye_apart(dice, dyes, least));
    return dyes;
}

// A dye and the same dye `step` L* lighter or darker.
std::vector<LinearRgb> tonal(Dice& dice, double step) {
    for (;;) {
        const LinearRgb dye = invented_dye(dice);
        Lab other = lab_of(dye);
        other.l += dice.roll() < 0.5 ? -step : step;
        if (const LinearRgb light = linear(other); in_gamut(light)) return {dye, light};
    }
}

LinearRgb mean_of(const std::vector<Accent>& found) {
    LinearRgb mean;
    for (const Accent& accent : found) {
        const LinearRgb light = linear(accent.srgb);
        mean.r += accent.share * light.r;
        mean.g += accent.share * light.g;
        mean.b += accent.share * light.b;
    }
    return mean;
}

std::string described(const std::vector<Accent>& found) {
    std::string text;
    for (const Accent& accent : found) {
        const Lab lab = lab_of(linear(accent.srgb));
        for (const double number : {lab.l, lab.a, lab.b, 100 * accent.share})
            text += std::to_string(number) + " ";
        text += "| ";
    }
    return text;
}

// The dye as it looks under the mean light of the photo.
Lab as_seen(const Print& print, const Photo& photo, std::size_t dye) {
    LinearRgb cloth;
    for (std::size_t d = 0; d < print.dyes.size(); ++d) {
        cloth.r += photo.shares[d] * print.dyes[d].r;
        cloth.g += photo.shares[d] * print.dyes[d].g;
        cloth.b += photo.shares[d] * print.dyes[d].b;
    }
    const double light = motley::colour::luminance(photo.mean) / motley::colour::luminance(cloth);
    return lab_of({print.dyes[dye].r * light, print.dyes[dye].g * light, print.dyes[dye].b * light});
}

void check_sums(const std::vector<Accent>& found, LinearRgb mean) {
    double sum = 0;
    for (std::size_t i = 0; i < found.size(); ++i) {
        sum += found[i].share;
        CHECK(found[i].share > 0);
        if (i > 0) CHECK(found[i].share <= found[i - 1].share);
    }
    CHECK(sum == Approx(1).margin(1e-12));
    CHECK(found.size() <= 6);
    // Nothing is lost or made up: the accents, mixed by their shares, are the cloth seen from across the
    // room.
    CHECK(ciede2000(lab_of(mean_of(found)), lab_of(mean)) < 1.5);
}

// One accent for every dye and no other, with the right colour and share.
void check_print(const Print& print, const Camera& camera, Tolerance tolerance = {}) {
    const Photo photo = photograph(print, camera);
    const std::vector<Accent> found = accents(photo.image);
    INFO("seed " << camera.seed << " blur " << camera.blur << " weave " << camera.weave << " found "
                 << described(found));
    check_sums(found, photo.mean);
    CHECK(found.size() == print.dyes.size());
    for (std::size_t d = 0; d < print.dyes.size(); ++d) {
        const Lab dye = as_seen(print, photo, d);
        const auto off = [&](const Accent& accent) { return ciede2000(dye, lab_of(linear(accent.srgb))); };
        const Accent& nearest =
            *std::min_element(found.begin(), found.end(),
                              [&](const Accent& one, const Accent& other) { return off(one) < off(other); });
        INFO("dye " << dye.l << " " << dye.a << " " << dye.b << " share " << photo.shares[d]);
        CHECK(off(nearest) < tolerance.colour);
        CHECK(std::abs(nearest.share - photo.shares[d]) < tolerance.share * (0.01 + photo.shares[d]));
    }
}

constexpr std::uint64_t rounds = 4;

} // namespace

TEST_CASE("a solid has one colour, whatever its weave and however uneven the light") {
    for (std::uint64_t round = 0; round < 2 * rounds; ++round) {
        Dice dice(100 + round);
        const Print print = solid(invented_dye(dice));
        Camera camera = any_camera(dice, round);
        camera.fall = dice.roll(0, 0.65);
        check_print(print, camera, {.colour = 1.0});
    }
}

TEST_CASE("a nearly black solid has one colour") {
    for (std::uint64_t round = 0; round < 3; ++round) {
        Dice dice(150 + round);
        const Print print = solid(linear(Lab{dice.roll(6, 14), dice.roll(-2, 2), dice.roll(-3, 2)}));
        check_print(print, {.weave = 0.08, .noise = 0.08, .fall = 0.5, .seed = round}, {.colour = 1.5});
    }
}

TEST_CASE("a coarse, slubby weave is no second colour") {
    for (std::uint64_t round = 0; round < 6; ++round) {
        Dice dice(170 + round);
        check_print(solid(invented_dye(dice)),
                    {.blur = 0, .weave = 0.16, .noise = 0.04, .fall = 0.3, .seed = round}, {.colour = 1.5});
    }
}

TEST_CASE("tiny dots on 1.2 % of the cloth are kept") {
    // Ten pixels wide and softened by the lens: their middle does not quite reach the pure colour.
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(200 + round);
        check_print(dots(dyes_apart(dice, 2, 20), 5, 0.012), any_camera(dice, round), {.colour = 7});
    }
}

TEST_CASE("red dots on cream, 1.2 %") {
    const Print print = dots({linear(Lab{92, 0, 12}), linear(Lab{42, 60, 30})}, 5, 0.012);
    check_print(print, {.blur = 1.2, .fall = 0.3, .seed = 3}, {.colour = 7});
}

TEST_CASE("dots on 1 to 8 % of the cloth") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(300 + round);
        check_print(dots(dyes_apart(dice, 2, 15), 12, dice.roll(0.011, 0.08)), any_camera(dice, round));
    }
}

TEST_CASE("dots of two colours, 2 % each") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(400 + round);
        check_print(dots(dyes_apart(dice, 3, 20), 9, 0.04), any_camera(dice, round),
                    {.colour = 4, .share = 0.3});
    }
}

TEST_CASE("a tone-on-tone print has its two tones") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(500 + round);
        check_print(dots(tonal(dice, 9), 12, 0.3), any_camera(dice, round));
    }
}

TEST_CASE("stripes have the shares of their widths") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(600 + round);
        check_print(stripes(dyes_apart(dice, 2, 15), {dice.roll(10, 40), dice.roll(10, 40)}, dice.roll(0, 3)),
                    any_camera(dice, round));
        check_print(stripes(dyes_apart(dice, 4, 15),
                            {dice.roll(20, 90), dice.roll(20, 90), dice.roll(20, 90), 40}, dice.roll(0, 3)),
                    any_camera(dice, round), {.share = 0.2});
    }
}

TEST_CASE("the light is not taken for a colour nor a colour for the light") {
    // Half and half, and four broad bands: the slowest prints there are.
    for (std::uint64_t round = 0; round < 3; ++round) {
        Dice dice(700 + round);
        check_print(stripes(dyes_apart(dice, 2, 10), {512, 2000}, 0), any_camera(dice, round));
        check_print(stripes(dyes_apart(dice, 4, 10), {256, 256, 256, 256}, 0), any_camera(dice, round));
    }
}

TEST_CASE("gingham has three colours, the mixed one between the two included") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(800 + round);
        const std::vector<LinearRgb> dyes = dyes_apart(dice, 2, 30);
        check_print(gingham(dyes[0], dyes[1], dice.roll(16, 60)), any_camera(dice, round));
    }
}

TEST_CASE("large flowers have their four colours") {
    for (std::uint64_t round = 0; round < rounds; ++round) {
        Dice dice(900 + round);
        check_print(florals(dyes_apart(dice, 4, 15), dice.roll(120, 400)), any_camera(dice, round));
    }
}

TEST_CASE("never more than six colours") {
    for (std::uint64_t round = 0; round < 3; ++round) {
        Dice dice(1000 + round);
        const Photo photo =
            photograph(stripes(dyes_apart(dice, 9, 12), {40, 20, 35, 50, 25, 30, 45, 20, 30}, 0.3),
                       any_camera(dice, round));
        const std::vector<Accent> found = accents(photo.image);
        CHECK(found.size() == 6);
        double sum = 0;
        for (const Accent& accent : found) sum += accent.share;
        CHECK(sum == Approx(1).margin(1e-12));
    }
}

TEST_CASE("the same picture has the same accents, bit for bit") {
    Dice dice(1100);
    const Photo photo = photograph(florals(dyes_apart(dice, 4, 15), 200), any_camera(dice, 1));
    const std::vector<Accent> one = accents(photo.image), other = accents(photo.image);
    REQUIRE(one.size() == other.size());
    for (std::size_t i = 0; i < one.size(); ++i) {
        CHECK(one[i].srgb == other[i].srgb);
        CHECK(one[i].share == other[i].share);
    }
}

TEST_CASE("pictures of any shape") {
    for (const auto& [width, height] :
         {std::pair{1, 1}, {2, 1}, {1, 7}, {3, 3}, {16, 16}, {5000, 1}, {3, 900}, {2000, 400}}) {
        const LinearRgb dye = linear(Lab{60, 20, -10});
        const Photo photo = photograph(
            solid(dye),
            {.width = width, .height = height, .blur = 0, .weave = 0, .noise = 0, .fall = 0, .seed = 1});
        const std::vector<Accent> found = accents(photo.image);
        CAPTURE(width, height);
        REQUIRE(found.size() == 1);
        CHECK(found[0].share == 1.0);
        CHECK(ciede2000(lab_of(linear(found[0].srgb)), lab_of(dye)) < 1.0);
    }
    CHECK(accents(LinearImage{}).empty());
}

TEST_CASE("colours outside sRGB and black do no harm") {
    LinearImage image{64, 64, {}};
    for (int i = 0; i < 64 * 64; ++i)
        for (const float channel :
             {i % 64 < 32 ? 1.3F : 0.0F, i % 64 < 32 ? -0.2F : 0.0F, i % 64 < 32 ? -0.05F : 0.0F})
            image.pixels.push_back(channel);
    const std::vector<Accent> found = accents(image);
    REQUIRE(found.size() == 2);
    CHECK(found[0].share == Approx(0.5).margin(0.02));
}
