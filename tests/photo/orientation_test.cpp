#include "photo/orientation.h"

#include <catch.hpp>
#include <cmath>

#include "photo/make_pictures.h"
#include "photo/photo.h"

using namespace motley;
using pictures::Bytes;
using pictures::Picture;

namespace {

/// TIFF 6.0, tag 274, told in its own words: where the stored row 0 and column 0 are seen. 1 top left, 2 top
/// right, 3 bottom right, 4 bottom left, 5 left top, 6 right top, 7 right bottom, 8 left bottom ("row 0 is
/// seen at, column 0 is seen at").
Picture stored_as(const Picture& upright, int orientation) {
    const bool swap = orientation >= 5;
    const bool row_far = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
    const bool column_far = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
    Picture out(swap ? upright.height : upright.width, swap ? upright.width : upright.height,
                upright.channels, upright.bits);
    for (int row = 0; row < out.height; ++row) {
        for (int column = 0; column < out.width; ++column) {
            const int r = row_far ? out.height - 1 - row : row;
            const int c = column_far ? out.width - 1 - column : column;
            for (int n = 0; n < upright.channels; ++n) {
                out.at(column, row, n) = swap ? upright.at(r, c, n) : upright.at(c, r, n);
            }
        }
    }
    return out;
}

void check_same(const photo::Reading& turned, const photo::Reading& upright, float most) {
    CHECK(turned.header.width == upright.header.width);
    CHECK(turned.header.height == upright.header.height);
    REQUIRE(turned.picture.width == upright.picture.width);
    REQUIRE(turned.picture.pixels.size() == upright.picture.pixels.size());
    float worst = 0;
    for (std::size_t i = 0; i < turned.picture.pixels.size(); ++i) {
        worst = std::max(worst, std::abs(turned.picture.pixels[i] - upright.picture.pixels[i]));
    }
    CHECK(worst <= most);
}

} // namespace

TEST_CASE("a picture reads the same in all eight orientations") {
    // 45 x 31 at detail 16: blocks of 3 pixels, the last row of blocks a short one.
    const Picture noise = pictures::noise(45, 31, 3, 8, 77);
    const Picture soft = pictures::ramps(45, 31);
    const photo::Reading upright = photo::read(pictures::png(noise), "upright.png", 16);
    const photo::Reading upright_soft = photo::read(pictures::png(soft), "upright.png", 16);
    CHECK(upright.picture.width == 15);
    CHECK(upright.picture.height == 11);
    for (int mark = 1; mark <= 8; ++mark) {
        INFO("orientation " << mark);
        const Picture stored = stored_as(noise, mark);
        const photo::Reading png =
            photo::read(pictures::png(stored, {.exif = pictures::exif(mark)}), "turned.png", 16);
        check_same(png, upright, 0.0F);
        CHECK(png.header.orientation == mark);
        CHECK(png.mean.r == upright.mean.r);
        check_same(photo::read(pictures::webp(stored, {.exif = pictures::exif(mark)}), "turned.webp", 16),
                   upright, 0.0F);
        const Picture stored_soft = stored_as(soft, mark);
        check_same(photo::read(pictures::jpeg(stored_soft, {.quality = 100, .exif = pictures::exif(mark)}),
                               "turned.jpg", 16),
                   upright_soft, 0.02F);
        if (mark != 1) {
            // A check that ignored the mark would not pass: the ramps differ in every direction.
            const photo::Reading ignored = photo::read(pictures::png(stored_soft), "ignored.png", 16);
            const bool same_shape = ignored.picture.width == upright_soft.picture.width;
            CHECK((!same_shape ||
                   std::abs(ignored.picture.pixels[0] - upright_soft.picture.pixels[0]) > 0.1F ||
                   std::abs(ignored.picture.pixels[1] - upright_soft.picture.pixels[1]) > 0.1F));
        }
    }
}

TEST_CASE("HEIC turns itself, and EXIF is not applied on top") {
    const Picture soft = pictures::ramps(64, 48);
    const photo::Reading upright = photo::read(pictures::png(soft), "upright.png", 16);
    for (int mark = 1; mark <= 8; ++mark) {
        INFO("orientation " << mark);
        const Bytes file =
            pictures::heif(stored_as(soft, mark), {.orientation = static_cast<heif_orientation>(mark)});
        const photo::Reading reading = photo::read(file, "turned.heic", 16);
        check_same(reading, upright, 0.03F);
        CHECK(reading.header.orientation == 1);
    }
}

TEST_CASE("damaged EXIF blocks are read as upright, or for the mark they still have") {
    CHECK(photo::orientation_in(pictures::exif(6)) == 6);
    Bytes prefixed = pictures::bytes_of({"Exif\0\0", 6});
    pictures::append(prefixed, pictures::exif(3));
    CHECK(photo::orientation_in(prefixed) == 3);
    CHECK(photo::orientation_in(pictures::exif(0)) == 1);
    CHECK(photo::orientation_in(pictures::exif(9)) == 1);
    CHECK(photo::orientation_in({}) == 1);
    CHECK(photo::orientation_in(pictures::bytes_of("nonsense, and enough of it to be read")) == 1);

    // A directory that continues with itself, and one whose sub-directory is itself.
    CHECK(photo::orientation_in(pictures::exif(8, 8)) == 8);
    Bytes loop =
        pictures::bytes_of({"II*\0\x08\0\0\0\x02\0"
                            "\x12\x01\x03\0\x01\0\0\0\x06\0\0\0"
                            "\x69\x87\x04\0\x01\0\0\0\x08\0\0\0"
                            "\x08\0\0\0",
                            38});
    CHECK(photo::orientation_in(loop) == 6);
    const Picture picture = pictures::ramps(20, 10);
    CHECK(photo::read(pictures::jpeg(picture, {.exif = loop}), "loop.jpg").header.height == 20);

    const Bytes whole = pictures::exif(6);
    for (std::size_t size = 0; size < whole.size(); ++size) {
        const int mark = photo::orientation_in(std::span(whole).first(size));
        CHECK((mark == 1 || mark == 6));
    }
}
