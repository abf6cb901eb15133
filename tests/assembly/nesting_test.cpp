#include "assembly/nesting.h"

#include <catch.hpp>

#include "oracle/nesting.h"
#include "oracle/tops.h"

using namespace motley::assembly;

namespace {

struct Net {
    std::vector<Loose> seams;
    std::vector<oracle::Pressable> pressables;
    std::vector<std::pair<int, int>> joints;
};

/// Chains of chance, their seams numbered in no order, some held to one side, some with inner seams beside
/// them.
Net net_of(oracle::Dice& dice) {
    Net net;
    const int many = 1 + dice.below(11);
    net.seams.resize(oracle::at(many));
    std::vector<int> order;
    for (int i = 0; i < many; ++i) order.push_back(i);
    dice.shuffle(order);
    for (int i = 0; i < many; ++i) {
        Loose& seam = net.seams[oracle::at(order[oracle::at(i)])];
        if (dice.below(8) == 0) seam.fixed = dice.below(2);
        if (seam.fixed < 0) seam.darker = dice.below(3) - 1;
        if (dice.below(5) == 0) seam.met = {dice.below(3), dice.below(3)};
        if (i + 1 < many && dice.below(4) > 0) {
            seam.below = order[oracle::at(i + 1)];
            net.joints.emplace_back(order[oracle::at(i)], seam.below);
        }
    }
    for (const Loose& seam : net.seams) net.pressables.push_back({seam.darker, seam.fixed, seam.met});
    return net;
}

} // namespace

TEST_CASE("the best way to press a chain is the best of all ways") {
    oracle::Dice dice(91);
    for (int round = 0; round < 600; ++round) {
        const Net net = net_of(dice);
        const std::vector<Way> ways = most_nests(net.seams);
        std::pair<int, int> got{0, 0};
        for (std::size_t s = 0; s < ways.size(); ++s) {
            const Loose& seam = net.seams[s];
            if (seam.fixed >= 0) REQUIRE(ways[s] == seam.fixed);
            got.first += seam.met[ways[s]];
            got.second += seam.fixed < 0 && seam.darker == ways[s];
        }
        for (const auto& [one, other] : net.joints)
            got.first += ways[oracle::at(one)] != ways[oracle::at(other)];
        REQUIRE(got == oracle::best_pressing(net.pressables, net.joints));
    }
}

TEST_CASE("of equally good ways the uppermost seam lies to the right") {
    std::vector<Loose> chain(3);
    chain[2].below = 0;
    chain[0].below = 1;
    CHECK(most_nests(chain) == std::vector<Way>{left, right, right});
    CHECK(most_nests({}).empty());
}

TEST_CASE("a chain that goes round, or runs together, is a mistake of ours") {
    std::vector<Loose> together(3);
    together[0].below = together[1].below = 2;
    CHECK_THROWS_AS(most_nests(together), std::logic_error);
    std::vector<Loose> round(2);
    round[0].below = 1;
    round[1].below = 0;
    CHECK_THROWS_AS(most_nests(round), std::logic_error);
}
