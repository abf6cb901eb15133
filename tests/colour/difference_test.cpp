#include "colour/difference.h"

#include <array>
#include <catch.hpp>
#include <cmath>
#include <vector>

using motley::colour::ciede2000;
using motley::colour::Lab;

namespace {

struct Pair {
    Lab one, other;
    double difference;
};

// Source: Sharma, Wu, Dalal, Color Research & Application 30(1), 2005, table 1.
const std::array<Pair, 34>& published() {
    static const std::array<Pair, 34> pairs = {{
        {{50.0000, 2.6772, -79.7751}, {50.0000, 0.0000, -82.7485}, 2.0425},
        {{50.0000, 3.1571, -77.2803}, {50.0000, 0.0000, -82.7485}, 2.8615},
        {{50.0000, 2.8361, -74.0200}, {50.0000, 0.0000, -82.7485}, 3.4412},
        {{50.0000, -1.3802, -84.2814}, {50.0000, 0.0000, -82.7485}, 1.0000},
        {{50.0000, -1.1848, -84.8006}, {50.0000, 0.0000, -82.7485}, 1.0000},
        {{50.0000, -0.9009, -85.5211}, {50.0000, 0.0000, -82.7485}, 1.0000},
        {{50.0000, 0.0000, 0.0000}, {50.0000, -1.0000, 2.0000}, 2.3669},
        {{50.0000, -1.0000, 2.0000}, {50.0000, 0.0000, 0.0000}, 2.3669},
        {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0009}, 7.1792},
        {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0010}, 7.1792},
        {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0011}, 7.2195},
        {{50.0000, 2.4900, -0.0010}, {50.0000, -2.4900, 0.0012}, 7.2195},
        {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0009, -2.4900}, 4.8045},
        {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0010, -2.4900}, 4.8045},
        {{50.0000, -0.0010, 2.4900}, {50.0000, 0.0011, -2.4900}, 4.7461},
        {{50.0000, 2.5000, 0.0000}, {50.0000, 0.0000, -2.5000}, 4.3065},
        {{50.0000, 2.5000, 0.0000}, {73.0000, 25.0000, -18.0000}, 27.1492},
        {{50.0000, 2.5000, 0.0000}, {61.0000, -5.0000, 29.0000}, 22.8977},
        {{50.0000, 2.5000, 0.0000}, {56.0000, -27.0000, -3.0000}, 31.9030},
        {{50.0000, 2.5000, 0.0000}, {58.0000, 24.0000, 15.0000}, 19.4535},
        {{50.0000, 2.5000, 0.0000}, {50.0000, 3.1736, 0.5854}, 1.0000},
        {{50.0000, 2.5000, 0.0000}, {50.0000, 3.2972, 0.0000}, 1.0000},
        {{50.0000, 2.5000, 0.0000}, {50.0000, 1.8634, 0.5757}, 1.0000},
        {{50.0000, 2.5000, 0.0000}, {50.0000, 3.2592, 0.3350}, 1.0000},
        {{60.2574, -34.0099, 36.2677}, {60.4626, -34.1751, 39.4387}, 1.2644},
        {{63.0109, -31.0961, -5.8663}, {62.8187, -29.7946, -4.0864}, 1.2630},
        {{61.2901, 3.7196, -5.3901}, {61.4292, 2.2480, -4.9620}, 1.8731},
        {{35.0831, -44.1164, 3.7933}, {35.0232, -40.0716, 1.5901}, 1.8645},
        {{22.7233, 20.0904, -46.6940}, {23.0331, 14.9730, -42.5619}, 2.0373},
        {{36.4612, 47.8580, 18.3852}, {36.2715, 50.5065, 21.2231}, 1.4146},
        {{90.8027, -2.0831, 1.4410}, {91.1528, -1.6435, 0.0447}, 1.4441},
        {{90.9257, -0.5406, -0.9208}, {88.6381, -0.8985, -0.7239}, 1.5381},
        {{6.7747, -0.2908, -2.4247}, {5.8714, -0.0985, -2.2286}, 0.6377},
        {{2.0776, 0.0795, -1.1350}, {0.9033, -0.0636, -0.5514}, 0.9082},
    }};
    return pairs;
}

} // namespace

TEST_CASE("the 34 published CIEDE2000 pairs, in both orders") {
    for (const Pair& pair : published()) {
        INFO(pair.one.l << " " << pair.one.a << " " << pair.one.b << " | " << pair.other.l << " "
                        << pair.other.a << " " << pair.other.b);
        CHECK(ciede2000(pair.one, pair.other) == Approx(pair.difference).margin(5e-5).epsilon(0));
        CHECK(ciede2000(pair.other, pair.one) == Approx(pair.difference).margin(5e-5).epsilon(0));
    }
}

TEST_CASE("opposite hues stay on the published side of 180 degrees") {
    // Pairs 10 and 14 of the table lie exactly on it; turning the colours end for end must not change the
    // answer.
    for (const double size : {0.1, 2.49, 7.3, 40.0})
        for (int step = 0; step < 360; ++step) {
            const double angle = step * 3.14159265358979 / 180.0;
            const Lab one{50, size * std::cos(angle), size * std::sin(angle)};
            const Lab other{50, -one.a, -one.b};
            INFO(size << " at " << step);
            CHECK(ciede2000(one, other) == Approx(ciede2000(other, one)).epsilon(1e-12));
        }
}

TEST_CASE("a difference is zero for equal colours only, and symmetric") {
    std::vector<Lab> colours;
    for (double l = 0; l <= 100; l += 20)
        for (double a = -90; a <= 90; a += 45)
            for (double b = -90; b <= 90; b += 45) colours.push_back({l, a, b});
    for (const Lab& one : colours)
        for (const Lab& other : colours) {
            const double difference = ciede2000(one, other);
            const bool same = one.l == other.l && one.a == other.a && one.b == other.b;
            CAPTURE(one.l, one.a, one.b, other.l, other.a, other.b);
            REQUIRE((same ? difference == 0.0 : difference > 1.0));
            REQUIRE(difference == Approx(ciede2000(other, one)).epsilon(1e-12));
        }
}

TEST_CASE("for greys around the middle the difference is that of lightness alone") {
    // Derived: with a = b = 0 only the lightness term is left, (L2 - L1) / S_L, and S_L = 1 where the mean is
    // L* 50.
    CHECK(ciede2000({49, 0, 0}, {51, 0, 0}) == Approx(2.0).epsilon(1e-12));
    CHECK(ciede2000({30, 0, 0}, {70, 0, 0}) == Approx(40.0).epsilon(1e-12));
    // Mean 85: S_L = 1 + 0.015 * 35^2 / sqrt(20 + 35^2).
    CHECK(ciede2000({80, 0, 0}, {90, 0, 0}) ==
          Approx(10.0 / (1.0 + 0.015 * 1225.0 / std::sqrt(1245.0))).epsilon(1e-12));
}
