#include "render/in_step.h"

#include <catch.hpp>
#include <cmath>

#include "edges.h"
#include "render/cloth.h"
#include "render/continued.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;
using palette::Print;

namespace {

Print checks(double repeat) {
    return {.repeat = {{repeat, 0}, {0, repeat}}, .stripes = Print::Stripes::both, .sure = 0.99};
}

} // namespace

TEST_CASE("a gingham continued by its measured repeat keeps its checks to one hundredth, however far") {
    // Three photos long, at scales where a repeat is no whole number of pixels.
    for (const double repeat : {0.25, 0.5, 0.75, 1.0})
        for (const double ppi : {17.3, 23.9, 31.3}) {
            const photo::LinearImage photo = scaled_cloth(made_up::gingham(5, 3.75, repeat), ppi, 2000);
            const std::optional<Repeat> laid = repeat_in_step(photo, checks(repeat), ppi);
            INFO("repeat " << repeat << " in at " << ppi << " pixels to the inch");
            REQUIRE(laid);
            const photo::LinearImage cloth = continued(photo, *laid, photo.width * 3, photo.height * 3);
            for (const bool down : {false, true}) {
                const std::vector<double> edges = falling_edges(down ? made_up::rotated(cloth, 1) : cloth);
                REQUIRE(edges.size() >= 10);
                const double mean = (edges.back() - edges.front()) / static_cast<double>(edges.size() - 1);
                CHECK(mean == Approx(repeat * ppi).epsilon(0.01));
                for (std::size_t k = 1; k < edges.size(); ++k)
                    CHECK(edges[k] - edges[k - 1] == Approx(repeat * ppi).margin(1.0));
            }
        }
}

TEST_CASE("copies of a half-drop lie whole repeats apart") {
    const photo::LinearImage photo = blank(200, 160);
    const Print dots{.repeat = {{0.3, 0.2}, {-0.3, 0.2}}, .sure = 0.9};
    const double ppi = 40;
    const std::optional<Repeat> laid = repeat_in_step(photo, dots, ppi);
    REQUIRE(laid);
    // Level: multiples of (0.6, 0) in, 24 pixels; upright: of (0, 0.4) in, 16 pixels.
    CHECK(laid->across.x % 24 == 0);
    CHECK(laid->across.y == 0);
    CHECK(laid->down.y % 16 == 0);
    CHECK(laid->down.x == 0);
    CHECK(laid->across.x >= 100);
    CHECK(laid->across.x < 200);
    CHECK(laid->down.y >= 80);
    CHECK(laid->down.y < 160);
}

TEST_CASE("a print that repeats one way only, hardly surely, or too coarsely is left to the eye") {
    const photo::LinearImage photo = blank(100, 100);
    CHECK_FALSE(repeat_in_step(photo, {}, 20));
    CHECK_FALSE(repeat_in_step(photo, {.repeat = {{0.5, 0}}, .sure = 0.99}, 20));
    Print doubtful = checks(0.5);
    doubtful.sure = 0.5;
    CHECK_FALSE(repeat_in_step(photo, doubtful, 20));
    CHECK_FALSE(repeat_in_step(photo, checks(4.9), 20)); // 98 of 100 pixels: no room for a join.
    CHECK(repeat_in_step(photo, checks(0.5), 20));
}
