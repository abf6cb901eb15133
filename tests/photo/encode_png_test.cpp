#include <catch.hpp>
#include <cmath>
#include <string_view>

#include "colour/space.h"
#include "photo/make_pictures.h"
#include "photo/photo.h"

using namespace motley;

namespace {

photo::Raster raster_of(const pictures::Picture& picture) {
    return {picture.width, picture.height, picture.channels, picture.narrow()};
}

bool contains(const pictures::Bytes& file, std::string_view chunk) {
    return std::string_view(reinterpret_cast<const char*>(file.data()), file.size()).find(chunk) !=
           std::string_view::npos;
}

} // namespace

TEST_CASE("a written PNG reads back exactly") {
    for (const int channels : {1, 3}) {
        for (const auto& [width, height] : {std::pair{37, 21}, std::pair{1, 1}, std::pair{300, 2}}) {
            const photo::Raster raster = raster_of(pictures::noise(width, height, channels, 8, 6));
            const pictures::Bytes file = photo::encode_png(raster);
            // libpng's simplified reader, which shares no code of ours.
            png_image image{};
            image.version = PNG_IMAGE_VERSION;
            REQUIRE(png_image_begin_read_from_memory(&image, file.data(), file.size()) != 0);
            CHECK(image.width == static_cast<png_uint_32>(width));
            image.format = channels == 1 ? PNG_FORMAT_GRAY : PNG_FORMAT_RGB;
            std::vector<std::uint8_t> pixels(PNG_IMAGE_SIZE(image));
            REQUIRE(png_image_finish_read(&image, nullptr, pixels.data(), 0, nullptr) != 0);
            CHECK(pixels == raster.pixels);
            CHECK(photo::header(file, "a.png").profile == "sRGB");
            CHECK_FALSE(contains(file, "tIME"));
        }
    }
}

TEST_CASE("the same raster gives the same bytes, and the size in inches is recorded") {
    const photo::Raster raster = raster_of(pictures::ramps(64, 64));
    CHECK(photo::encode_png(raster) == photo::encode_png(raster));
    CHECK_FALSE(contains(photo::encode_png(raster), "pHYs"));
    // 300 pixels per inch are 11811 per metre (1 in = 0.0254 m): 0x00002e23, twice, unit 1.
    CHECK(contains(photo::encode_png(raster, 300), {"pHYs\0\0\x2e\x23\0\0\x2e\x23\1", 13}));
}
