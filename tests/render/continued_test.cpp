#include "render/continued.h"

#include <algorithm>
#include <catch.hpp>
#include <functional>
#include <set>

#include "colour/difference.h"
#include "edges.h"
#include "render/bolt.h"
#include "render/join.h"
#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

double apart_in_colour(colour::LinearRgb one, colour::LinearRgb other) {
    return colour::ciede2000(colour::lab(one), colour::lab(other));
}

} // namespace

TEST_CASE("a gingham goes on in step, its repeat true to a pixel") {
    for (const double repeat : {0.25, 0.5, 1.0}) {
        const double ppi = 31.3;
        const photo::LinearImage photo = scaled_cloth(made_up::gingham(5, 3.75, repeat), ppi, 2000);
        const photo::LinearImage cloth = continued(photo, repeat_of(photo), 420, 400);
        for (const bool down : {false, true}) {
            const std::vector<double> edges = falling_edges(down ? made_up::rotated(cloth, 1) : cloth);
            REQUIRE(edges.size() >= static_cast<std::size_t>(400 / (repeat * ppi)) - 1);
            for (std::size_t k = 1; k < edges.size(); ++k) {
                INFO("repeat " << repeat << " in, edge " << k);
                CHECK(edges[k] - edges[k - 1] == Approx(repeat * ppi).margin(1.0));
                CHECK(edges[k] - edges[0] ==
                      Approx(static_cast<double>(k) * repeat * ppi).margin(0.01 * 400));
            }
            // A join lies on whole pixels and a repeat need not: over three repeats no more than a pixel off,
            // and no drift.
            for (std::size_t k = 3; k < edges.size(); ++k)
                CHECK(edges[k] - edges[k - 3] == Approx(3 * repeat * ppi).margin(1.25));
        }
    }
}

TEST_CASE("continued cloth is made of the photo, upright and never mirrored") {
    const photo::LinearImage photo =
        scaled_cloth(made_up::corners(4, 3, {0.8, 0.8, 0.7}, {0.02, 0.05, 0.2}), 28, 2000);
    const photo::LinearImage cloth = continued(photo, repeat_of(photo), 300, 260);
    REQUIRE(cloth.width == 300);
    REQUIRE(cloth.height == 260);
    const photo::LinearImage flipped = made_up::mirrored(photo), turned = made_up::rotated(photo, 1),
                             head_down = made_up::rotated(photo, 2);
    int as_is = 0, otherwise = 0;
    for (int k = 0; k < 40; ++k) {
        const int left = static_cast<int>(made_up::chance(k, 1) * 280),
                  top = static_cast<int>(made_up::chance(k, 2) * 240);
        photo::LinearImage part = blank(18, 18);
        for (int y = 0; y < 18; ++y) std::copy_n(pixel(cloth, left, top + y), 54, pixel(part, 0, y));
        const double here = made_up::nearest(part, photo);
        const double best_other = std::min({made_up::nearest(part, flipped), made_up::nearest(part, turned),
                                            made_up::nearest(part, head_down)});
        ++(here < best_other ? as_is : otherwise);
    }
    CHECK(as_is >= 36);
    CHECK(otherwise <= 4); // A place where only a corner of a shape shows looks the same from every side.
}

TEST_CASE("continued cloth keeps its mean and the roughness of the photo: no edge where blocks meet") {
    const photo::LinearImage photo =
        scaled_cloth(made_up::corners(4, 3, {0.8, 0.8, 0.7}, {0.3, 0.05, 0.2}), 28, 2000);
    const photo::LinearImage cloth = continued(photo, repeat_of(photo), 320, 300);
    CHECK(apart_in_colour(mean(cloth), mean(photo)) < 1);
    const auto roughness = [](const photo::LinearImage& image) {
        double sum = 0;
        for (int y = 0; y + 1 < image.height; ++y)
            for (int x = 0; x + 1 < image.width; ++x) {
                const double across = static_cast<double>(pixel(image, x + 1, y)[1] - pixel(image, x, y)[1]);
                const double down = static_cast<double>(pixel(image, x, y + 1)[1] - pixel(image, x, y)[1]);
                sum += across * across + down * down;
            }
        return sum / ((image.width - 1.0) * (image.height - 1.0));
    };
    // Tiling with hard edges adds some 20 % here; blurred joins would take away.
    CHECK(roughness(cloth) == Approx(roughness(photo)).epsilon(0.12));
}

TEST_CASE("photos of a few pixels are continued too") {
    for (const int side : {6, 7, 9, 13, 30}) {
        photo::LinearImage small = blank(side, side + 1);
        for (std::size_t i = 0; i < small.pixels.size(); ++i)
            small.pixels[i] = static_cast<float>(0.1 + 0.8 * made_up::chance(static_cast<int>(i), 0));
        const photo::LinearImage cloth = continued(small, repeat_of(small), 40, 25);
        CHECK(cloth.width == 40);
        CHECK(cloth.height == 25);
        // No place is left bare: all the photo's light lies above 0.1, and so does what is made of it.
        CHECK(*std::min_element(cloth.pixels.begin(), cloth.pixels.end()) > 0.08f);
    }
}

TEST_CASE("cloth that runs aslant leaves no place bare") {
    // A photo is seldom quite straight: stripes and tossed shapes leaning both ways, along and across.
    for (const double lean : {-0.12, -0.06, -0.02, 0.02, 0.06, 0.12})
        for (const bool across : {false, true}) {
            const Cloth stripes = made_up::photo_of(
                5, 4, 400, {0.9, 0.9, 0.9}, {0.2, 0.2, 0.3}, [lean, across](double x, double y) {
                    const double at = across ? y + lean * x : x + lean * y, off = across ? x : y;
                    const double shade = at / 0.7 - std::floor(at / 0.7) < 0.4 ? 1.0 : 0.0;
                    return std::hypot(at - 2, off - 1.5) < 0.8 ? 0.5 : shade;
                });
            const photo::LinearImage photo = scaled_cloth(stripes, 25, 2000);
            const Repeat repeat = repeat_of(photo);
            for (const int side : {130, 190, 260, 611}) {
                const photo::LinearImage cloth = continued(photo, repeat, side, side + 37);
                CHECK(*std::min_element(cloth.pixels.begin(), cloth.pixels.end()) > 0.1f);
            }
        }
}

TEST_CASE("every repeat covers the bolt") {
    photo::LinearImage photo = blank(60, 50);
    std::fill(photo.pixels.begin(), photo.pixels.end(), 0.5f);
    for (const bool stacked : {false, true})
        for (const int aside : {-25, -9, 0, 3, 25})
            for (const int aslant : {-3, -1, 0, 2, 3}) {
                const Repeat repeat{stacked ? Step{52, aside} : Step{52, aslant},
                                    stacked ? Step{aslant, 42} : Step{aside, 42}, stacked, 0, 0};
                for (const int side : {60, 61, 97, 113, 170, 400}) {
                    const photo::LinearImage cloth = continued(photo, repeat, side, side + 11);
                    CHECK(*std::min_element(cloth.pixels.begin(), cloth.pixels.end()) == 0.5f);
                }
            }
}

TEST_CASE("the cut is the least of all cuts") {
    // Against every cut there is, on overlaps small enough to try them all.
    for (int k = 0; k < 50; ++k) {
        Overlap overlap{4, 5, {}};
        for (int i = 0; i < 20; ++i)
            overlap.cost.push_back(static_cast<float>(std::floor(made_up::chance(k, i) * 100)));
        double least = 1e9;
        std::function<void(int, int, double)> walk = [&](int row, int at, double sum) {
            if (at < 0 || at >= 4) return;
            if (row == 5) {
                least = std::min(least, sum);
                return;
            }
            for (int step = -1; step <= 1; ++step) {
                if (row == 0 && step != 0) continue;
                if (at + step < 0 || at + step >= 4) continue;
                const double here =
                    static_cast<double>(overlap.cost[static_cast<std::size_t>(row * 4 + at + step)]);
                walk(row + 1, at + step, sum + here * (step == 0 ? 1 : std::sqrt(2.0)));
            }
        };
        for (int at = 0; at < 4; ++at) walk(0, at, 0);
        const Join join = least_cut(overlap);
        CHECK(join.cost == Approx(least));
        double along = 0;
        for (std::size_t row = 0; row < 5; ++row) {
            const auto at = static_cast<std::size_t>(join.at[row]);
            const bool aslant = row > 0 && join.at[row - 1] != join.at[row];
            along += static_cast<double>(overlap.cost[row * 4 + at]) * (aslant ? std::sqrt(2.0) : 1);
        }
        CHECK(along == Approx(least));
    }
}

TEST_CASE("places are all different while there are any, and lie well apart") {
    for (const auto& [count, free_x, free_y] :
         {std::tuple{1, 0, 0}, {6, 2, 1}, {20, 100, 60}, {1000, 40, 40}}) {
        std::set<std::pair<int, int>> different;
        for (const Place& cut : spread_places(count, free_x, free_y, 5)) {
            CHECK((cut.x >= 0 && cut.x <= free_x && cut.y >= 0 && cut.y <= free_y));
            different.emplace(cut.x, cut.y);
        }
        CHECK(static_cast<int>(different.size()) == count);
    }
    CHECK(spread_places(9, 1, 1, 5).size() == 9);
    const std::vector<Place> ten = spread_places(10, 300, 300, 5);
    for (std::size_t i = 0; i < 10; ++i)
        for (std::size_t k = 0; k < i; ++k) CHECK(std::hypot(ten[i].x - ten[k].x, ten[i].y - ten[k].y) > 40);
}
