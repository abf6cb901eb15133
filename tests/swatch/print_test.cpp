#include "palette/print.h"

#include <catch.hpp>
#include <cmath>
#include <numbers>

#include "document/document.h"
#include "photo/photo.h"
#include "print_room.h"
#include "swatch/swatch.h"

using namespace motley;
using palette::Print;
using print_room::Camera;
using print_room::Dice;
using print_room::dots;
using print_room::dye_apart;
using print_room::gingham;
using print_room::invented_dye;
using print_room::LinearImage;
using print_room::LinearRgb;
using print_room::photograph;
using print_room::solid;
using Stripes = palette::Print::Stripes;

namespace {

constexpr double ppi = 74; // 370 pixels show 5 in.

Camera phone(std::uint64_t seed) {
    Dice dice(seed);
    return {.width = 370,
            .height = 300,
            .blur = dice.roll(0.5, 1.5),
            .weave = 0.03,
            .noise = 0.02,
            .fall = dice.roll(0.05, 0.3),
            .seed = seed};
}

Print print_of(const LinearImage& image, measure::Length width = palette::usual_photo_width) {
    LinearRgb mean;
    for (std::size_t i = 0; i < image.pixels.size(); i += 3) {
        mean.r += static_cast<double>(image.pixels[i]);
        mean.g += static_cast<double>(image.pixels[i + 1]);
        mean.b += static_cast<double>(image.pixels[i + 2]);
    }
    const double pixels = static_cast<double>(image.pixels.size()) / 3;
    photo::Reading reading{
        .header = {}, .mean = {mean.r / pixels, mean.g / pixels, mean.b / pixels}, .picture = image};
    return swatch::measure(reading, "", width).print.value();
}

Print photographed(const print_room::Print& print, const Camera& camera) {
    return print_of(photograph(print, camera).image);
}

/// Whether both pairs of steps lead to the same places, to a share of their length: each true step is a sum
/// of found ones, and both span the same area.
bool same_repeat(const std::vector<Print::Step>& found, const std::vector<Print::Step>& truth, double slack) {
    if (found.size() != truth.size()) return false;
    if (found.empty()) return true;
    if (found.size() == 1)
        return std::hypot(found[0].across - truth[0].across, found[0].down - truth[0].down) <=
               slack * std::hypot(truth[0].across, truth[0].down);
    const auto area = [](Print::Step a, Print::Step b) { return a.across * b.down - a.down * b.across; };
    const double whole = area(found[0], found[1]);
    if (std::abs(std::abs(whole / area(truth[0], truth[1])) - 1) > 2 * slack) return false;
    for (const Print::Step step : truth) {
        const double i = area(step, found[1]) / whole, j = area(found[0], step) / whole;
        const double off_i = i - std::round(i), off_j = j - std::round(j);
        const double off = std::hypot(off_i * found[0].across + off_j * found[1].across,
                                      off_i * found[0].down + off_j * found[1].down);
        if (off > slack * std::hypot(step.across, step.down)) return false;
    }
    return true;
}

std::string told(const Print& print) {
    return document::print(palette::write_print(print, palette::usual_photo_width, measure::System::inch));
}

struct Spot {
    double x, y, turn;
};

/// Figures about `size` pixels in radius, where `in_figure(x, y)` in units of that, tossed wherever there is
/// room and turned by `turn(dice)`.
template <typename Figure, typename Turn>
print_room::Print tossed(std::uint64_t seed, double size, const Figure& in_figure, const Turn& turn) {
    constexpr int cells = 20, wide = 20; // Pixels; figures reach no farther than the cells around.
    std::vector<std::vector<Spot>> near(cells * cells);
    std::vector<Spot> spots;
    Dice dice(seed);
    for (int tries = 0; tries < 4000; ++tries) {
        const Spot spot{dice.roll(0, cells * wide), dice.roll(0, cells * wide), turn(dice)};
        bool room = true;
        for (const Spot& other : spots)
            room = room && std::hypot(spot.x - other.x, spot.y - other.y) > 1.9 * size;
        if (!room) continue;
        spots.push_back(spot);
        for (int j = 0; j < cells; ++j)
            for (int i = 0; i < cells; ++i)
                if (std::abs(spot.x - (i + 0.5) * wide) < 0.5 * wide + 1.5 * size &&
                    std::abs(spot.y - (j + 0.5) * wide) < 0.5 * wide + 1.5 * size)
                    near[static_cast<std::size_t>(j * cells + i)].push_back(spot);
    }
    const LinearRgb ground = invented_dye(dice);
    return {{ground, dye_apart(dice, {ground}, 20)}, [=](double x, double y) {
                const int i = static_cast<int>(x / wide), j = static_cast<int>(y / wide);
                for (const Spot& spot : near[static_cast<std::size_t>(j * cells + i)]) {
                    const double dx = (x - spot.x) / size, dy = (y - spot.y) / size;
                    const double c = std::cos(spot.turn), s = std::sin(spot.turn);
                    if (in_figure(dx * c + dy * s, dy * c - dx * s)) return 1;
                }
                return 0;
            }};
}

bool tree(double x, double y) { // Pointed above, broad below.
    return y > -1 && y < 1 && std::abs(x) < 0.45 * (y + 1);
}

} // namespace

TEST_CASE("gingham's repeat is true to one hundredth, through blur, weave, noise and uneven light") {
    for (std::uint64_t round = 0; round < 12; ++round) {
        Dice dice(100 + round);
        const double repeat = std::vector{0.25, 0.5, 0.75, 1.0, 0.3, 1.37}[round % 6];
        const LinearRgb light = invented_dye(dice), dark = dye_apart(dice, {light}, 15);
        const Print print = photographed(gingham(light, dark, repeat * ppi / 2), phone(round));
        INFO("repeat " << repeat << " in: " << told(print));
        CHECK(same_repeat(print.repeat, {{repeat, 0}, {0, repeat}}, 0.01));
        CHECK(print.stripes == Stripes::both);
        CHECK_FALSE(print.one_way);
        CHECK(print.sure > 0.8);
    }
}

TEST_CASE("stripes: one step across the bands, and which way they run") {
    const struct {
        double degrees; // Of the bands, clockwise from the cloth's length.
        Stripes stripes;
    } cases[] = {{0, Stripes::along}, {90, Stripes::across},  {35, Stripes::aslant}, {-50, Stripes::aslant},
                 {2, Stripes::along}, {-88, Stripes::across}, {-3, Stripes::along}};
    std::uint64_t round = 0;
    for (const auto& [degrees, stripes] : cases) {
        Dice dice(200 + round);
        std::vector<LinearRgb> dyes = {invented_dye(dice)};
        for (int k = 0; k < 2; ++k) dyes.push_back(dye_apart(dice, dyes, 20));
        // The room's stripes at angle 0 run along; their angle turns the other way round than a lean.
        const double angle = degrees * std::numbers::pi / 180;
        const Print print = photographed(print_room::stripes(dyes, {14, 8, 20}, angle), phone(300 + round));
        INFO(degrees << ": " << told(print));
        CHECK(print.stripes == stripes);
        const double off = std::remainder(print.lean - degrees, 180);
        CHECK(std::abs(off) < 1);
        REQUIRE(print.repeat.size() == 1);
        CHECK(std::hypot(print.repeat[0].across, print.repeat[0].down) == Approx(42 / ppi).epsilon(0.01));
        CHECK_FALSE(print.one_way);
        ++round;
    }
}

TEST_CASE("plaid: the repeat of the whole, not of its parts") {
    for (std::uint64_t round = 0; round < 6; ++round) {
        Dice dice(400 + round);
        std::vector<LinearRgb> yarns = {invented_dye(dice)};
        for (int k = 0; k < 2; ++k) yarns.push_back(dye_apart(dice, yarns, 20));
        std::vector<LinearRgb> dyes;
        for (const LinearRgb& warp : yarns)
            for (const LinearRgb& weft : yarns)
                dyes.push_back({(warp.r + weft.r) / 2, (warp.g + weft.g) / 2, (warp.b + weft.b) / 2});
        const double wide = dice.roll(70, 100);
        const auto yarn = [=](double place) { // 0 1 0 2: the ground comes twice.
            const double share = place / wide - std::floor(place / wide);
            return share < 0.3 ? 0 : share < 0.5 ? 1 : share < 0.8 ? 0 : 2;
        };
        const print_room::Print plaid{dyes, [=](double x, double y) { return 3 * yarn(x) + yarn(y); }};
        const Print print = photographed(plaid, phone(round));
        INFO(told(print));
        CHECK(same_repeat(print.repeat, {{wide / ppi, 0}, {0, wide / ppi}}, 0.01));
        CHECK(print.stripes == Stripes::both);
    }
}

TEST_CASE("dots and pin dots in half-drop") {
    for (const double radius : {10.0, 6.0, 3.0}) {
        Dice dice(static_cast<std::uint64_t>(radius));
        const LinearRgb ground = invented_dye(dice);
        const Print print =
            photographed(dots({ground, dye_apart(dice, {ground}, 30)}, radius, 0.12), phone(5));
        const double pitch = radius * std::sqrt(std::numbers::pi / 0.12) / ppi;
        INFO("radius " << radius << " pixels: " << told(print));
        CHECK(same_repeat(print.repeat, {{pitch, 0}, {pitch / 2, pitch}}, 0.01));
        CHECK(print.stripes == Stripes::none);
        CHECK_FALSE(print.one_way);
        const palette::Cell cell = palette::cell_of(print);
        CHECK(cell.half_drop);
        CHECK(cell.width == Approx(pitch).epsilon(0.01));
        CHECK(cell.height == Approx(2 * pitch).epsilon(0.01));
    }
}

TEST_CASE("dots in two colours by turns repeat over both; by chance, from dot to dot") {
    Dice dice(31);
    const LinearRgb ground{0.7, 0.68, 0.6}, red{0.4, 0.05, 0.06}, blue{0.06, 0.1, 0.4};
    const double pitch = 24;
    std::vector<int> chance;
    for (int k = 0; k < 1024; ++k) chance.push_back(dice.roll() < 0.5 ? 1 : 2);
    for (const bool by_turns : {true, false}) {
        const print_room::Print print{
            {ground, red, blue}, [=](double x, double y) {
                const int i = static_cast<int>(x / pitch), j = static_cast<int>(y / pitch);
                const double dx = x - (i + 0.5) * pitch, dy = y - (j + 0.5) * pitch;
                if (dx * dx + dy * dy > 49) return 0;
                return by_turns ? 1 + (i + j) % 2 : chance[static_cast<std::size_t>(32 * j + i)];
            }};
        const Print found = photographed(print, phone(8));
        INFO(told(found));
        const double step = pitch / ppi;
        if (by_turns)
            CHECK(same_repeat(found.repeat, {{step, step}, {-step, step}}, 0.01));
        else
            CHECK(same_repeat(found.repeat, {{step, 0}, {0, step}}, 0.01));
    }
}

TEST_CASE("no repeat is made up: solids and tossed prints have none") {
    for (std::uint64_t round = 0; round < 5; ++round) {
        Dice dice(500 + round);
        const Print plain = photographed(solid(invented_dye(dice)), phone(round));
        INFO(told(plain));
        CHECK(plain.repeat.empty());
        CHECK(plain.stripes == Stripes::none);
        CHECK_FALSE(plain.one_way);
        const auto any_turn = [](Dice& d) { return d.roll(0, 2 * std::numbers::pi); };
        const Print strewn = photographed(tossed(600 + round, 11, tree, any_turn), phone(round));
        INFO(told(strewn));
        CHECK(strewn.repeat.empty());
        CHECK(strewn.stripes == Stripes::none);
    }
}

TEST_CASE("figures that stand up look one-way, the same figures tossed do not") {
    int upright = 0, turned = 0, hanging = 0;
    for (std::uint64_t round = 0; round < 6; ++round) {
        const auto sway = [](Dice& d) { return 0.3 * d.bell(); };
        const auto hang = [](Dice& d) { return std::numbers::pi + 0.3 * d.bell(); };
        const auto any_turn = [](Dice& d) { return d.roll(0, 2 * std::numbers::pi); };
        upright += photographed(tossed(700 + round, 14, tree, sway), phone(round)).one_way ? 1 : 0;
        hanging += photographed(tossed(700 + round, 14, tree, hang), phone(round)).one_way ? 1 : 0;
        turned += photographed(tossed(700 + round, 14, tree, any_turn), phone(round)).one_way ? 1 : 0;
    }
    CHECK(upright >= 5);
    CHECK(hanging >= 5);
    CHECK(turned <= 1);
}

TEST_CASE("inches follow the width that the photo is said to show") {
    const LinearImage image = photograph(gingham({0.7, 0.6, 0.5}, {0.05, 0.1, 0.3}, 20), phone(4)).image;
    const Print five = print_of(image), ten = print_of(image, palette::usual_photo_width * 2);
    REQUIRE(five.repeat.size() == 2);
    REQUIRE(ten.repeat.size() == 2);
    for (std::size_t k = 0; k < 2; ++k) {
        CHECK(ten.repeat[k].across == Approx(2 * five.repeat[k].across).margin(2e-4));
        CHECK(ten.repeat[k].down == Approx(2 * five.repeat[k].down).margin(2e-4));
    }
    CHECK(five == print_of(image)); // And the same photo gives the same print.
}

TEST_CASE("the demo's photos show the repeats they were painted with") {
    // The figures are the painter's own: the scale of each design in tests/painter/orchard.cpp and
    // harbour.cpp times the sum of its bands. The photos are JPEG, through the painter's lens, light and
    // noise.
    const struct {
        const char* photo;
        std::vector<Print::Step> repeat;
        Stripes stripes;
        bool one_way;
    } cases[] = {
        {"orchard/honey-gingham.jpg", {{0.5, 0}, {0, 0.5}}, Stripes::both, false},
        {"orchard/apple-gingham.jpg", {{0.75, 0}, {0, 0.75}}, Stripes::both, false},
        {"orchard/picnic-plaid.jpg", {{1.5, 0}, {0, 1.5}}, Stripes::both, false},
        {"orchard/window-ticking.jpg", {{0.62, 0}}, Stripes::along, false},
        {"harbour/rope-ticking.jpg", {{0.46, 0}}, Stripes::along, false},
        {"harbour/deck-stripe.jpg", {{0.8075, 0}}, Stripes::along, false},
        {"orchard/apple-snow.jpg", {{0.21, 0.21}, {-0.21, 0.21}}, Stripes::none, false},
        {"harbour/rust-brick.jpg", {{0.4, 0.32}, {-0.4, 0.32}}, Stripes::none, false},
        {"harbour/teal-scallop.jpg", {{0.5, 0.25}, {0, 0.5}}, Stripes::none, true},
        {"harbour/anchors.jpg", {}, Stripes::none, true},
        {"orchard/pear-leaf.jpg", {}, Stripes::none, false},
        {"orchard/quince.jpg", {}, Stripes::none, false},
    };
    for (const auto& [photo, repeat, stripes, one_way] : cases) {
        const std::string path = std::string(MOTLEY_SOURCE "/palettes/") + photo;
        const Print print =
            swatch::measure(photo::read(document::read_file(path), path, 370), "").print.value();
        INFO(photo << ": " << told(print));
        CHECK(same_repeat(print.repeat, repeat, 0.01));
        CHECK(print.stripes == stripes);
        CHECK(print.one_way == one_way);
    }
}
