#include "render/cloth.h"

#include <catch.hpp>

#include "colour/difference.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

TEST_CASE("resampling keeps the mean and puts every inch where it belongs") {
    // A ramp: its value tells the place, whatever the scale.
    photo::LinearImage ramp = blank(300, 200);
    for (int y = 0; y < 200; ++y)
        for (int x = 0; x < 300; ++x) {
            pixel(ramp, x, y)[0] = static_cast<float>((x + 0.5) / 300);
            pixel(ramp, x, y)[1] = static_cast<float>((y + 0.5) / 200);
            pixel(ramp, x, y)[2] = 0.25f;
        }
    for (const double scale : {0.21, 0.5, 1.0, 1.7}) {
        const int width = static_cast<int>(300 * scale), height = static_cast<int>(200 * scale);
        const photo::LinearImage out = resampled(ramp, scale, 0, 0, width, height);
        for (int y = height / 5; y < height * 4 / 5; ++y)
            for (int x = width / 5; x < width * 4 / 5; ++x) {
                REQUIRE(pixel(out, x, y)[0] == Approx((x + 0.5) / (300 * scale)).margin(1e-4));
                REQUIRE(pixel(out, x, y)[1] == Approx((y + 0.5) / (200 * scale)).margin(1e-4));
                REQUIRE(pixel(out, x, y)[2] == Approx(0.25).margin(1e-6));
            }
        // A part is the same as the whole.
        const photo::LinearImage part = resampled(ramp, scale, 7, 11, 20, 15);
        CHECK(made_up::apart(part, out, 7, 11) == 0);
    }
}

TEST_CASE("uneven light is taken out of a photo, its mean kept") {
    Cloth cloth = made_up::corners(5, 4, {0.5, 0.3, 0.2}, {0.1, 0.2, 0.3});
    const colour::LinearRgb even = mean(cloth.picture);
    const photo::LinearImage plain = scaled_cloth(cloth, 30, 1000);
    for (int y = 0; y < cloth.picture.height; ++y)
        for (int x = 0; x < cloth.picture.width; ++x)
            for (int c = 0; c < 3; ++c)
                pixel(cloth.picture, x, y)[c] *= static_cast<float>(0.8 + 0.4 * x / cloth.picture.width);
    const photo::LinearImage lit = scaled_cloth(cloth, 30, 1000);
    const colour::LinearRgb shaded = mean(cloth.picture);
    CHECK(colour::ciede2000(colour::lab(mean(lit)), colour::lab(shaded)) < 0.05);
    const auto side = [](const photo::LinearImage& image, int from) {
        double sum = 0;
        for (int y = 0; y < image.height; ++y)
            for (int x = 0; x < image.width / 4; ++x)
                sum += static_cast<double>(pixel(image, from + x, y)[0]);
        return sum;
    };
    const int last = lit.width - lit.width / 4;
    const double before = side(plain, last) / side(plain, 0);
    // The light alone makes the right quarter 1.35 times as bright as the left; what is left is the print's.
    CHECK(side(lit, last) / side(lit, 0) / before == Approx(1).margin(0.06));
    CHECK(even.r > 0);
}

TEST_CASE("a print that is dark on one side stays so") {
    // A border print: half the cloth dark, half light. No lamp does that.
    const Cloth cloth = made_up::photo_of(6, 4, 600, {0.8, 0.8, 0.8}, {0.05, 0.05, 0.05},
                                          [](double x, double) { return x < 3 ? 1.0 : 0.0; });
    const photo::LinearImage scaled = scaled_cloth(cloth, 40, 1000);
    CHECK(pixel(scaled, 40, 80)[1] == Approx(0.05).margin(0.005));
    CHECK(pixel(scaled, 200, 80)[1] == Approx(0.8).margin(0.01));
}

TEST_CASE("a solid has life in it and keeps its colour") {
    const colour::LinearRgb wine{0.2, 0.02, 0.05};
    const photo::LinearImage cloth = solid_cloth(wine, 30, 150, 140, 5);
    CHECK(colour::ciede2000(colour::lab(mean(cloth)), colour::lab(wine)) < 0.01);
    float least = 1, most = 0;
    for (int y = 0; y < 140; ++y)
        for (int x = 0; x < 150; ++x) {
            least = std::min(least, pixel(cloth, x, y)[0]);
            most = std::max(most, pixel(cloth, x, y)[0]);
        }
    CHECK(most > least * 1.02f);
    CHECK(most < least * 1.35f);
}
