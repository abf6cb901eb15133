#include <catch.hpp>

#include "colour/difference.h"
#include "render/render.h"
#include "render/scale.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

/// The inside of a cell of a preview, seams and what they shade left out.
photo::LinearImage inside(const photo::Raster& preview, const layout::Layout& top, int side, int column,
                          int row) {
    const Scale scale = scale_of(top.plan, side);
    const int wall = (preview.width - scale.width) / 2, cell = static_cast<int>(scale.unit);
    const int edge = static_cast<int>(0.4 * scale.ppi) + 2;
    return made_up::light_of(preview, wall + column * cell + edge, wall + row * cell + edge, cell - 2 * edge,
                             cell - 2 * edge);
}

} // namespace

TEST_CASE("patches keep their fabric's colour") {
    const std::vector<colour::LinearRgb> grounds{
        {0.8, 0.75, 0.6}, {0.05, 0.1, 0.3}, {0.4, 0.02, 0.05}, {0.3, 0.35, 0.1}};
    std::vector<palette::Fabric> fabrics;
    std::vector<Cloth> cloths;
    for (std::size_t f = 0; f < grounds.size(); ++f) {
        const colour::LinearRgb ink{1 - grounds[f].r, 0.5, 0.9 - grounds[f].b};
        if (f == 3)
            cloths.emplace_back(); // A solid without a photo.
        else
            cloths.push_back(made_up::corners(f == 0 ? 14 : 5, f == 0 ? 12 : 4, grounds[f], ink));
        fabrics.push_back(
            made_up::fabric("fabric" + std::to_string(f), f == 3 ? grounds[f] : mean(cloths.back().picture)));
    }
    const layout::Layout top = made_up::top(5, 5, "plain-square", fabrics);
    const int side = 600;
    const photo::Raster preview = draw_preview(top, cloths, {.longest_side = side});
    for (std::size_t f = 0; f < fabrics.size(); ++f) {
        colour::LinearRgb sum;
        int count = 0;
        for (int cell = 0; cell < 25; ++cell) {
            if (palette::index(top.assignment.patches[static_cast<std::size_t>(cell)]) != f) continue;
            const colour::LinearRgb one = mean(inside(preview, top, side, cell % 5, cell / 5));
            sum = {sum.r + one.r, sum.g + one.g, sum.b + one.b};
            ++count;
        }
        const colour::LinearRgb found{sum.r / count, sum.g / count, sum.b / count};
        CHECK(colour::ciede2000(colour::lab(found), fabrics[f].colour->lab) < 1.0);
    }
}

TEST_CASE("no two patches of a fabric are the same cut") {
    for (const double wide : {18.0, 5.0}) { // Larger and smaller than the patch.
        const Cloth cloth = made_up::corners(wide, wide * 0.75, {0.7, 0.7, 0.6}, {0.1, 0.02, 0.02});
        const layout::Layout top =
            made_up::top(5, 4, "plain-square", {made_up::fabric("print", mean(cloth.picture))});
        const photo::Raster preview = draw_preview(top, {cloth}, {.longest_side = 500});
        std::vector<photo::LinearImage> crops;
        for (int cell = 0; cell < 20; ++cell) crops.push_back(inside(preview, top, 500, cell % 5, cell / 5));
        for (std::size_t i = 0; i < crops.size(); ++i)
            for (std::size_t k = 0; k < i; ++k) CHECK(made_up::apart(crops[i], crops[k]) > 0.005);
    }
}

TEST_CASE("prints turn with their unit and are mirrored nowhere") {
    const Cloth cloth = made_up::corners(16, 12, {0.8, 0.8, 0.8}, {0.02, 0.02, 0.02}, 1200);
    const layout::Layout top =
        made_up::top(4, 1, "plain-square", {made_up::fabric("print", mean(cloth.picture))}, 6, true);
    const int side = 400;
    const photo::Raster preview = draw_preview(top, {cloth}, {.longest_side = side});
    const photo::LinearImage photo = scaled_cloth(cloth, scale_of(top.plan, side).ppi, 4000);
    for (int turn = 0; turn < 4; ++turn) {
        const photo::LinearImage crop = inside(preview, top, side, turn, 0);
        const photo::LinearImage upright = made_up::rotated(crop, (4 - turn) % 4);
        const double right = made_up::nearest(upright, photo);
        CHECK(right < 0.003); // The same pixels but for light and rounding.
        CHECK(made_up::nearest(made_up::mirrored(upright), photo) > 10 * right);
        if (turn != 0) CHECK(made_up::nearest(crop, photo) > 10 * right);
    }
}

TEST_CASE("cloth is shown at true scale") {
    const Cloth cloth = made_up::gingham(5, 3.75, 0.5);
    const layout::Layout top =
        made_up::top(1, 1, "plain-square", {made_up::fabric("gingham", mean(cloth.picture))}, 6);
    const photo::Raster preview = draw_preview(top, {cloth}, {.longest_side = 360});
    const photo::LinearImage patch = inside(preview, top, 360, 0, 0);
    // 360 pixels to 6 in: 30 to a repeat of 1/2 in. The lag at which the cloth is most like itself, eight
    // repeats on.
    const auto unlike = [&](int lag) {
        double sum = 0;
        for (int y = 0; y < patch.height; ++y)
            for (int x = 0; x + lag < patch.width; ++x) {
                const double step = static_cast<double>(pixel(patch, x, y)[1] - pixel(patch, x + lag, y)[1]);
                sum += step * step;
            }
        return sum / (patch.width - lag);
    };
    int best = 225;
    for (int lag = 226; lag <= 255; ++lag)
        if (unlike(lag) < unlike(best)) best = lag;
    CHECK(std::abs(best - 240) <= 1);
    CHECK(pixels_per_inch(top, {.longest_side = 360}) == Approx(60));
}

TEST_CASE("pictures do not depend on the number of threads") {
    const std::vector<Cloth> cloths{
        made_up::gingham(3, 2, 0.4), made_up::corners(4, 3, {0.6, 0.6, 0.5}, {0.1, 0.3, 0.1}), {}};
    std::vector<palette::Fabric> fabrics{made_up::fabric("a", mean(cloths[0].picture)),
                                         made_up::fabric("b", mean(cloths[1].picture)),
                                         made_up::fabric("c", {0.1, 0.2, 0.4})};
    const layout::Layout top = made_up::top(5, 4, "half-square-triangle", fabrics, 4, true);
    const Options one{.longest_side = 300, .threads = 1};
    for (const int threads : {2, 8}) {
        const Options several{.longest_side = 300, .threads = threads};
        CHECK(draw_preview(top, cloths, one).pixels == draw_preview(top, cloths, several).pixels);
        CHECK(draw_squint(top, cloths, one).pixels == draw_squint(top, cloths, several).pixels);
        CHECK(draw_candidates({top, top}, cloths, one).pixels ==
              draw_candidates({top, top}, cloths, several).pixels);
    }
}

TEST_CASE("tiny, long and odd tops are drawn") {
    const std::vector<Cloth> cloths{made_up::gingham(3, 2, 0.4), {}};
    const std::vector<palette::Fabric> fabrics{made_up::fabric("a", mean(cloths[0].picture)),
                                               made_up::fabric("b", {0.1, 0.2, 0.4})};
    for (const char* recipe : {"plain-square", "half-square-triangle"})
        for (const auto& [columns, rows, side] :
             {std::tuple{1, 1, 64}, {1, 40, 200}, {40, 1, 64}, {3, 2, 97}})
            for (const double finished : {0.5, 6.0, 40.0}) {
                const layout::Layout top = made_up::top(columns, rows, recipe, fabrics, finished);
                const photo::Raster preview = draw_preview(top, cloths, {.longest_side = side});
                const Scale scale = scale_of(top.plan, side);
                CHECK(preview.width > scale.width);
                CHECK(preview.height > scale.height);
                CHECK(preview.pixels.size() ==
                      static_cast<std::size_t>(preview.width) * static_cast<std::size_t>(preview.height) * 3);
                CHECK(draw_squint(top, cloths, {.longest_side = side}).height ==
                      scale_of(top.plan, std::max(64, side / 2)).height);
            }
}

TEST_CASE("a seam is darker than the cloth beside it") {
    const layout::Layout top =
        made_up::top(2, 2, "plain-square", {made_up::fabric("plain", {0.5, 0.5, 0.5})});
    const photo::Raster preview = draw_preview(top, {{}}, {.longest_side = 400});
    const int wall = (preview.width - 400) / 2;
    const colour::LinearRgb seam = mean(made_up::light_of(preview, wall + 199, wall + 40, 2, 120));
    const colour::LinearRgb cloth = mean(made_up::light_of(preview, wall + 90, wall + 40, 20, 120));
    CHECK(seam.g < 0.9 * cloth.g);
    CHECK(seam.g > 0.5 * cloth.g); // Quiet.
}
