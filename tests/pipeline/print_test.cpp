#include <catch.hpp>
#include <cmath>

#include "document/document.h"
#include "document/temporary_folder.h"
#include "photo/photo.h"
#include "pipeline/pipeline.h"
#include "render/render.h"

using namespace motley;

namespace {

/// `inches` of gingham, light and dark by halves of `repeat` inches; the photo is `side` pixels wide and
/// high.
std::vector<std::byte> gingham_photo(int side, double inches, double repeat) {
    photo::Raster raster{side, side, 3, {}};
    const auto dark = [&](int pixel) {
        const double place = (pixel + 0.5) / side * inches / repeat;
        return place - std::floor(place) < 0.5 ? 1 : 0;
    };
    constexpr std::uint8_t shades[3][3] = {{240, 232, 214}, {196, 140, 136}, {150, 30, 48}};
    for (int y = 0; y < side; ++y)
        for (int x = 0; x < side; ++x)
            for (const std::uint8_t channel : shades[dark(x) + dark(y)]) raster.pixels.push_back(channel);
    return photo::encode_png(raster);
}

/// Where the mean light over each column of a square window falls below half way, to a fraction of a pixel.
std::vector<double> falling_edges(const photo::LinearImage& image, int left, int top, int side) {
    std::vector<double> light(static_cast<std::size_t>(side));
    for (int x = 0; x < side; ++x)
        for (int y = 0; y < side; ++y)
            light[static_cast<std::size_t>(x)] += static_cast<double>(
                image.pixels[static_cast<std::size_t>(3 * ((top + y) * image.width + left + x) + 1)]);
    const auto [low, high] = std::minmax_element(light.begin(), light.end());
    const double half = (*low + *high) / 2;
    std::vector<double> edges;
    for (std::size_t x = 0; x + 1 < light.size(); ++x)
        if (light[x] >= half && light[x + 1] < half)
            edges.push_back(static_cast<double>(x) + (light[x] - half) / (light[x] - light[x + 1]));
    return edges;
}

} // namespace

TEST_CASE(
    "from photo to preview a gingham's repeat is true to one hundredth, in patches larger than the photo") {
    const TemporaryFolder folder;
    constexpr double repeat = 0.55; // Of which no whole number fits the photo's 4 in.
    document::write_files(folder.path() / "cloths", {{"checks.png", gingham_photo(900, 4, repeat)}});
    folder.put("cloths/palette.json",
               R"({"fabrics": [{"id": "checks", "photo": "checks.png", "photo_width": "4 in"}]})");
    folder.put("plan.json", R"({"palette": "cloths", "setting": {"columns": 2, "rows": 2},
        "unit": {"recipe": "plain-square", "finished": "12"}, "rules": {"touching": "free", "apart": 1}})");
    pipeline::PlaceRequest request;
    request.plan = folder.path() / "plan.json";
    const pipeline::Made made = pipeline::make(request, folder.path() / "out");
    const layout::Layout& top = made.placed.layouts.front();

    const std::optional<palette::Print> print = top.fabrics.front().colour->print;
    REQUIRE(print);
    REQUIRE(print->repeat.size() == 2);
    CHECK(print->repeat[0].across == Approx(repeat).epsilon(0.01));
    CHECK(print->repeat[1].down == Approx(repeat).epsilon(0.01));
    CHECK(print->stripes == palette::Print::Stripes::both);

    const std::string file = (folder.path() / "out/preview.png").string();
    const photo::LinearImage picture = photo::read(document::read_file(file), file, 8192).picture;
    const double ppi = render::pixels_per_inch(top);
    for (const int right : {0, 1})
        for (const int below : {0, 1}) { // The inner 10 in of each patch.
            const double side = 10 * ppi;
            const auto left = static_cast<int>(picture.width / 2.0 + (right == 1 ? ppi : -ppi - side));
            const auto upper = static_cast<int>(picture.height / 2.0 + (below == 1 ? ppi : -ppi - side));
            const std::vector<double> edges = falling_edges(picture, left, upper, static_cast<int>(side));
            REQUIRE(edges.size() >= 16);
            INFO(ppi << " pixels to the inch, " << edges.size() << " edges");
            CHECK((edges.back() - edges.front()) / static_cast<double>(edges.size() - 1) ==
                  Approx(repeat * ppi).epsilon(0.01));
        }
}

TEST_CASE("a palette's print follows its photo and the photo's width") {
    const TemporaryFolder folder;
    document::write_files(folder.path(), {{"checks.png", gingham_photo(600, 5, 0.5)}});
    pipeline::SwatchRequest request;
    request.palette = folder.path();
    const auto measured = [&] {
        return pipeline::swatch(request).palette.fabrics.front().colour->print.value();
    };
    CHECK(measured().repeat.at(0).across == Approx(0.5).epsilon(0.01));
    CHECK(palette::read_palette(folder.path()).fabrics.front().colour->print == measured());
    document::write_files(folder.path(), {{"checks.png", gingham_photo(600, 5, 1)}});
    CHECK(measured().repeat.at(0).across == Approx(1).epsilon(0.01));
    // The first width in the file is the fabric's own, which people correct.
    std::string text = document::read_text(folder.path() / "palette.json");
    const std::string said = R"("photo_width": "5 in")";
    folder.put("palette.json", text.replace(text.find(said), said.size(), R"("photo_width": "10 in")"));
    CHECK(measured().repeat.at(0).across == Approx(2).epsilon(0.01));
}
