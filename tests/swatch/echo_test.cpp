#include "swatch/echo.h"

#include <catch.hpp>
#include <cmath>
#include <complex>

#include "print_room.h"
#include "swatch/fourier.h"

using namespace motley;
using namespace motley::swatch;
using print_room::Dice;

namespace {

Sketch noise(int width, int height, std::uint64_t seed) {
    Dice dice(seed);
    Sketch sketch{.width = width, .height = height, .scale = 1, .l = {}, .a = {}, .b = {}};
    for (auto* plane : {&sketch.l, &sketch.a, &sketch.b})
        for (int i = 0; i < width * height; ++i) plane->push_back(static_cast<float>(dice.roll(-0.3, 0.3)));
    return sketch;
}

/// The echo's formula, term by term; of the turned cloth when `turned`.
double slow_echo(const Sketch& sketch, int move_x, int move_y, bool turned) {
    double product = 0, energy = 0;
    for (int y = 0; y < sketch.height; ++y)
        for (int x = 0; x < sketch.width; ++x) {
            const int there_x = turned ? move_x - x : x + move_x, there_y = turned ? move_y - y : y + move_y;
            if (there_x < 0 || there_x >= sketch.width || there_y < 0 || there_y >= sketch.height) continue;
            for (const auto* plane : {&sketch.l, &sketch.a, &sketch.b}) {
                const double here = (*plane)[static_cast<std::size_t>(y * sketch.width + x)];
                const double there = (*plane)[static_cast<std::size_t>(there_y * sketch.width + there_x)];
                product += here * there;
                energy += here * here + there * there;
            }
        }
    return 2 * product / energy;
}

} // namespace

TEST_CASE("the transform is the sum of its definition") {
    Dice dice(1);
    Waves waves;
    std::vector<std::pair<std::size_t, std::complex<double>>> points;
    for (int k = 0; k < 40; ++k) { // A few bright points: their sum can be written out.
        const auto at = static_cast<std::size_t>(dice.roll() * Waves::side * Waves::side);
        const std::complex<double> value(dice.roll(-1, 1), dice.roll(-1, 1));
        waves.re[at] += static_cast<float>(value.real());
        waves.im[at] += static_cast<float>(value.imag());
        points.emplace_back(at, value);
    }
    transform(waves);
    for (int k = 0; k < 300; ++k) {
        const auto u = static_cast<std::size_t>(dice.roll() * Waves::side),
                   v = static_cast<std::size_t>(dice.roll() * Waves::side);
        std::complex<double> sum;
        for (const auto& [at, value] : points) {
            const double turns =
                static_cast<double>(at % Waves::side * u + at / Waves::side * v) / Waves::side;
            sum += value * std::polar(1.0, -2 * 3.14159265358979323846 * turns);
        }
        const std::size_t at = u * Waves::side + v; // Rows and columns have changed places.
        CHECK(static_cast<double>(waves.re[at]) == Approx(sum.real()).margin(2e-5));
        CHECK(static_cast<double>(waves.im[at]) == Approx(sum.imag()).margin(2e-5));
    }
}

TEST_CASE("the echo is the sum of its definition, for every shape of picture") {
    for (const auto& [width, height] : {std::pair{159, 119}, {90, 160}, {17, 12}}) {
        const Sketch sketch = noise(width, height, 7);
        const Echo echo(sketch);
        REQUIRE(echo.reach_x() == width * 3 / 5);
        REQUIRE(echo.reach_y() == height * 3 / 5);
        Dice dice(3);
        for (int k = 0; k < 40; ++k) {
            const int x = static_cast<int>(dice.roll(-echo.reach_x(), echo.reach_x() + 1.0)),
                      y = static_cast<int>(dice.roll(-echo.reach_y(), echo.reach_y() + 1.0));
            INFO(width << " x " << height << " moved by " << x << ", " << y);
            CHECK(static_cast<double>(echo.at(x, y)) == Approx(slow_echo(sketch, x, y, false)).margin(1e-5));
            CHECK(echo.at(x, y) == echo.at(-x, -y));
        }
        CHECK(static_cast<double>(echo.at(0, 0)) == Approx(1).margin(1e-5));
    }
}

TEST_CASE("a picture that is the same head down has a turned echo of one, another has the highest there is") {
    Sketch sketch = noise(41, 30, 9);
    double highest = 0;
    for (int y = 29 - 9; y < 30 + 9; ++y)
        for (int x = 40 - 12; x < 41 + 12; ++x) highest = std::max(highest, slow_echo(sketch, x, y, true));
    CHECK(Echo(sketch).turned() == Approx(highest).margin(1e-5));
    CHECK(highest < 0.5);
    for (auto* plane : {&sketch.l, &sketch.a, &sketch.b})
        for (std::size_t i = 0; i < plane->size() / 2; ++i) (*plane)[plane->size() - 1 - i] = (*plane)[i];
    CHECK(Echo(sketch).turned() == Approx(1).margin(1e-5));
}
