#include <algorithm>
#include <catch.hpp>
#include <cmath>

#include "colour/space.h"
#include "photo/make_pictures.h"
#include "photo/make_profiles.h"
#include "photo/photo.h"

using namespace motley;
using pictures::Picture;

namespace {

/// The slow way: every block by its definition, in doubles.
photo::LinearImage box_average(const Picture& picture, int detail) {
    int step = 1;
    const int longest = std::max(picture.width, picture.height);
    while ((longest + step - 1) / step > detail) ++step;
    photo::LinearImage out{(picture.width + step - 1) / step, (picture.height + step - 1) / step, {}};
    const double largest = (1 << picture.bits) - 1;
    const bool alpha = picture.channels % 2 == 0;
    const int colours = picture.channels - (alpha ? 1 : 0);
    for (int by = 0; by < out.height; ++by) {
        for (int bx = 0; bx < out.width; ++bx) {
            for (int c = 0; c < 3; ++c) {
                double sum = 0, weight = 0;
                for (int y = by * step; y < std::min(picture.height, (by + 1) * step); ++y) {
                    for (int x = bx * step; x < std::min(picture.width, (bx + 1) * step); ++x) {
                        const double share = alpha ? picture.at(x, y, colours) / largest : 1.0;
                        sum += share * colour::decode(picture.at(x, y, colours == 1 ? 0 : c) / largest);
                        weight += share;
                    }
                }
                out.pixels.push_back(static_cast<float>(sum / weight));
            }
        }
    }
    return out;
}

void check_against_boxes(const Picture& picture, int detail) {
    INFO(picture.width << " x " << picture.height << ", " << picture.channels << " channels of "
                       << picture.bits << " bits at " << detail);
    const photo::Reading reading = photo::read(pictures::png(picture), "noise.png", detail);
    const photo::LinearImage expected = box_average(picture, detail);
    REQUIRE(reading.picture.width == expected.width);
    REQUIRE(reading.picture.height == expected.height);
    REQUIRE(reading.picture.pixels.size() == expected.pixels.size());
    float worst = 0;
    for (std::size_t i = 0; i < expected.pixels.size(); ++i) {
        worst = std::max(worst, std::abs(expected.pixels[i] - reading.picture.pixels[i]));
    }
    CHECK(worst < 3e-7F); // One part in 2^24 for the whole-number lights, and a float's last digit.
}

} // namespace

TEST_CASE("the reduced picture is the average of whole pixels in boxes") {
    unsigned seed = 1;
    for (const int channels : {1, 2, 3, 4}) {
        for (const int bits : {8, 16}) {
            for (const auto& [width, height] :
                 {std::pair{64, 48}, std::pair{97, 13}, std::pair{5, 131}, std::pair{1, 1}}) {
                for (const int detail : {16, 31, 32, 40, 1024}) {
                    check_against_boxes(pictures::noise(width, height, channels, bits, ++seed), detail);
                }
            }
        }
    }
}

TEST_CASE("the mean does not depend on the detail, nor on how the file is stored") {
    for (const int channels : {3, 4}) {
        for (const int bits : {8, 16}) {
            const Picture picture = pictures::noise(203, 117, channels, bits, 4);
            const photo::Reading whole = photo::read(pictures::png(picture), "noise.png", 1024);
            for (const int detail : {16, 17, 50, 101, 202, 203}) {
                for (const bool interlaced : {false, true}) {
                    const auto file = pictures::png(picture, {.interlaced = interlaced});
                    const photo::Reading reading = photo::read(file, "noise.png", detail);
                    CHECK(reading.mean.r == whole.mean.r);
                    CHECK(reading.mean.g == whole.mean.g);
                    CHECK(reading.mean.b == whole.mean.b);
                    CHECK(reading.opaque == whole.opaque);
                    CHECK(std::max(reading.picture.width, reading.picture.height) <= detail);
                }
            }
        }
    }
}

TEST_CASE("the mean is that of all pixels in doubles") {
    const Picture picture = pictures::noise(301, 199, 3, 8, 12);
    double sum[3] = {0, 0, 0};
    for (std::size_t i = 0; i < picture.samples.size(); ++i)
        sum[i % 3] += colour::decode(picture.samples[i] / 255.0);
    const double pixels = 301.0 * 199.0;
    const colour::LinearRgb mean = photo::read(pictures::png(picture), "noise.png").mean;
    CHECK(std::abs(mean.r - sum[0] / pixels) < 3e-8);
    CHECK(std::abs(mean.g - sum[1] / pixels) < 3e-8);
    CHECK(std::abs(mean.b - sum[2] / pixels) < 3e-8);
}

TEST_CASE("the reduced picture averages to the mean, whatever the profile") {
    const Picture picture = pictures::noise(64, 64, 3, 8, 8);
    for (const auto& icc : {profiles::wide_gamma(), profiles::table_of_colours(3)}) {
        const photo::Reading reading = photo::read(pictures::png(picture, {.icc = icc}), "noise.png", 16);
        double sum[3] = {0, 0, 0};
        for (std::size_t i = 0; i < reading.picture.pixels.size(); ++i) {
            sum[i % 3] += static_cast<double>(reading.picture.pixels[i]) / 256;
        }
        CHECK(sum[0] == Approx(reading.mean.r).margin(1e-6));
        CHECK(sum[1] == Approx(reading.mean.g).margin(1e-6));
        CHECK(sum[2] == Approx(reading.mean.b).margin(1e-6));
    }
}
