// The three ratios against their wording in the contract, computed the slow way (tests/oracle/ratios.h),
// against full enumeration of all shuffles of tiny tops, and against the mean of thousands of shuffles.

#include "layout/score.h"

#include <algorithm>
#include <catch.hpp>
#include <cmath>
#include <numeric>

#include "oracle/ratios.h"
#include "oracle/rules.h"
#include "oracle/tops.h"

using namespace motley;
using oracle::at;
using oracle::Dice;
using oracle::Ratios;
using Wish = oracle::Ratios::Wish;

namespace {

layout::Brief pieced(int columns, int rows, int fabrics, const std::vector<int>& turns) {
    layout::Brief brief = oracle::triangles(columns, rows, oracle::even(columns * rows, fabrics),
                                            oracle::even(columns * rows, fabrics));
    for (int cell = 0; cell < columns * rows; ++cell)
        brief.turns[at(cell)] = turns[at(cell / columns % 2 * 2 + cell % columns % 2)];
    return brief;
}

void check_ratios(const layout::Brief& brief, Dice& dice) {
    const layout::Assignment top = oracle::shuffled(brief, dice);
    const Ratios slow(brief, top);
    const layout::Score score = layout::judge(brief, top);
    REQUIRE(score.spread.has_value());
    REQUIRE(score.colour.has_value());
    CHECK(*score.spread == Approx(slow.found(Wish::spread) / slow.expected(Wish::spread)).epsilon(1e-9));
    CHECK(*score.colour == Approx(slow.found(Wish::colour) / slow.expected(Wish::colour)).epsilon(1e-9));
    const bool wide = brief.columns >= 4 && brief.rows >= 4 && brief.cells() > 16;
    if (brief.aim.empty()) {
        CHECK(score.value.has_value() == wide);
        if (wide)
            CHECK(*score.value == Approx(slow.found(Wish::value) / slow.expected_evenness()).epsilon(1e-9));
    }
    const oracle::Breaches breaches = oracle::breaches(brief, top);
    CHECK(score.broken.empty() == (breaches.all() == 0));
}

/// Expectations against all orders of the units, each once.
void check_by_enumeration(const layout::Brief& brief, Dice& dice) {
    const layout::Assignment top = oracle::shuffled(brief, dice);
    const Ratios slow(brief, top);
    std::vector<int> order(at(brief.cells()));
    std::iota(order.begin(), order.end(), 0);
    double spread = 0, colour = 0, value = 0, orders = 0;
    do {
        spread += slow.figure(Wish::spread, order);
        colour += slow.figure(Wish::colour, order);
        if (!brief.aim.empty()) value += slow.figure(Wish::value, order);
        ++orders;
    } while (std::next_permutation(order.begin(), order.end()));
    const layout::Sums sums = layout::sums(brief, top);
    CHECK(sums.spread.expected == Approx(spread / orders).epsilon(1e-9));
    CHECK(sums.colour.expected == Approx(colour / orders).epsilon(1e-9));
    CHECK(sums.spread.found == Approx(slow.found(Wish::spread)).epsilon(1e-9));
    CHECK(sums.colour.found == Approx(slow.found(Wish::colour)).epsilon(1e-9));
    if (brief.aim.empty()) return;
    CHECK(sums.value.expected == Approx(value / orders).epsilon(1e-9));
    CHECK(sums.value.found == Approx(slow.found(Wish::value)).epsilon(1e-9));
}

/// The mean of so many shuffles lies within five of its standard errors of the expectation (1 in 1.7 million
/// by chance; the dice are fixed).
void check_by_shuffling(const layout::Brief& brief, int shuffles, Dice& dice) {
    const layout::Assignment top = oracle::shuffled(brief, dice);
    const Ratios slow(brief, top);
    const layout::Sums sums = layout::sums(brief, top);
    std::vector<int> order(at(brief.cells()));
    std::iota(order.begin(), order.end(), 0);
    const std::pair<Wish, double> wishes[] = {{Wish::spread, sums.spread.expected},
                                              {Wish::colour, sums.colour.expected},
                                              {Wish::value, sums.value.expected}};
    for (const auto& [wish, expected] : wishes) {
        double sum = 0, squares = 0;
        for (int k = 0; k < shuffles; ++k) {
            dice.shuffle(order);
            const double figure = slow.figure(wish, order);
            sum += figure, squares += figure * figure;
        }
        const double mean = sum / shuffles, error = std::sqrt((squares / shuffles - mean * mean) / shuffles);
        INFO("wish " << static_cast<int>(wish) << ": mean " << mean << " +- " << error << ", expected "
                     << expected);
        CHECK(std::abs(mean - expected) < 5 * error);
        CHECK(error < expected / 20); // Else the check says nothing.
    }
}

} // namespace

TEST_CASE("ratios are those of the slow formulas") {
    Dice dice(1);
    for (const auto& [columns, rows] : {std::pair{2, 3}, {5, 4}, {6, 5}, {9, 2}, {4, 4}, {7, 1}}) {
        const int cells = columns * rows;
        layout::Brief plain = oracle::squares(columns, rows, oracle::even(cells, std::min(5, cells / 2)));
        check_ratios(plain, dice);
        plain.exempt[0] = 1;
        check_ratios(plain, dice);
        check_ratios(pieced(columns, rows, 4, {0, 0, 0, 0}), dice);
        check_ratios(pieced(columns, rows, 5, {0, 1, 3, 2}), dice);
        layout::Brief any = pieced(columns, rows, 4, {0, 0, 0, 0});
        any.turns.assign(at(cells), -1);
        any.exempt[1] = 1;
        check_ratios(any, dice);
    }
}

TEST_CASE("expectations are the means over every order of the units") {
    Dice dice(2);
    for (const auto& [columns, rows] : {std::pair{2, 2}, {3, 2}, {7, 1}}) {
        const int cells = columns * rows;
        layout::Brief plain = oracle::squares(columns, rows, oracle::even(cells, 3));
        for (int cell = 0; cell < cells; ++cell) plain.aim.push_back(90 - 11.0 * cell);
        check_by_enumeration(plain, dice);
        layout::Brief triangles = pieced(columns, rows, 3, {0, 1, 2, 3});
        for (int cell = 0; cell < cells; ++cell) triangles.aim.push_back(30 + 7.0 * cell);
        check_by_enumeration(triangles, dice);
        triangles.exempt[2] = 1;
        check_by_enumeration(triangles, dice);
    }
}

TEST_CASE("expectations are the means of many shuffles") {
    Dice dice(3);
    check_by_shuffling(oracle::squares(6, 5, oracle::even(30, 6)), 4000, dice);
    check_by_shuffling(pieced(5, 5, 5, {0, 1, 3, 2}), 4000, dice);
    layout::Brief any = pieced(5, 4, 4, {0, 0, 0, 0});
    for (int& turn : any.turns) turn = dice.below(4);
    check_by_shuffling(any, 4000, dice);
    layout::Brief aimed = oracle::squares(5, 5, oracle::even(25, 6));
    for (int cell = 0; cell < 25; ++cell) aimed.aim.push_back(10 + 3.0 * cell);
    check_by_shuffling(aimed, 4000, dice);
}

TEST_CASE("plain squares: the closed form of the contract") {
    // E[S] = sum over fabrics of n(n - 1) / (N(N - 1)), times the sum of 1/d^2 over pairs of cells.
    Dice dice(4);
    const layout::Brief brief = oracle::squares(8, 6, {20, 11, 9, 7, 1});
    double pairs = 0, share = 0;
    for (int a = 0; a < 48; ++a)
        for (int b = 0; b < a; ++b)
            pairs += 1.0 / ((a / 8 - b / 8) * (a / 8 - b / 8) + (a % 8 - b % 8) * (a % 8 - b % 8));
    for (const int n : {20, 11, 9, 7, 1}) share += n * (n - 1) / (48.0 * 47);
    CHECK(layout::sums(brief, oracle::shuffled(brief, dice)).spread.expected ==
          Approx(share * pairs).epsilon(1e-12));
}

TEST_CASE("ratios that mean nothing are left empty") {
    Dice dice(5);
    const layout::Brief one = oracle::squares(1, 1, {1});
    const layout::Score alone = layout::judge(one, oracle::shuffled(one, dice));
    CHECK_FALSE(alone.spread.has_value());
    CHECK_FALSE(alone.colour.has_value());
    CHECK_FALSE(alone.value.has_value());
    const layout::Brief different = oracle::squares(3, 2, {1, 1, 1, 1, 1, 1}); // No fabric twice: no spread.
    CHECK_FALSE(layout::judge(different, oracle::shuffled(different, dice)).spread.has_value());
    const layout::Brief solid = oracle::squares(5, 5, {25}); // No second fabric, no difference in value.
    const layout::Score score = layout::judge(solid, oracle::shuffled(solid, dice));
    CHECK_FALSE(score.colour.has_value());
    CHECK_FALSE(score.value.has_value());
    CHECK(score.spread == Approx(1));
}

TEST_CASE("closest is the least step between two uses, the larger of rows and columns") {
    Dice dice(6);
    for (int round = 0; round < 20; ++round) {
        layout::Brief brief = oracle::squares(6, 5, {9, 8, 8, 4, 1});
        brief.exempt[1] = 1;
        const layout::Assignment top = oracle::shuffled(brief, dice);
        const layout::Score score = layout::judge(brief, top);
        for (int f = 0; f < 5; ++f) {
            int least = 100;
            for (int a = 0; a < 30; ++a)
                for (int b = 0; b < a; ++b)
                    if (top.patches[at(a)] == oracle::id(f) && top.patches[at(b)] == oracle::id(f))
                        least = std::min(least, std::max(a / 6 - b / 6, std::abs(a % 6 - b % 6)));
            const auto found = score.closest.find("f" + std::to_string(f));
            REQUIRE((found != score.closest.end()) == (f != 1 && f != 4));
            if (found != score.closest.end()) CHECK(found->second == least);
        }
    }
}
