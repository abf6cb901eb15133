#include <catch.hpp>
#include <cmath>

#include "render/diagram_cuts.h"
#include "render/diagram_map.h"
#include "render/diagram_steps.h"
#include "render/page.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

std::vector<palette::Fabric> five() {
    return {made_up::fabric("a", {0.9, 0.85, 0.8}), made_up::fabric("b", {0.02, 0.05, 0.2}),
            made_up::fabric("c", {0.5, 0.03, 0.1}), made_up::fabric("d", {0.2, 0.4, 0.1}),
            made_up::fabric("e", {0.3, 0.3, 0.6})};
}

cutting::Strip strip(double height, std::vector<int> pieces) {
    cutting::Strip made;
    made.height = made_up::inches(height);
    for (const int piece : pieces)
        made.segments.push_back({made_up::inches(3), {{piece, made_up::inches(3), made.height, false}}});
    return made;
}

} // namespace

TEST_CASE("equal strips that follow each other are drawn once, and none is lost") {
    const std::vector<cutting::Strip> strips{strip(5, {0, 0}), strip(5, {0, 0}), strip(5, {0, 1}),
                                             strip(3, {1}),    strip(3, {1}),    strip(3, {1})};
    const std::vector<EqualStrips> groups = equal_strips(strips);
    REQUIRE(groups.size() == 3);
    CHECK(groups[0].count == 2);
    CHECK(groups[1].count == 1);
    CHECK(groups[2].count == 3);
    CHECK(piece_letter(0) == "a");
    CHECK(piece_letter(25) == "z");
    CHECK(piece_letter(26) == "a2");
}

TEST_CASE("the sheets of a map cover the top once, and letters on them are large enough") {
    for (const int columns : {2, 11, 60, 100})
        for (const double letter : {5.4, 10.0}) {
            const layout::Layout layout = made_up::top(columns, columns, "plain-square", five());
            const assembly::Assembly assembly = assembly::assemble(layout);
            const layout::Top top = layout::top_of(layout);
            const MapSource source{layout, top, assembly};
            const double width = 504, height = 600;
            const std::vector<MapSheet> sheets = map_sheets(source, width, height, letter);
            CAPTURE(columns, letter, sheets.size());
            double area = 0;
            int bare = 0;
            for (const MapSheet& sheet : sheets) {
                area += sheet.part.width() * sheet.part.height();
                bare += unlettered(source, sheet, letter);
                const Figure figure = draw_letters(source, sheet, letter, "map");
                CHECK(figure.width <= width + 1.001);
                CHECK(figure.height <= height + 1.001);
                // Sheets end between units.
                CHECK(std::abs(std::remainder(sheet.part.left, 6)) < 1e-6);
                CHECK(std::abs(std::remainder(sheet.part.top, 6)) < 1e-6);
            }
            CHECK(area == Approx(top.width * top.height));
            CHECK(bare == 0); // Squares all take their letters.
            if (columns != 60) CHECK((sheets.size() == 1) == (columns < 60));
        }
}

TEST_CASE("every kind of top and every recipe can be drawn") {
    Pages pages({});
    for (const layout::Layout& layout : made_up::all_kinds(five())) {
        const assembly::Assembly assembly = assembly::assemble(layout);
        const layout::Top top = layout::top_of(layout);
        const MapSource source{layout, top, assembly};
        for (const MapSheet& sheet : map_sheets(source, 500, 600, 5.4))
            pages.figure(draw_letters(source, sheet, 5.4, "map"));
        for (const MapSheet& sheet : seam_sheets(source, 500, 600, 7.5))
            pages.figure(draw_pressing(source, sheet, "seams"));
        pages.figure(draw_greys(source, 300, 400, "greys"));
        pages.turn_page();
        // Drawn now: the figures refer to what goes out of scope here.
        CHECK_FALSE(pages.print().empty());
        pages = Pages({});
    }
    for (const unit::Recipe& recipe : unit::recipes()) {
        const unit::Sewn sewn = unit::sew(recipe, {});
        for (const unit::Step& step : sewn.steps) {
            CAPTURE(recipe.id, step.number);
            const Figure figure = draw_step_lines(step, 280, 7.5);
            if (step.before.empty() && step.after.empty()) continue;
            CHECK(figure.width == 280);
            CHECK(figure.height > 30);
            CHECK(figure.height < 620); // Fits a page.
            pages.figure(draw_step_lines(step, 280, 7.5));
        }
        CHECK_FALSE(pages.print().empty());
        pages = Pages({});
    }
}
