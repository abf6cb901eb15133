/// Files that are cut off, damaged or lie about their size.

#include <sys/resource.h>

#include <catch.hpp>
#include <cmath>
#include <random>
#include <string>

#include "fault/fault.h"
#include "photo/make_pictures.h"
#include "photo/photo.h"

using namespace motley;
using pictures::Bytes;
using pictures::Picture;

namespace {

struct Sample {
    std::string name;
    Bytes file;
};

std::vector<Sample> samples() {
    const Picture soft = pictures::ramps(24, 20);
    const Picture rough = pictures::noise(24, 20, 3, 8, 21);
    const Bytes exif = pictures::exif(6);
    std::vector<Sample> out;
    out.push_back({"a.jpg", pictures::jpeg(rough, {.quality = 60, .exif = exif})});
    out.push_back({"grey.jpg", pictures::jpeg(pictures::noise(24, 20, 1, 8, 3), {.quality = 60})});
    out.push_back({"progressive.jpg",
                   pictures::jpeg(rough, {.quality = 50, .full_chroma = false, .progressive = true})});
    out.push_back({"a.png", pictures::png(soft, {.exif = exif, .srgb = true})});
    out.push_back({"interlaced.png", pictures::png(soft, {.interlaced = true})});
    out.push_back({"simple.webp", pictures::webp(soft)});
    out.push_back({"lossy.webp", pictures::webp(rough, {.lossless = false})});
    out.push_back({"marked.webp", pictures::webp(soft, {.lossless = false, .exif = exif})});
    out.push_back({"a.heic", pictures::heif(rough, {.quality = 50})});
    out.push_back({"a.avif", pictures::heif(soft, {.coder = heif_compression_AV1})});
    return out;
}

/// True when it gave a Fault about that file, false when a reading that makes sense. Anything else fails the
/// test.
bool refused(const Bytes& file, const std::string& name) {
    try {
        const photo::Reading reading = photo::read(file, name, 16);
        REQUIRE(reading.picture.pixels.size() == 3U * static_cast<std::size_t>(reading.picture.width) *
                                                     static_cast<std::size_t>(reading.picture.height));
        REQUIRE(std::isfinite(reading.mean.r + reading.mean.g + reading.mean.b));
        REQUIRE(reading.opaque > 0);
        return false;
    } catch (const Fault& fault) {
        REQUIRE(fault.cause() == Cause::input);
        REQUIRE(fault.problems()[0].where == name);
        return true;
    }
}

void put_number(Bytes& file, std::size_t at, std::uint32_t number, int count) {
    for (int i = 0; i < count; ++i) {
        file[at + static_cast<std::size_t>(i)] =
            static_cast<std::byte>(number >> (8 * (count - 1 - i)) & 0xff);
    }
}

std::size_t place_of(const Bytes& file, std::string_view word) {
    const std::string_view text(reinterpret_cast<const char*>(file.data()), file.size());
    const std::size_t at = text.find(word);
    REQUIRE(at != std::string_view::npos);
    return at;
}

long peak_kilobytes() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

} // namespace

TEST_CASE("a file cut off at any byte is refused") {
    for (const Sample& sample : samples()) {
        INFO(sample.name << ", " << sample.file.size() << " bytes");
        CHECK_FALSE(refused(sample.file, sample.name));
        std::vector<std::size_t> passed;
        for (std::size_t size = 0; size < sample.file.size(); ++size) {
            const Bytes cut(sample.file.begin(), sample.file.begin() + static_cast<std::ptrdiff_t>(size));
            if (!refused(cut, sample.name)) passed.push_back(size);
        }
        CHECK(passed.empty());
    }
}

TEST_CASE("a JPEG without its end mark is cut off; what follows the mark does not matter") {
    Bytes file = pictures::jpeg(pictures::ramps(32, 32));
    Bytes longer = file;
    pictures::append(longer, "a second picture, or what a phone left there");
    CHECK(photo::read(longer, "plum.jpg").mean.r == photo::read(file, "plum.jpg").mean.r);
    file.resize(file.size() - 2);
    CHECK_THROWS_WITH(photo::read(file, "plum.jpg"),
                      Catch::Contains("cut off") && Catch::Contains("copy it from the phone"));
    Bytes large = pictures::jpeg(pictures::noise(64, 128, 3, 8, 2));
    large.resize(large.size() / 2);
    CHECK_THROWS_WITH(photo::read(large, "plum.jpg"), Catch::Contains("of 128"));
}

TEST_CASE("flipped bytes give a Fault or a reading, never anything else") {
    std::mt19937 chance(2026);
    for (const Sample& sample : samples()) {
        INFO(sample.name);
        int faults = 0;
        for (int round = 0; round < 250; ++round) {
            Bytes file = sample.file;
            const unsigned flips = 1 + chance() % 4;
            for (unsigned i = 0; i < flips; ++i)
                file[chance() % file.size()] ^= static_cast<std::byte>(1 + chance() % 255);
            faults += refused(file, sample.name) ? 1 : 0;
        }
        CHECK(faults > 0);
    }
}

TEST_CASE("a damaged PNG never passes: every chunk has a checksum") {
    const Bytes file = pictures::png(pictures::ramps(24, 20), {.exif = pictures::exif(6), .srgb = true});
    for (std::size_t at = 0; at < file.size(); ++at) {
        Bytes damaged = file;
        damaged[at] ^= std::byte{0x20};
        // Bit 5 of a chunk's name only says how to treat it, and the checksum of IEND covers nothing but its
        // name.
        CHECK(refused(damaged, "a.png"));
    }
}

TEST_CASE("headers that claim 50000 x 50000 pixels are refused before anything is allocated") {
    const Picture picture = pictures::ramps(24, 20);
    std::vector<Sample> lies;
    // A PNG of that size with one row's worth of data; the size is at byte 16 (PNG, third edition, 11.2.1).
    lies.push_back({"huge.png", pictures::png(picture)});
    put_number(lies.back().file, 16, 50'000, 4);
    put_number(lies.back().file, 20, 50'000, 4);
    // ITU-T T.81, B.2.2: after the SOF0 marker length, precision, height, width.
    lies.push_back({"huge.jpg", pictures::jpeg(picture)});
    put_number(lies.back().file, place_of(lies.back().file, {"\xff\xc0\x00\x11", 4}) + 5, 50'000, 2);
    put_number(lies.back().file, place_of(lies.back().file, {"\xff\xc0\x00\x11", 4}) + 7, 50'000, 2);
    lies.push_back({"huge-progressive.jpg", pictures::jpeg(picture, {.progressive = true})});
    put_number(lies.back().file, place_of(lies.back().file, {"\xff\xc2\x00\x11", 4}) + 5, 50'000, 2);
    put_number(lies.back().file, place_of(lies.back().file, {"\xff\xc2\x00\x11", 4}) + 7, 50'000, 2);
    // ISO/IEC 14496-12 `ispe`: version and flags, width, height.
    lies.push_back({"huge.heic", pictures::heif(picture)});
    const Bytes heic = lies.back().file;
    for (std::size_t at = 0; at + 16 < heic.size(); ++at) {
        if (std::string_view(reinterpret_cast<const char*>(heic.data()) + at, 4) != "ispe") continue;
        put_number(lies.back().file, at + 8, 50'000, 4);
        put_number(lies.back().file, at + 12, 50'000, 4);
    }
    // WebP cannot say 50000; its most is 16383 (VP8 frame header, little endian after the start code).
    lies.push_back({"huge.webp", pictures::webp(picture, {.lossless = false})});
    const std::size_t start = place_of(lies.back().file, {"\x9d\x01\x2a", 3}) + 3;
    for (std::size_t i = 0; i < 4; ++i)
        lies.back().file[start + i] = static_cast<std::byte>(i % 2 == 0 ? 0xff : 0x3f);

    const long before = peak_kilobytes();
    for (const Sample& lie : lies) {
        INFO(lie.name);
        CHECK_THROWS_WITH(photo::header(lie.file, lie.name), Catch::Contains("too large"));
        CHECK_THROWS_WITH(photo::read(lie.file, lie.name), Catch::Contains("too large"));
    }
    CHECK(peak_kilobytes() - before < 64 * 1024);
}

TEST_CASE("the limit is the caller's") {
    const Bytes file = pictures::jpeg(pictures::ramps(40, 30));
    CHECK_THROWS_AS(photo::read(file, "a.jpg", 64, {.pixels = 1199}), Fault);
    CHECK(photo::read(file, "a.jpg", 64, {.pixels = 1200}).picture.width == 40);
}

TEST_CASE("a progressive picture with endless scans is refused") {
    // The last scan of a whole file, repeated: each is valid, together they would take for ever on a large
    // picture.
    Bytes file = pictures::jpeg(pictures::ramps(16, 16), {.progressive = true});
    std::size_t last = 0;
    for (std::size_t at = 0; at + 1 < file.size(); ++at) {
        if (file[at] == std::byte{0xff} && file[at + 1] == std::byte{0xda}) last = at;
    }
    const Bytes scan(file.begin() + static_cast<std::ptrdiff_t>(last), file.end() - 2);
    file.resize(file.size() - 2);
    for (int i = 0; i < 2000; ++i) pictures::append(file, scan);
    pictures::append(file, "\xff\xd9");
    CHECK_THROWS_AS(photo::read(file, "endless.jpg"), Fault);
}
