#include "assembly/seams.h"

#include <catch.hpp>

#include "sample.h"

using namespace motley;
using namespace motley::assembly;

namespace {

/// Lightness of what the top shows at a point, of shapes that may hold it.
double light_at(const layout::Layout& layout, const layout::Top& top, unit::Point p) {
    for (const layout::Shape& shape : top.shapes) {
        bool inside = true;
        for (std::size_t i = 0; i < shape.outline.size() && inside; ++i) {
            const unit::Point a = shape.outline[i], b = shape.outline[(i + 1) % shape.outline.size()];
            inside = unit::cross(b - a, p - a) > 0;
        }
        if (inside) return layout.fabrics[index(shape.fabric)].colour->lab.l;
    }
    FAIL("nothing lies at " << p.x << ", " << p.y);
    return 0;
}

layout::Layout chance_top(const std::string& recipe, oracle::Dice& dice) {
    return sample::placed(
        sample::plan(R"({"columns": 4, "rows": 3})", fmt::format(R"({{"recipe": "{}"}})", recipe)),
        sample::fabrics(9), dice);
}

} // namespace

TEST_CASE("a seam between pieced units goes by what lies along it") {
    oracle::Dice dice(101);
    for (const char* recipe :
         {"half-square-triangle", "rail", "log-cabin", "strip-set-triangle", "four-patch"}) {
        INFO(recipe);
        const layout::Layout layout = chance_top(recipe, dice);
        const layout::Top top = layout::top_of(layout);
        for (const Upstanding& seam : upstanding_seams(layout, rows_of(layout))) {
            constexpr int samples = 400;
            constexpr double beside = 1e-3;
            double difference = 0;
            for (int i = 0; i < samples; ++i) {
                const double y = seam.top + (seam.bottom - seam.top) * (i + 0.5) / samples;
                difference += (light_at(layout, top, {seam.x + beside, y}) -
                               light_at(layout, top, {seam.x - beside, y})) /
                              samples;
            }
            REQUIRE(seam.lighter == Approx(difference).margin(0.75)); // Of up to 80.
        }
    }
}

TEST_CASE("seams inside units are said to lie to the side that is darker there") {
    oracle::Dice dice(102);
    for (const char* recipe : {"rail", "strip-set-triangle"}) {
        INFO(recipe);
        const layout::Layout layout = chance_top(recipe, dice);
        const layout::Top top = layout::top_of(layout);
        int known = 0;
        for (const Ending& ending : endings(layout, rows_of(layout))) {
            if (ending.towards == 0) continue;
            ++known;
            const unit::Point inwards[] = {{0, 1}, {-1, 0}, {0, -1}, {1, 0}};
            const unit::Point along = ending.side % 2 == 0 ? unit::Point{1, 0} : unit::Point{0, 1};
            const unit::Point near = ending.at + inwards[ending.side] * 1e-3;
            REQUIRE(light_at(layout, top, near + along * (0.05 * ending.towards)) <
                    light_at(layout, top, near - along * (0.05 * ending.towards)));
        }
        CHECK(known > 20);
    }
}

TEST_CASE("the side of a seam that goes on beyond a crossing, or that the recipe fixes, is not guessed") {
    // In a four-patch one of the crossing seams has both fabrics on both sides; a snowball's corners are
    // pressed as its recipe says, whatever is darker.
    oracle::Dice dice(103);
    for (const char* recipe : {"four-patch", "nine-patch", "snowball"}) {
        INFO(recipe);
        const layout::Layout layout = chance_top(recipe, dice);
        const std::vector<Ending> all = endings(layout, rows_of(layout));
        CHECK_FALSE(all.empty());
        for (const Ending& ending : all) REQUIRE(ending.towards == 0);
    }
}
