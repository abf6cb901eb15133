// Previews of tops of every kind: is the right cloth in the right place, and is there cloth everywhere?
#include <catch.hpp>
#include <map>

#include "colour/difference.h"
#include "render/draft.h"
#include "render/patchwork.h"
#include "render/render.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

/// Solids, far apart in colour.
std::vector<palette::Fabric> five() {
    return {made_up::fabric("a", {0.7, 0.65, 0.6}), made_up::fabric("b", {0.02, 0.05, 0.2}),
            made_up::fabric("c", {0.5, 0.03, 0.1}), made_up::fabric("d", {0.2, 0.4, 0.1}),
            made_up::fabric("e", {0.3, 0.3, 0.6})};
}

double depth(const Draft& draft, std::size_t shape, double x, double y) {
    double least = 1e9;
    for (const Edge& edge : draft.edges(shape)) least = std::min(least, edge.depth(x, y));
    return least;
}

constexpr double chart_side = 16, least = 0.06, most = 0.94; ///< Inches; light.

/// Cloth that says where on it one is: red tells the place across, green along, blue the light that falls on
/// it.
Cloth chart() {
    Cloth cloth{blank(800, 800), made_up::inches(chart_side)};
    for (int y = 0; y < 800; ++y)
        for (int x = 0; x < 800; ++x) {
            float* at = pixel(cloth.picture, x, y);
            at[0] = static_cast<float>(least + (most - least) * (x + 0.5) / 800);
            at[1] = static_cast<float>(least + (most - least) * (y + 0.5) / 800);
            at[2] = 0.5f;
        }
    return cloth;
}

/// The whole top laid flat.
photo::LinearImage laid(const Draft& draft, const Cloth& cloth) {
    const int width = draft.scale().width, height = draft.scale().height;
    const Bolts bolts = unroll({&draft, 1}, {cloth}, Patchwork::margin(0), 1);
    Strip strip{0, height, {}, {}, {}, {}};
    strip.right.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    strip.below = strip.right;
    Patchwork(draft, bolts, 0, 0).lay(strip);
    return {width, height, std::move(strip.colour)};
}

/// The place on the chart, inches, that a pixel shows.
unit::Point charted(const photo::LinearImage& top, int x, int y) {
    const auto place = [&](float light) {
        return (static_cast<double>(light) - least) / (most - least) * chart_side;
    };
    return {place(pixel(top, x, y)[0]), place(pixel(top, x, y)[1])};
}

} // namespace

TEST_CASE("every shape of every kind of top has its fabric's colour, and no pixel is left without cloth") {
    for (const layout::Layout& top : made_up::all_kinds(five())) {
        const int side = 600;
        const photo::Raster preview = draw_preview(top, std::vector<Cloth>(5), {.longest_side = side});
        const Draft draft(top, scale_of(top.plan, side));
        const int wall = (preview.width - draft.scale().width) / 2;
        const photo::LinearImage light =
            made_up::light_of(preview, wall, wall, draft.scale().width, draft.scale().height);
        std::map<std::size_t, std::pair<colour::LinearRgb, int>> sums;
        double darkest = 1, brightest = 0;
        for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
            const unit::Box& box = draft.box(s);
            auto& [sum, count] = sums[palette::index(draft.shapes()[s].fabric)];
            for (int y = static_cast<int>(box.top); y < std::min<double>(box.bottom, light.height); ++y)
                for (int x = static_cast<int>(box.left); x < std::min<double>(box.right, light.width); ++x) {
                    const double deep = depth(draft, s, x + 0.5, y + 0.5);
                    const float* at = pixel(light, x, y);
                    if (deep > 0) { // Green tells all five from bare wall and black.
                        darkest = std::min(darkest, static_cast<double>(at[0] + at[1] + at[2]));
                        brightest = std::max(brightest, static_cast<double>(at[0] + at[1] + at[2]));
                    }
                    if (deep < 0.4 * draft.scale().ppi) continue;
                    sum = {sum.r + static_cast<double>(at[0]), sum.g + static_cast<double>(at[1]),
                           sum.b + static_cast<double>(at[2])};
                    ++count;
                }
        }
        for (const auto& [f, entry] : sums) {
            const auto& [sum, count] = entry;
            REQUIRE(count > 50);
            const colour::LinearRgb found{sum.r / count, sum.g / count, sum.b / count};
            INFO(top.plan.recipe << " fabric " << f);
            CHECK(colour::ciede2000(colour::lab(found), top.fabrics[f].colour->lab) < 1);
        }
        CHECK(darkest > 0.4 * (0.02 + 0.05 + 0.2));   // The darkest fabric in its deepest seam.
        CHECK(brightest < 1.35 * (0.7 + 0.65 + 0.6)); // The lightest, lit from aside.
    }
}

TEST_CASE("seams between equals are neither bright nor dark gaps") {
    // One solid everywhere: what is left is the shade of seams, the same at whatever angle.
    const std::vector<palette::Fabric> one{made_up::fabric("a", {0.5, 0.5, 0.5})};
    layout::Setting on_point;
    on_point.columns = 3;
    on_point.rows = 3;
    on_point.arrangement = layout::Arrangement::on_point;
    layout::Setting straight = on_point;
    straight.arrangement = layout::Arrangement::straight;
    double lightest[2] = {}, darkest[2] = {};
    for (const auto& [k, setting] : {std::pair{0, straight}, {1, on_point}}) {
        const layout::Layout top = made_up::top(setting, "quarter-square-triangle", one);
        const photo::Raster preview = draw_preview(top, {{}}, {.longest_side = 700});
        const Draft draft(top, scale_of(top.plan, 700));
        const int wall = (preview.width - draft.scale().width) / 2;
        const photo::LinearImage light = made_up::light_of(
            preview, wall + 5, wall + 5, draft.scale().width - 10, draft.scale().height - 10);
        const auto [low, high] = std::minmax_element(light.pixels.begin(), light.pixels.end());
        darkest[k] = static_cast<double>(*low);
        lightest[k] = static_cast<double>(*high);
    }
    CHECK(darkest[0] == Approx(darkest[1]).margin(0.05));
    CHECK(lightest[0] == Approx(lightest[1]).margin(0.05));
    CHECK(darkest[0] > 0.2);
    CHECK(lightest[0] < 0.62);
}

TEST_CASE("every patch shows the cloth where it lies on its piece, turned as sewn, at true scale") {
    // Fabrics are charts of themselves. Straight and on point, all turns, pieces cut up and sewn again.
    layout::Setting straight, on_point;
    straight.columns = straight.rows = on_point.columns = on_point.rows = 2;
    on_point.arrangement = layout::Arrangement::on_point;
    const Cloth cloth = chart();
    const std::vector<palette::Fabric> one{made_up::fabric("chart", mean(cloth.picture))};
    for (const layout::Setting& setting : {straight, on_point})
        for (const char* recipe :
             {"plain-square", "half-square-triangle", "strip-set-triangle", "nine-patch"}) {
            const layout::Layout top = made_up::top(setting, recipe, one, 6, true);
            const Draft draft(top, scale_of(top.plan, 800));
            const photo::LinearImage shown = laid(draft, cloth);
            std::map<int, unit::Point> pieces; // Where each lies on the chart.
            for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
                const layout::Shape& shape = draft.shapes()[s];
                const unit::Point middle = unit::centre(shape.outline);
                std::vector<unit::Point> places{middle};
                for (const unit::Point corner : shape.outline)
                    places.push_back(middle + (corner - middle) * 0.8);
                for (const unit::Point place : places) {
                    const int x = static_cast<int>(place.x * draft.scale().ppi),
                              y = static_cast<int>(place.y * draft.scale().ppi);
                    if (depth(draft, s, x + 0.5, y + 0.5) < 1) continue;
                    const unit::Point seen = unit::Point{x + 0.5, y + 0.5} * (1 / draft.scale().ppi);
                    const unit::Point piece = charted(shown, x, y) - shape.to_cloth(seen);
                    const auto [first, fresh] = pieces.try_emplace(shape.piece, piece);
                    INFO(recipe << ", shape " << s);
                    CHECK(unit::length(piece - first->second) < 0.035); // A pixel and a half.
                }
            }
            std::vector<unit::Point> found;
            for (const auto& [number, piece] : pieces) found.push_back(piece);
            int together = 0;
            for (std::size_t i = 0; i < found.size(); ++i)
                for (std::size_t k = 0; k < i; ++k) together += unit::length(found[i] - found[k]) < 0.2;
            CHECK(together * 20 <= static_cast<int>(found.size())); // Each from a place of its own.
        }
}

TEST_CASE("stripes lie as the unit does: across, along, aslant both ways") {
    const Cloth cloth =
        made_up::photo_of(20, 15, 1000, {0.9, 0.9, 0.9}, {0.05, 0.05, 0.05},
                          [](double x, double) { return x / 0.5 - std::floor(x / 0.5) < 0.5 ? 0.0 : 1.0; });
    layout::Setting straight, on_point;
    straight.columns = straight.rows = on_point.columns = on_point.rows = 2;
    on_point.arrangement = layout::Arrangement::on_point;
    for (const layout::Setting& setting : {straight, on_point}) {
        const bool tilted = setting.arrangement == layout::Arrangement::on_point;
        const layout::Layout top =
            made_up::top(setting, "plain-square", {made_up::fabric("stripe", mean(cloth.picture))}, 6, true);
        const photo::Raster preview = draw_preview(top, {cloth}, {.longest_side = 500});
        const Draft draft(top, scale_of(top.plan, 500));
        const int wall = (preview.width - draft.scale().width) / 2;
        for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
            if (draft.shapes()[s].part != layout::Part::unit) continue;
            const unit::Box& box = draft.box(s);
            const int half = static_cast<int>(draft.scale().unit * 0.25);
            const photo::LinearImage crop =
                made_up::light_of(preview, wall + static_cast<int>(box.middle().x) - half,
                                  wall + static_cast<int>(box.middle().y) - half, 2 * half, 2 * half);
            double xx = 0, yy = 0, xy = 0; // Of the slopes.
            for (int y = 1; y + 1 < crop.height; ++y)
                for (int x = 1; x + 1 < crop.width; ++x) {
                    const double dx =
                        static_cast<double>(pixel(crop, x + 1, y)[1] - pixel(crop, x - 1, y)[1]);
                    const double dy =
                        static_cast<double>(pixel(crop, x, y + 1)[1] - pixel(crop, x, y - 1)[1]);
                    xx += dx * dx;
                    yy += dy * dy;
                    xy += dx * dy;
                }
            const int turn = top.assignment.turns[static_cast<std::size_t>(draft.shapes()[s].cell)];
            if (!tilted) {
                CHECK((turn % 2 == 0 ? xx : yy) > 50 * (turn % 2 == 0 ? yy : xx));
            } else { // A unit on point is turned 45 degrees clockwise: it slopes down to the right.
                CHECK((turn % 2 == 0 ? xy : -xy) > 0.9 * (xx + yy) / 2);
            }
        }
    }
}

TEST_CASE("previews of all kinds do not depend on the number of threads") {
    std::vector<palette::Fabric> fabrics = five();
    std::vector<Cloth> cloths(5);
    cloths[0] = made_up::gingham(3, 2, 0.4);
    cloths[2] = made_up::corners(4, 3, {0.6, 0.6, 0.5}, {0.1, 0.3, 0.1});
    for (const layout::Layout& top : made_up::all_kinds(fabrics)) {
        const std::vector<std::uint8_t> alone =
            draw_preview(top, cloths, {.longest_side = 200, .threads = 1}).pixels;
        for (const int threads : {2, 8})
            CHECK(draw_preview(top, cloths, {.longest_side = 200, .threads = threads}).pixels == alone);
        CHECK(draw_squint(top, cloths, {.longest_side = 200, .threads = 1}).pixels ==
              draw_squint(top, cloths, {.longest_side = 200, .threads = 3}).pixels);
    }
}
