#include <algorithm>
#include <catch.hpp>

#include "colour/difference.h"
#include "render/bolt.h"
#include "render/continued.h"
#include "tops.h"

// Prints too large for the photo to show their repeat: what the preview makes up of them may not bring in
// colours or shapes that the photo does not show. The bounds are ours: what is seen at arm's length.

using namespace motley;
using namespace motley::render;

namespace {

constexpr double whole = 1200; // Pixels across each photo of 5 in.

Cloth broad(colour::LinearRgb ground, colour::LinearRgb ink, double (*print)(double, double)) {
    return made_up::photo_of(5, 5, static_cast<int>(whole), ground, ink, print);
}

/// Every patch of a top of one fabric, as cut from its bolt.
std::vector<photo::LinearImage> patches(const Cloth& cloth, double finished) {
    const layout::Layout top =
        made_up::top(5, 4, "plain-square", {made_up::fabric("print", mean(cloth.picture))}, finished);
    const Draft draft(top, scale_of(top.plan, 700));
    const int side = static_cast<int>(draft.scale().unit);
    const Bolts bolts = unroll({&draft, 1}, {cloth}, 2, 1);
    const std::vector<unit::Motion> cuts = cut_out(draft, bolts);
    std::vector<photo::LinearImage> found;
    for (std::size_t s = 0; s < cuts.size(); ++s) {
        const unit::Point corner = cuts[s](unit::Point{draft.box(s).left + 0.5, draft.box(s).top + 0.5});
        found.push_back(blank(side, side));
        for (int y = 0; y < side; ++y)
            std::copy_n(pixel(bolts.cloth[0], static_cast<int>(corner.x), static_cast<int>(corner.y) + y),
                        static_cast<std::size_t>(side) * 3, pixel(found.back(), 0, y));
    }
    return found;
}

/// The mean of all patches.
colour::LinearRgb mean_of(const std::vector<photo::LinearImage>& patches) {
    colour::LinearRgb sum;
    const auto count = static_cast<double>(patches.size());
    for (const photo::LinearImage& patch : patches) {
        const colour::LinearRgb one = mean(patch);
        sum = {sum.r + one.r / count, sum.g + one.g / count, sum.b + one.b / count};
    }
    return sum;
}

double apart_in_colour(colour::LinearRgb one, colour::LinearRgb other) {
    return colour::ciede2000(colour::lab(one), colour::lab(other));
}

/// Share of the pixels within 5 CIEDE2000 of a colour.
double share_of(const std::vector<photo::LinearImage>& patches, colour::LinearRgb dye) {
    double near = 0, all = 0;
    for (const photo::LinearImage& patch : patches)
        for (int y = 0; y < patch.height; ++y)
            for (int x = 0; x < patch.width; ++x, ++all) {
                const float* at = pixel(patch, x, y);
                if (apart_in_colour(
                        {static_cast<double>(at[0]), static_cast<double>(at[1]), static_cast<double>(at[2])},
                        dye) < 5)
                    ++near;
            }
    return near / all;
}

const colour::LinearRgb lime{0.62, 0.63, 0.12}, purple{0.08, 0.03, 0.22}, white{0.95, 0.92, 0.86},
    crimson{0.26, 0.005, 0.014}, navy{0.012, 0.026, 0.08};

} // namespace

TEST_CASE("a cloth of two halves keeps both its dyes") {
    const Cloth across = broad(lime, purple, [](double x, double) { return x < 2.5 ? 0.0 : 1.0; });
    const Cloth down = broad(lime, purple, [](double, double y) { return y < 2.5 ? 0.0 : 1.0; });
    for (const Cloth* cloth : {&across, &down})
        for (const double finished : {6.0, 12.0}) {
            const std::vector<photo::LinearImage> all = patches(*cloth, finished);
            CHECK(share_of(all, lime) == Approx(0.5).margin(0.05));
            CHECK(share_of(all, purple) == Approx(0.5).margin(0.05));
        }
}

TEST_CASE("a border print keeps both its dyes") {
    const Cloth cloth = broad(white, crimson, [](double x, double) { return x < 2 ? 0.0 : 1.0; });
    for (const double finished : {6.0, 12.0}) {
        const std::vector<photo::LinearImage> all = patches(cloth, finished);
        CHECK(share_of(all, white) == Approx(0.4).margin(0.06));
        CHECK(share_of(all, crimson) == Approx(0.6).margin(0.06));
    }
}

TEST_CASE("whole repeats of a one-off layout have the mean of the photo") {
    const auto halves = [](double x, double) { return x < 2.5 ? 0.0 : 1.0; };
    const auto border = [](double, double y) { return y < 2 ? 0.0 : 1.0; };
    const auto ombre = [](double x, double) { return x / 5; };
    const auto panel = [](double x, double y) { return std::hypot(x - 2.3, y - 2.2) < 1.1 ? 1.0 : 0.0; };
    for (const auto print : {+halves, +border, +ombre, +panel}) {
        const photo::LinearImage photo = scaled_cloth(broad(white, navy, print), 25, 2000);
        const Repeat repeat = repeat_of(photo);
        const photo::LinearImage cloth =
            continued(photo, repeat, photo.width + 3 * repeat.across.x, photo.height + 3 * repeat.down.y);
        photo::LinearImage part = blank(3 * repeat.across.x, 3 * repeat.down.y);
        for (int y = 0; y < part.height; ++y)
            std::copy_n(pixel(cloth, photo.width - repeat.across.x, photo.height - repeat.down.y + y),
                        static_cast<std::size_t>(part.width) * 3, pixel(part, 0, y));
        CHECK(apart_in_colour(mean(part), mean(photo)) < 1);
    }
}

TEST_CASE("many patches of a fabric together have its colour") {
    const Cloth halves = broad(lime, purple, [](double x, double) { return x < 2.5 ? 0.0 : 1.0; });
    const Cloth ombre = broad(white, navy, [](double, double y) { return y / 5; });
    CHECK(apart_in_colour(mean_of(patches(halves, 12)), mean(halves.picture)) < 1);
    CHECK(apart_in_colour(mean_of(patches(ombre, 12)), mean(ombre.picture)) < 1);
}

TEST_CASE("a wide stripe keeps the widths of its bands") {
    // 1 1/2 in of each; the photo shows not quite two repeats.
    const Cloth cloth = broad(white, navy, [](double x, double) {
        const double at = (x + 0.9) / 3;
        return at - std::floor(at) < 0.5 ? 0.0 : 1.0;
    });
    const double ppi = 33;
    const photo::LinearImage photo = scaled_cloth(cloth, ppi, 2000);
    const photo::LinearImage made = continued(photo, repeat_of(photo), 520, 430);
    for (const int y : {3, 100, 170, 222, 300, 425}) {
        std::vector<double> edges;
        const auto light = [&](int x) { return static_cast<double>(pixel(made, x, y)[1]); };
        const double half = (white.g + navy.g) / 2;
        for (int x = 0; x + 1 < made.width; ++x)
            if ((light(x) < half) != (light(x + 1) < half))
                edges.push_back(x + (light(x) - half) / (light(x) - light(x + 1)));
        REQUIRE(edges.size() >= 9);
        for (std::size_t k = 1; k < edges.size(); ++k)
            CHECK(edges[k] - edges[k - 1] == Approx(1.5 * ppi).margin(1.5));
    }
}

TEST_CASE("an ombre has no ticks") {
    // Along the threads that keep their shade nothing may change, wherever copies are joined.
    const Cloth across = broad(white, navy, [](double x, double) { return x / 5; });
    const photo::LinearImage photo = scaled_cloth(across, 27, 2000);
    const photo::LinearImage made = continued(photo, repeat_of(photo), 500, 500);
    float worst = 0, steepest = 0;
    for (int y = 0; y < made.height; ++y)
        for (int x = 0; x + 1 < made.width; ++x) {
            worst = std::max(worst, std::abs(pixel(made, x, y)[1] - pixel(made, x, 0)[1]));
            steepest = std::max(steepest, std::abs(pixel(made, x + 1, y)[1] - pixel(made, x, y)[1]));
        }
    CHECK(worst < 0.01f);
    CHECK(steepest < 0.2f); // Dark and light meet in a soft join, not at an edge (0.9).
}

TEST_CASE("most of every patch is the photo, pixel by pixel") {
    const Cloth cloth = made_up::corners(5, 5, {0.8, 0.8, 0.7}, {0.3, 0.05, 0.2});
    const photo::LinearImage photo = scaled_cloth(cloth, 20, 2000);
    const Repeat repeat = repeat_of(photo);
    const photo::LinearImage made = continued(photo, repeat, 180, 180);
    // A copy lies where its repeat says; the first fills the corner.
    CHECK(made_up::nearest(photo, made) < 0.02);
    const int side = std::min(repeat.across.x, repeat.down.y) - 4;
    photo::LinearImage corner = blank(side, side);
    for (int y = 0; y < side; ++y)
        std::copy_n(pixel(made, 0, y), static_cast<std::size_t>(side) * 3, pixel(corner, 0, y));
    CHECK(made_up::apart(corner, photo) < 1e-4);
    CHECK(2 * repeat.across.x >= photo.width);
    CHECK(2 * repeat.down.y >= photo.height);
}
