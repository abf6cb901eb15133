#include "painter/demo.h"

#include <catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "colour/difference.h"
#include "photo/photo.h"

using namespace motley;
namespace fs = std::filesystem;

namespace {

const fs::path palettes = fs::path(MOTLEY_SOURCE) / "palettes";

std::string text_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// The words after "photo": in a palette's file.
std::set<std::string> listed_photos(const std::string& json) {
    std::set<std::string> files;
    const std::string key = "\"photo\": \"";
    for (auto at = json.find(key); at != std::string::npos; at = json.find(key, at + 1)) {
        const auto start = at + key.size();
        files.insert(json.substr(start, json.find('"', start) - start));
    }
    return files;
}

photo::Reading read(const fs::path& file) {
    const std::string bytes = text_of(file);
    return photo::read(std::as_bytes(std::span(bytes)), file.filename().string(), 64);
}

} // namespace

TEST_CASE("the committed palettes are the painted ones") {
    std::uintmax_t total = 0;
    for (const auto& [name, samples] :
         {std::pair{"orchard", painter::orchard()}, std::pair{"harbour", painter::harbour()}}) {
        const fs::path folder = palettes / name;
        const auto listed = listed_photos(text_of(folder / "palette.json"));
        std::set<std::string> painted, present;
        for (const auto& sample : samples) painted.insert(painter::file_name(sample));
        for (const auto& entry : fs::directory_iterator(folder)) {
            total += entry.file_size();
            if (entry.path().extension() != ".json") present.insert(entry.path().filename().string());
        }
        CHECK(samples.size() >= 24);
        CHECK(painted.size() == samples.size());
        CHECK(listed == painted);
        CHECK(present == painted);
    }
    CHECK(total < 10'000'000);
}

TEST_CASE("each palette has an HEIC and a Display P3 photo, all of 1200 pixels or more") {
    for (const auto& [name, samples] :
         {std::pair{"orchard", painter::orchard()}, std::pair{"harbour", painter::harbour()}}) {
        int heic = 0, wide = 0;
        for (const auto& sample : samples) {
            const std::string bytes = text_of(palettes / name / painter::file_name(sample));
            const auto header = photo::header(std::as_bytes(std::span(bytes)), sample.id);
            CHECK(header.width >= 1200);
            heic += header.format == photo::Format::heif ? 1 : 0;
            wide += header.profile == "Display P3" ? 1 : 0;
        }
        CHECK(heic == 1);
        CHECK(wide == 1);
    }
}

TEST_CASE("a committed photo shows the cloth of its design") {
    for (const auto& [name, samples] :
         {std::pair{"orchard", painter::orchard()}, std::pair{"harbour", painter::harbour()}}) {
        for (const auto& sample : samples) {
            INFO(sample.id);
            const auto cloth = painter::paint(sample.design, 240, 240 / sample.inches).picture;
            colour::LinearRgb mean;
            for (std::size_t k = 0; k < cloth.pixels.size(); k += 3) {
                mean.r += static_cast<double>(cloth.pixels[k]) / (240 * 240);
                mean.g += static_cast<double>(cloth.pixels[k + 1]) / (240 * 240);
                mean.b += static_cast<double>(cloth.pixels[k + 2]) / (240 * 240);
            }
            const auto seen = read(palettes / name / painter::file_name(sample)).mean;
            // A phone's exposure and white balance are off by this much at most (see phone()).
            CHECK(colour::ciede2000(colour::lab(seen), colour::lab(mean)) < 4.0);
        }
    }
}

TEST_CASE("the lights of the harbour run from near white to a light middle") {
    // At least 15 L* between the first and the last of the twelve lights, or no drift would be seen (the
    // demo's own demand).
    const auto samples = painter::harbour();
    double lightest = 0, deepest = 100;
    for (std::size_t k = 0; k < 12; ++k) {
        const double lightness =
            colour::lightness(read(palettes / "harbour" / painter::file_name(samples[k])).mean);
        lightest = std::max(lightest, lightness);
        deepest = std::min(deepest, lightness);
    }
    CHECK(lightest > 92);
    CHECK(lightest - deepest > 15);
}
