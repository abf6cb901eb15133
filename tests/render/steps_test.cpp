#include "render/steps.h"

#include <catch.hpp>
#include <map>

using namespace motley;
using namespace motley::render;

namespace {

using Colour = std::array<std::uint8_t, 3>;

std::map<Colour, int> colours(const photo::Raster& picture) {
    std::map<Colour, int> found;
    for (std::size_t i = 0; i < picture.pixels.size(); i += 3)
        ++found[{picture.pixels[i], picture.pixels[i + 1], picture.pixels[i + 2]}];
    return found;
}

/// A square of input `input`, `side` inches.
unit::Figure square(int input, double side, int layer = 0, bool wrong_side = false) {
    unit::Figure figure;
    figure.name = "square";
    figure.box = {0, 0, side, side};
    unit::Shape shape;
    shape.outline = figure.box.outline();
    shape.input = input;
    shape.layer = layer;
    shape.wrong_side = wrong_side;
    figure.shapes.push_back(shape);
    return figure;
}

std::vector<unit::Input> two() {
    std::vector<unit::Input> inputs(2);
    inputs[0].name = "print";
    inputs[1].name = "ground";
    return inputs;
}

unit::Step step(std::vector<unit::Figure> before) {
    unit::Step made;
    made.number = 1;
    made.text = "Sew.";
    made.before = std::move(before);
    return made;
}

/// The colour of most pixels that is not paper.
Colour most_of(const photo::Raster& picture) {
    Colour most{};
    int count = 0;
    for (const auto& [colour, pixels] : colours(picture))
        if (colour != Colour{255, 255, 255} && pixels > count) {
            most = colour;
            count = pixels;
        }
    return most;
}

} // namespace

TEST_CASE("things are drawn at one scale, each input in its tint") {
    const photo::Raster picture = draw_step(step({square(0, 6), square(1, 3)}), two());
    const Colour print = most_of(draw_step(step({square(0, 6)}), two())),
                 ground = most_of(draw_step(step({square(1, 3)}), two()));
    CHECK(print != ground);
    const auto found = colours(picture);
    // 6 in against 3 in: four times the area, but for outlines and letters.
    CHECK(found.at(print) == Approx(4.0 * found.at(ground)).epsilon(0.06));
}

TEST_CASE("cloth seen from the back is paler, and hides what lies beneath; allowances are left out") {
    const Colour front = most_of(draw_step(step({square(0, 6)}), two())),
                 back = most_of(draw_step(step({square(0, 6, 1, true)}), two()));
    for (std::size_t c = 0; c < 3; ++c) CHECK(back[c] >= front[c]);
    CHECK(back != front);
    unit::Figure pair = square(0, 6), top = square(1, 6, 1);
    pair.shapes.push_back(top.shapes.front());
    CHECK(colours(draw_step(step({pair}), two())).count(front) == 0);
    pair.shapes.back().hidden = true;
    CHECK(colours(draw_step(step({pair}), two())).at(front) > 10'000);
}

TEST_CASE("cuts are red, and are drawn a little beyond the cloth") {
    unit::Figure cut = square(0, 6);
    cut.marks.push_back({{{0, 0}, {6, 6}}, unit::Mark::Kind::cut});
    const auto red = [](const photo::Raster& picture) {
        int count = 0;
        for (const auto& [colour, pixels] : colours(picture))
            if (colour[0] > 2 * colour[1] && colour[0] > 2 * colour[2]) count += pixels;
        return count;
    };
    CHECK(red(draw_step(step({square(0, 6)}), two())) == 0);
    CHECK(red(draw_step(step({cut}), two())) > 200);
}

TEST_CASE("every step of every recipe is drawn, the same each time") {
    for (const unit::Recipe& recipe : unit::recipes()) {
        const unit::Sewn sewn = unit::sew(recipe, {});
        for (const unit::Step& each : sewn.steps) {
            const photo::Raster picture = draw_step(each, sewn.inputs, 600);
            CHECK(picture.width == 600);
            CHECK(picture.height > 60);
            CHECK(picture.height < 3000);
            if (each.number == 2) CHECK(picture.pixels == draw_step(each, sewn.inputs, 600).pixels);
        }
    }
    CHECK(letter_of(0) == "A");
    CHECK(letter_of(25) == "Z");
    CHECK(letter_of(26) == "A2");
}
