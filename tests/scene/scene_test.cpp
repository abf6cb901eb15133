#include "scene/scene.h"

#include <catch.hpp>
#include <cmath>

#include "fault/fault.h"
#include "painter/photograph.h"
#include "scene/staged.h"

using namespace motley;

namespace {

/// Side lengths as shares off, the piece lying either way round.
double side_error(const scene::Piece& piece, const painter::Laid& truth) {
    double width = truth.width, height = truth.height;
    if (std::abs(piece.width - width) > std::abs(piece.width - height)) std::swap(width, height);
    return std::max(std::abs(piece.width / width - 1), std::abs(piece.height / height - 1));
}

scene::Scene seen(const staged::OnCard& staged) {
    return scene::look(staged::taken(staged.table, staged.view), "scene.jpg");
}

} // namespace

// The scenes' own truth is what is checked against; the bounds are those of the project's issue 6.
TEST_CASE("cloth on the card comes out in its size and colour, at any slant, under a tone curve") {
    for (const std::uint64_t seed : {1, 4}) {
        staged::OnCard staged = staged::on_card(seed, 0.698, 0, seed == 4 ? 0.5 : 0.0);
        staged.view = staged::coarser(staged.view, 0.85);
        const scene::Scene scene = seen(staged);
        REQUIRE(scene.pieces.size() == 1);
        const scene::Piece& piece = scene.pieces.front();
        CHECK(scene.by == scene::By::card);
        CHECK(side_error(piece, staged.piece) < 0.0025);
        CHECK(staged::difference(piece.mean, staged::mean(staged.piece.picture)) < 1.3);
        CHECK(scene::overlap(piece.corners, staged::quad_of(staged.piece, staged.view)) > 0.98);
        CHECK(piece.confidence > 0.5);
        const double inches = piece.picture.width / piece.pixels_per_inch;
        CHECK(inches == Approx(piece.width * piece.kept));
    }
}

TEST_CASE("a lens that bends straight lines changes no size inside the frame") {
    staged::OnCard staged = staged::on_card(5, 0.3, -0.04);
    staged.view = staged::coarser(staged.view, 0.65);
    const scene::Scene scene = seen(staged);
    REQUIRE(scene.pieces.size() == 1);
    CHECK(side_error(scene.pieces.front(), staged.piece) < 0.004);
}

TEST_CASE("a ruler that printed short makes all sizes as much shorter") {
    staged::OnCard staged = staged::on_card(5, 0.1);
    staged.view = staged::coarser(staged.view, 0.6);
    const photo::LinearImage picture = staged::taken(staged.table, staged.view);
    const scene::Scene full = scene::look(picture, "scene.jpg");
    const scene::Scene less = scene::look(picture, "scene.jpg", {.split = false, .true_inch = 0.95});
    REQUIRE(full.pieces.size() == 1);
    REQUIRE(less.pieces.size() == 1);
    CHECK(less.pieces[0].width == Approx(0.95 * full.pieces[0].width));
    CHECK(less.pieces[0].pixels_per_inch == Approx(full.pieces[0].pixels_per_inch / 0.95));
}

TEST_CASE("a card half hidden tells no size: it says so") {
    staged::OnCard staged = staged::on_card(1, 0.2);
    staged.view = staged::coarser(staged.view, 0.5);
    staged.table.laid.push_back(
        painter::plain({0.3, 0.1, 0.1}, {-3.5, -5}, 3, 3)); // Over one of its corners.
    try {
        seen(staged);
        FAIL("nothing was said");
    } catch (const Fault& fault) {
        CHECK(std::string(fault.what()).find("only 3 of the card's four corner marks") != std::string::npos);
    }
}

TEST_CASE("an empty card is no cloth") {
    staged::OnCard staged = staged::on_card(1, 0.2);
    staged.view = staged::coarser(staged.view, 0.5);
    staged.table.laid.pop_back();
    CHECK_THROWS_AS(seen(staged), Fault);
}

TEST_CASE("white paper under a warm lamp gives the colour of the cloth on it, shadow or not") {
    for (const std::uint64_t seed : {2, 6}) {
        staged::OnCard staged = staged::on_paper(seed, 0.4, seed == 6);
        staged.view = staged::coarser(staged.view, 0.6);
        const scene::Scene scene = seen(staged);
        REQUIRE(scene.pieces.size() == 1);
        CHECK(scene.by == scene::By::paper);
        CHECK(staged::difference(scene.pieces[0].mean, staged::mean(staged.piece.picture)) < 1.5);
        CHECK(scene::overlap(scene.pieces[0].corners, staged::quad_of(staged.piece, staged.view)) > 0.97);
        CHECK(scene.pieces[0].pixels_per_inch == 0);
    }
}

TEST_CASE("on a table the cloth is cut out and its colour left as the photo has it") {
    staged::OnCard staged = staged::on_paper(3, 0.2, false);
    staged.table.laid.erase(staged.table.laid.begin()); // The paper.
    staged.view = staged::coarser(staged.view, 0.6);
    const photo::LinearImage picture = staged::taken(staged.table, staged.view);
    const scene::Scene scene = scene::look(picture, "scene.jpg");
    REQUIRE(scene.pieces.size() == 1);
    CHECK(scene.by == scene::By::background);
    CHECK(scene::overlap(scene.pieces[0].corners, staged::quad_of(staged.piece, staged.view)) > 0.97);
    CHECK(scene.pieces[0].kept > 0.9);
    CHECK(scene.pieces[0].kept < 1);
}

TEST_CASE("twelve pieces lie in reading order, none invented, none missed") {
    staged::Twelve staged = staged::twelve(2, 0, true, 0);
    staged.view = staged::coarser(staged.view, 0.8);
    const photo::LinearImage picture = staged::taken(staged.table, staged.view);
    const scene::Scene scene = scene::look(picture, "scene.jpg", {.split = true, .true_inch = 1});
    REQUIRE(scene.pieces.size() == 12);
    for (std::size_t i = 0; i < 12; ++i)
        CHECK(scene::overlap(scene.pieces[i].corners, staged::quad_of(staged.pieces[i], staged.view)) > 0.92);
    // Asked for one piece, the same photo is left alone.
    const scene::Scene one = scene::look(picture, "scene.jpg");
    CHECK(one.pieces.empty());
    CHECK(one.several > 1);
}

TEST_CASE("prints that fill the photo are left alone, whatever they show") {
    const auto designs = painter::invented_designs(7, 12);
    for (std::size_t i = 0; i < designs.size(); ++i) {
        const painter::Photo photo =
            painter::photograph(painter::paint(designs[i], 420, 84), painter::phone(i + 1));
        const auto file = painter::encode_jpeg(photo);
        const photo::LinearImage picture = photo::read(file, "cloth.jpg", 420).picture;
        INFO("design " << i);
        CHECK(scene::look(picture, "cloth.jpg").pieces.empty());
    }
}
