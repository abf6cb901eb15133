#include <catch.hpp>
#include <map>

#include "render/draft.h"
#include "render/render.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

std::vector<palette::Fabric> five() {
    return {made_up::fabric("a", {0.9, 0.85, 0.8}), made_up::fabric("b", {0.02, 0.05, 0.2}),
            made_up::fabric("c", {0.5, 0.03, 0.1}), made_up::fabric("d", {0.2, 0.4, 0.1}),
            made_up::fabric("e", {0.3, 0.3, 0.6})};
}

std::map<std::array<std::uint8_t, 3>, int> counts(const photo::Raster& flat) {
    std::map<std::array<std::uint8_t, 3>, int> found;
    for (std::size_t i = 0; i < flat.pixels.size(); i += 3)
        ++found[{flat.pixels[i], flat.pixels[i + 1], flat.pixels[i + 2]}];
    return found;
}

/// Whether all fabrics have seams that run aslant.
bool slanted(const layout::Layout& top) {
    return top.plan.setting.arrangement == layout::Arrangement::on_point ||
           top.plan.recipe == "half-square-triangle";
}

} // namespace

TEST_CASE("squares of the flat map hold exactly their pixels, in exactly their colour") {
    for (const int side : {64, 100, 333, 1001}) {
        const layout::Layout top = made_up::top(7, 5, "plain-square", five());
        const photo::Raster flat = draw_flat(top, {.longest_side = side});
        const int cell = flat.width / 7;
        REQUIRE(cell == std::max(4, side / 7));
        REQUIRE(flat.width == 7 * cell);
        REQUIRE(flat.height == 5 * cell);
        const auto found = counts(flat);
        REQUIRE(found.size() == 5); // No shade, no outline, no blend.
        for (const palette::Fabric& fabric : top.fabrics) {
            const colour::Srgb tone = fabric.colour->srgb;
            CHECK(found.at({tone.r, tone.g, tone.b}) == 7 * cell * cell); // 35 squares, five fabrics.
        }
    }
}

TEST_CASE("half-square triangles of the flat map share out their area, at every turn and size") {
    for (int turn = 0; turn < 4; ++turn)
        for (int side = 64; side < 84; ++side) {
            layout::Layout top = made_up::top(3, 2, "half-square-triangle", five());
            top.assignment.turns.assign(6, static_cast<std::uint8_t>(turn));
            const photo::Raster flat = draw_flat(top, {.longest_side = side});
            const auto found = counts(flat);
            REQUIRE(found.size() == 5);
            std::vector<int> patches(5);
            for (const palette::FabricId f : top.assignment.patches) ++patches[palette::index(f)];
            const double unit = static_cast<double>(flat.width) * flat.height / 6;
            for (std::size_t f = 0; f < 5; ++f) {
                const colour::Srgb tone = top.fabrics[f].colour->srgb;
                CHECK(found.at({tone.r, tone.g, tone.b}) ==
                      Approx(patches[f] * unit / 2).epsilon(0.003)); // A triangle is half its square.
            }
        }
}

TEST_CASE("print lies above right at turn 0 and goes round clockwise") {
    const std::vector<palette::Fabric> two{made_up::fabric("print", {1, 0, 0}),
                                           made_up::fabric("ground", {0, 0, 1})};
    const layout::Layout top = made_up::top(4, 1, "half-square-triangle", two, 6, true);
    const photo::Raster flat = draw_flat(top, {.longest_side = 400});
    const auto red = [&](double x, double y) {
        return flat.pixels[(static_cast<std::size_t>(y * 100) * 400 + static_cast<std::size_t>(x * 100)) *
                           3] == 255;
    };
    // Quarter turns clockwise: above right, below right, below left, above left.
    const double corners[4][2] = {{0.9, 0.1}, {0.9, 0.9}, {0.1, 0.9}, {0.1, 0.1}};
    for (int unit = 0; unit < 4; ++unit)
        for (int corner = 0; corner < 4; ++corner) {
            const bool opposite = corner == (unit + 2) % 4;
            if (corner == unit) CHECK(red(unit + corners[corner][0], corners[corner][1]));
            if (opposite) CHECK_FALSE(red(unit + corners[corner][0], corners[corner][1]));
        }
}

TEST_CASE("values show the L* of every fabric to within a step of grey") {
    const layout::Layout top = made_up::top(5, 1, "plain-square", five());
    const photo::Raster values = draw_values(top, {.longest_side = 100});
    REQUIRE(values.channels == 1);
    REQUIRE(values.pixels.size() == 100u * 20u);
    for (std::size_t f = 0; f < 5; ++f)
        for (const std::size_t y : {0u, 10u, 19u}) {
            const std::uint8_t grey = values.pixels[y * 100 + f * 20 + 10];
            const double light = colour::decode(grey / 255.0);
            // A step of grey is at most 0.51 L* (derived from CIE 15 and IEC 61966-2-1 at the darkest steps),
            // so rounding is half of that.
            CHECK(std::abs(colour::lightness_of(light) - top.fabrics[f].colour->lab.l) < 0.26);
        }
}

TEST_CASE("a large top still has four pixels to a unit") {
    const layout::Layout top = made_up::top(200, 200, "plain-square", five());
    const photo::Raster flat = draw_flat(top, {.longest_side = 64});
    CHECK(flat.width == 800);
    CHECK(draw_flat(made_up::top(1, 40, "plain-square", five()), {.longest_side = 100}).height == 160);
}

TEST_CASE("whatever the setting and the unit, the flat map's areas are those of the shapes") {
    for (const int side : {1600, 1000})
        for (const layout::Layout& top : made_up::all_kinds(five())) {
            const photo::Raster flat = draw_flat(top, {.longest_side = side});
            const auto found = counts(flat);
            CHECK(found.size() == 5);
            const layout::Top shapes = layout::top_of(top);
            std::vector<double> areas(5);
            double all = 0;
            for (const layout::Shape& shape : shapes.shapes) {
                areas[palette::index(shape.fabric)] += unit::area(shape.outline);
                all += unit::area(shape.outline);
            }
            CHECK(all == Approx(shapes.width * shapes.height));
            const double pixels_per_inch = scale_of(top.plan, side).ppi;
            for (std::size_t f = 0; f < 5; ++f) {
                const colour::Srgb tone = top.fabrics[f].colour->srgb;
                const double pixels = flat.width * double(flat.height);
                const double share = found.at({tone.r, tone.g, tone.b}) / pixels;
                INFO(top.plan.recipe << ", fabric " << f << ", " << pixels_per_inch << " pixels to the inch");
                CHECK(share == Approx(areas[f] / all).epsilon(0.001)); // The project asks for 0.003.
                if (slanted(top)) // A seam runs through many pixels: they are shared out to the last one.
                    CHECK(std::abs(share - areas[f] / all) * pixels <= 2);
            }
        }
}

TEST_CASE("the flat map shows each shape's fabric right up to its edges") {
    for (const layout::Layout& top : made_up::all_kinds(five())) {
        const photo::Raster flat = draw_flat(top, {.longest_side = 400});
        const Draft draft(top, scale_of(top.plan, 400));
        for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
            const unit::Box& box = draft.box(s);
            const colour::Srgb tone = top.fabrics[palette::index(draft.shapes()[s].fabric)].colour->srgb;
            int wrong = 0;
            for (int y = std::max(0, static_cast<int>(box.top));
                 y < std::min<double>(box.bottom, flat.height); ++y)
                for (int x = std::max(0, static_cast<int>(box.left));
                     x < std::min<double>(box.right, flat.width); ++x) {
                    double depth = 1e9;
                    for (const Edge& edge : draft.edges(s))
                        depth = std::min(depth, edge.depth(x + 0.5, y + 0.5));
                    const auto i = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(flat.width) +
                                        static_cast<std::size_t>(x));
                    if (depth > 1.01) wrong += flat.pixels[i] != tone.r || flat.pixels[i + 1] != tone.g;
                }
            CHECK(wrong == 0);
        }
    }
}

TEST_CASE("maps do not depend on the number of threads") {
    for (const layout::Layout& top : made_up::all_kinds(five())) {
        const Options one{.longest_side = 300, .threads = 1}, several{.longest_side = 300, .threads = 3};
        CHECK(draw_flat(top, one).pixels == draw_flat(top, several).pixels);
        CHECK(draw_values(top, one).pixels == draw_values(top, several).pixels);
    }
}
