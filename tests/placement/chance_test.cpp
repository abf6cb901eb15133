#include "placement/chance.h"

#include <catch.hpp>
#include <cmath>
#include <vector>

using motley::placement::Chance;
using motley::placement::Thresholds;

TEST_CASE("Boost's Mersenne twister is the standard's") {
    // ISO C++ [rand.predef]: the 10000th consecutive invocation of a default-constructed mt19937 gives
    // 4123659995.
    boost::random::mt19937 engine;
    engine.discard(9999);
    CHECK(engine() == 4123659995U);
}

TEST_CASE("draws stay in their interval, reach both its ends and are even within chance") {
    Chance chance(1, 0);
    std::vector<int> hits(7);
    constexpr int draws = 70'000;
    for (int k = 0; k < draws; ++k) {
        const int drawn = chance.below(7);
        REQUIRE(drawn >= 0);
        REQUIRE(drawn < 7);
        ++hits[static_cast<std::size_t>(drawn)];
    }
    // Binomial: standard deviation sqrt(70000 * 1/7 * 6/7) = 92.6; five of them.
    for (const int n : hits) CHECK(std::abs(n - 10'000) < 463);
}

TEST_CASE("a seed's streams and neighbouring seeds differ; the same seed and stream repeat") {
    Chance one(5, 0), again(5, 0), stream(5, 1), seed(6, 0);
    int equal_stream = 0, equal_seed = 0;
    for (int k = 0; k < 100; ++k) {
        const std::uint32_t bits = one.bits();
        CHECK(bits == again.bits());
        equal_stream += bits == stream.bits();
        equal_seed += bits == seed.bits();
    }
    CHECK(equal_stream < 3);
    CHECK(equal_seed < 3);
}

TEST_CASE("a shuffle keeps every item, and each order of three comes as often as the next") {
    Chance chance(3, 0);
    std::vector<int> hits(6);
    for (int k = 0; k < 60'000; ++k) {
        std::vector<int> items{0, 1, 2};
        chance.shuffle(items);
        REQUIRE(items[0] + items[1] + items[2] == 3);
        REQUIRE(items[0] * items[1] * items[2] == 0);
        ++hits[static_cast<std::size_t>(items[0] * 2 + (items[1] > items[2]))];
    }
    // Binomial: standard deviation sqrt(60000 * 1/6 * 5/6) = 91.3; five of them.
    for (const int n : hits) CHECK(std::abs(n - 10'000) < 457);
}

TEST_CASE("thresholds are the negative logarithms of even steps") {
    const Thresholds thresholds;
    for (std::uint32_t k = 0; k < 1024; ++k) {
        const double expected = -std::log((k + 0.5) / 1024); // The C library as the outside source.
        CHECK(thresholds.draw(k) == Approx(expected).epsilon(1e-13));
        CHECK(thresholds.draw(k + 5 * 1024) == thresholds.draw(k));
    }
}
