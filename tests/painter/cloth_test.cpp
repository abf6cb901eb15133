#include "painter/cloth.h"

#include <algorithm>
#include <catch.hpp>
#include <cmath>

#include "colour/difference.h"
#include "painter/demo.h"

using namespace motley;
using painter::Cloth;
using painter::Design;

namespace {

colour::LinearRgb mean(const photo::LinearImage& picture) {
    colour::LinearRgb sum;
    for (std::size_t k = 0; k < picture.pixels.size(); k += 3) {
        sum.r += static_cast<double>(picture.pixels[k]);
        sum.g += static_cast<double>(picture.pixels[k + 1]);
        sum.b += static_cast<double>(picture.pixels[k + 2]);
    }
    const double count = static_cast<double>(picture.pixels.size()) / 3;
    return {sum.r / count, sum.g / count, sum.b / count};
}

double difference(colour::LinearRgb light, colour::Srgb asked) {
    return colour::ciede2000(colour::lab(light), colour::lab(colour::linear(asked)));
}

/// Where the green of the columns' means crosses its own middle, in pixels, upwards only.
std::vector<double> rises(const photo::LinearImage& picture) {
    std::vector<double> columns(static_cast<std::size_t>(picture.width));
    for (std::size_t k = 0; k < picture.pixels.size() / 3; ++k) {
        columns[k % columns.size()] += static_cast<double>(picture.pixels[3 * k + 1]);
    }
    const auto [low, high] = std::minmax_element(columns.begin(), columns.end());
    const double middle = (*low + *high) / 2;
    std::vector<double> places;
    for (std::size_t x = 1; x < columns.size(); ++x) {
        const double before = columns[x - 1] - middle, after = columns[x] - middle;
        if (before < 0 && after >= 0) places.push_back(static_cast<double>(x) - after / (after - before));
    }
    return places;
}

} // namespace

TEST_CASE("a solid's mean is the colour asked for") {
    for (const colour::Srgb asked :
         {colour::Srgb{238, 232, 219}, colour::Srgb{200, 16, 46}, colour::Srgb{31, 42, 68}}) {
        const Cloth cloth = painter::paint({.print = painter::Solid{}, .ground = asked, .seed = 5}, 600, 120);
        CHECK(difference(mean(cloth.picture), asked) < 0.5);
    }
}

TEST_CASE("a chambray's mean is half warp, half weft, in light") {
    // 50/50 of #1f2a44 and #f4efe3 in linear light is #b4b2ac (worked by hand from IEC 61966-2-1).
    const Cloth cloth = painter::paint({.print = painter::Solid{.crossed = true},
                                        .ground = {0x1f, 0x2a, 0x44},
                                        .inks = {{0xf4, 0xef, 0xe3}},
                                        .seed = 6},
                                       900, 240);
    CHECK(difference(mean(cloth.picture), {0xb4, 0xb2, 0xac}) < 0.7);
}

TEST_CASE("the same design is the same pixels, another seed is not") {
    for (Design design : painter::invented_designs(3, 24)) {
        const auto first = painter::paint(design, 120, 40).picture.pixels;
        CHECK(first == painter::paint(design, 120, 40).picture.pixels);
        ++design.seed;
        CHECK(first != painter::paint(design, 120, 40).picture.pixels);
    }
}

TEST_CASE("a gingham repeats at its scale") {
    for (const double scale : {0.5, 0.75, 1.0}) {
        const double per_inch = 200;
        const Cloth cloth = painter::paint(
            {.print = painter::Gingham{}, .scale = scale, .ground = {250, 243, 226}, .inks = {{190, 30, 40}}},
            1600, per_inch, 800);
        const auto places = rises(cloth.picture);
        REQUIRE(places.size() >= 7);
        const double repeat =
            (places.back() - places.front()) / static_cast<double>(places.size() - 1) / per_inch;
        CHECK(repeat == Approx(scale).epsilon(0.01));
    }
}

TEST_CASE("a gingham is a quarter ink, a quarter ground and half of both") {
    // Half of the warp and half of the weft are dyed, so half of what is seen is (areas, derived).
    const colour::Srgb ground{250, 243, 226}, ink{20, 60, 120};
    const Cloth cloth = painter::paint(
        {.print = painter::Gingham{}, .scale = 0.5, .ground = ground, .inks = {ink}, .seed = 9}, 1000, 200);
    const colour::LinearRgb a = colour::linear(ground), b = colour::linear(ink);
    const colour::LinearRgb half{(a.r + b.r) / 2, (a.g + b.g) / 2, (a.b + b.b) / 2};
    CHECK(colour::ciede2000(colour::lab(mean(cloth.picture)), colour::lab(half)) < 0.8);
}

TEST_CASE("dots cover the area their diameter says") {
    // Two dots on every scale x scale of cloth: 2 pi (d/2)^2 of it, d the diameter as a share (area of a
    // disc).
    const colour::Srgb ground{0, 0, 0}, ink{255, 255, 255};
    const Cloth cloth = painter::paint(
        {.print = painter::Dots{.diameter = 0.4}, .scale = 0.5, .ground = ground, .inks = {ink}}, 1000, 200);
    const double covered = 2 * 3.14159265 * 0.2 * 0.2;
    CHECK(mean(cloth.picture).g == Approx(covered).epsilon(0.06)); // Ink is thin in places.
}

TEST_CASE("the same cloth is seen at any resolution") {
    for (const Design& design : painter::invented_designs(8, 24)) {
        const colour::LinearRgb coarse = mean(painter::paint(design, 200, 50).picture);
        const colour::LinearRgb fine = mean(painter::paint(design, 600, 150).picture);
        CHECK(colour::ciede2000(colour::lab(coarse), colour::lab(fine)) < 2.0);
    }
}

TEST_CASE("more designs are the same designs and more") {
    const auto few = painter::invented_designs(4, 13), many = painter::invented_designs(4, 40);
    REQUIRE(many.size() == 40);
    for (std::size_t k = 0; k < few.size(); ++k) {
        CHECK(few[k].seed == many[k].seed);
        CHECK(few[k].ground == many[k].ground);
        CHECK(few[k].print.index() == many[k].print.index());
    }
}
