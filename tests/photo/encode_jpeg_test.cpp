#include "photo/encode_jpeg.h"

#include <catch.hpp>
#include <cmath>

#include "colour/space.h"

using namespace motley;

namespace {

/// Slow waves of colour, as photos have.
photo::Raster waves(int width, int height, int channels) {
    photo::Raster raster{width, height, channels, {}};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < channels; ++c)
                raster.pixels.push_back(static_cast<std::uint8_t>(
                    std::lround(128 + 90 * std::sin(x * 0.05 + c) * std::cos(y * 0.04 - c))));
    return raster;
}

} // namespace

TEST_CASE("a picture packed as JPEG is read back nearly as it was, and packs the same again") {
    for (const int channels : {1, 3}) {
        const photo::Raster raster = waves(150, 97, channels);
        const std::vector<std::byte> jpeg = photo::encode_jpeg(raster);
        CHECK((jpeg == photo::encode_jpeg(raster)));
        CHECK(jpeg.size() < raster.pixels.size() / 2);
        const photo::Reading read = photo::read(jpeg, "waves.jpg");
        CHECK(read.header.format == photo::Format::jpeg);
        REQUIRE(read.picture.width == 150);
        REQUIRE(read.picture.height == 97);
        double worst = 0;
        for (std::size_t pixel = 0; pixel < 150 * 97; ++pixel)
            for (std::size_t c = 0; c < 3; ++c) {
                const double was =
                    raster.pixels[pixel * static_cast<std::size_t>(channels) + (channels == 3 ? c : 0)];
                const double is =
                    colour::encode(static_cast<double>(read.picture.pixels[pixel * 3 + c])) * 255;
                worst = std::max(worst, std::abs(was - is));
            }
        CHECK(worst < 9); // Of 255: nobody sees that.
    }
}

TEST_CASE("a better quality is nearer, and larger") {
    const photo::Raster raster = waves(200, 200, 3);
    CHECK(photo::encode_jpeg(raster, 40).size() < photo::encode_jpeg(raster, 95).size());
    CHECK_THROWS_AS(photo::encode_jpeg(raster, 0), std::logic_error);
    CHECK_THROWS_AS(photo::encode_jpeg(photo::Raster{}, 80), std::logic_error);
}
