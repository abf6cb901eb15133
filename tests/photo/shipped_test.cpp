/// Real photographs that Debian ships: the package libjxl-testdata (CC0 pictures of the raw.pixls.us and
/// WeSaturate collections). Without it nothing is checked, and a word says so.

#include <algorithm>
#include <catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "colour/difference.h"
#include "photo/photo.h"

using namespace motley;

namespace {

const std::filesystem::path folder = "/usr/share/libjxl-testdata/external";

photo::LinearImage picture_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::vector<char> bytes{std::istreambuf_iterator<char>(in), {}};
    return photo::read(std::as_bytes(std::span(bytes)), file.string(), 1024).picture;
}

/// Of the mean light, colours outside sRGB clipped as the narrow version has them.
double difference_of_means(const photo::LinearImage& one, const photo::LinearImage& other) {
    REQUIRE(one.pixels.size() == other.pixels.size());
    const auto mean = [](const photo::LinearImage& from) {
        double sum[3] = {0, 0, 0};
        for (std::size_t i = 0; i < from.pixels.size(); ++i)
            sum[i % 3] += std::clamp(static_cast<double>(from.pixels[i]), 0.0, 1.0);
        const double pixels = static_cast<double>(from.pixels.size()) / 3;
        return colour::lab(colour::LinearRgb{sum[0] / pixels, sum[1] / pixels, sum[2] / pixels});
    };
    return colour::ciede2000(mean(one), mean(other));
}

} // namespace

TEST_CASE("the 16-bit wide-gamut version of a photograph looks like its 8-bit one") {
    if (!std::filesystem::exists(folder)) {
        WARN("not checked: the Debian package libjxl-testdata is not installed");
        return;
    }
    const std::filesystem::path small = folder / "wesaturate" / "64px";
    std::vector<double> off;
    for (const auto& [wide, plain] : std::vector<std::pair<const char*, const char*>>{
             {"a2d1un_nkitzmiller_2020_g1.png", "a2d1un_nkitzmiller_srgb8.png"},
             {"cvo9xd_keong_macan_2020_g1.png", "cvo9xd_keong_macan_srgb8.png"},
             {"l1qnb5_nkitzmiller_2020_g1.png", "l1qnb5_nkitzmiller_srgb8.png"},
             {"phu1or_alfann24_2020_g1.png", "phu1or_alfann24_srgb8.png"},
             {"q3a0b3_d17ws_709_g1.png", "q3a0b3_d17ws_srgb8.png"},
             {"ra0ed45_alfann24_709_g1.png", "ra0ed45_alfann24_srgb8.png"},
             {"t0gho7_orlaustral_709_g1.png", "t0gho7_orlaustral_srgb8.png"},
             {"tmshre_riaphotographs_709_g1.png", "tmshre_riaphotographs_srgb8.png"},
             {"u76c0g_bliznaca_709_g1.png", "u76c0g_bliznaca_srgb8.png"},
             {"vgqcws_vin_709_g1.png", "vgqcws_vin_srgb8.png"}}) {
        off.push_back(difference_of_means(picture_of(small / wide), picture_of(small / plain)));
        INFO(wide << " " << off.back());
        CHECK(off.back() < 0.5);
    }
    std::sort(off.begin(), off.end());
    CHECK(off[off.size() / 2] < 0.10);
}
