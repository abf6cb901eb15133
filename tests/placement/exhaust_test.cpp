// On tiny boards the best is what brute force finds, whatever the effort.

#include "placement/exhaust.h"

#include <catch.hpp>
#include <cstdlib>
#include <iostream>

#include "oracle/cheapest.h"
#include "oracle/small_boards.h"
#include "placement/effort.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;

namespace {

constexpr long most_fillings = 60'000; // What brute force goes through in some hundredths of a second.

/// One of eight mixes of the wishes; the aims are lightness by cell, as a picture gives them.
void wish(layout::Brief& brief, int mix, Dice& dice) {
    brief.wishes.spread = mix % 2 == 0 ? 1 : 0.25;
    brief.wishes.colour = mix / 2 % 2 == 0 ? 0.5 : 0;
    brief.wishes.value = mix / 4 % 2 == 0 ? 0 : 1;
    if (brief.wishes.value > 0)
        for (int cell = 0; cell < brief.cells(); ++cell) brief.aim.push_back(10 + dice.below(80));
}

layout::Rules rules_of(int k) {
    layout::Rules rules;
    rules.touching = k % 3 == 0 ? Touching::free : k % 3 == 1 ? Touching::edge : Touching::corner;
    rules.line = k % 7 == 5;
    rules.apart = k % 8 == 6 ? 3 : 1;
    return rules;
}

void loosen(layout::Brief& brief, Dice& dice) {
    for (std::size_t f = 0; f < brief.counts.size(); ++f) {
        if (dice.below(2) == 0) continue;
        const int fewer = dice.below(3), more = dice.below(3);
        for (std::vector<layout::Range>* ranges : {&brief.counts, &brief.role_counts[0]})
            (*ranges)[f] = {std::max(0, (*ranges)[f].least - fewer), (*ranges)[f].most + more};
        if (brief.role_counts.size() > 1)
            brief.role_counts[1][f] = {std::max(0, brief.role_counts[1][f].least - fewer),
                                       brief.role_counts[1][f].most + more};
    }
}

/// True when brute force could say the best, and then the search has found it.
bool best_is_found(const layout::Brief& brief, int k) {
    const std::optional<double> best = oracle::Cheapest(brief).cost(most_fillings);
    if (!best || *best >= 1e300) return false;
    // Few moves or many, against the clock or not, on one thread or three.
    placement::Effort effort =
        ::effort(static_cast<std::uint64_t>(k), k % 2 == 0 ? 1 : 20'000, 1 + k % 3, 1 + k % 3);
    if (k % 5 == 0) effort.seconds = 0.0;
    const placement::Outcome outcome = placement::place(brief, effort);
    INFO("board " << k << ", " << brief.columns << " x " << brief.rows << ", " << brief.names.size()
                  << " fabrics");
    REQUIRE(outcome.broken.empty());
    CHECK(oracle::breaches(brief, outcome.assignment).all() == 0);
    CHECK(outcome.cost == Approx(*best).epsilon(1e-9).margin(1e-12));
    return true;
}

} // namespace

TEST_CASE("plain squares up to 4 x 4: the best of all") {
    Dice dice(11);
    int boards = 0, of_sixteen = 0;
    for (int k = 0; k < 130; ++k) {
        const int columns = k % 2 == 0 ? 4 : 2 + dice.below(3), rows = k % 2 == 0 ? 4 : 2 + dice.below(3);
        layout::Brief brief =
            oracle::squares(columns, rows, oracle::even(columns * rows, 2 + dice.below(k % 3 == 0 ? 2 : 5)));
        brief.rules = rules_of(dice.below(24));
        if (k % 4 == 1) loosen(brief, dice);
        if (k % 9 == 2) brief.exempt[0] = 1;
        if (k % 9 == 4) brief.labs[0] = brief.labs[1], brief.rules.same_if_closer_than = 1;
        wish(brief, k, dice);
        const auto board = oracle::pinned(brief, dice.below(columns * rows / 2), dice);
        if (!board || !best_is_found(*board, k)) continue;
        ++boards;
        of_sixteen += columns * rows == 16;
    }
    CHECK(boards >= 40);
    CHECK(of_sixteen >= 15);
}

TEST_CASE("half-square triangles of up to 16 patches: the best of all") {
    Dice dice(12);
    int boards = 0, of_sixteen = 0;
    for (int k = 0; k < 120; ++k) {
        const int columns = k % 2 == 0 ? 4 : 1 + dice.below(4), rows = k % 2 == 0 ? 2 : 1 + dice.below(2);
        const int cells = columns * rows, fabrics = 2 + dice.below(3);
        if (cells < 2) continue; // No ratio is defined.
        std::vector<int> prints = oracle::even(cells, fabrics), grounds = prints;
        if (k % 3 == 0) { // Prints and grounds from two sets.
            prints.insert(prints.end(), at(fabrics), 0);
            grounds.insert(grounds.begin(), at(fabrics), 0);
        }
        layout::Brief brief = oracle::triangles(columns, rows, prints, grounds);
        for (int& turn : brief.turns) turn = dice.below(4);
        brief.rules = rules_of(dice.below(24));
        if (k % 4 == 1) brief.rules.contrast = 10;
        if (k % 5 == 1) loosen(brief, dice);
        if (k % 9 == 2) brief.exempt[0] = 1;
        wish(brief, k, dice);
        const auto board = oracle::pinned(brief, dice.below(cells), dice);
        if (!board) continue;
        layout::Brief open = *board;
        if (cells <= 4 && k % 3 == 1) open.turns.assign(at(cells), -1);
        if (!best_is_found(open, k)) continue;
        ++boards;
        of_sixteen += cells == 8;
    }
    CHECK(boards >= 30);
    CHECK(of_sixteen >= 10);
}

TEST_CASE("sixteen different fabrics on 4 x 4 are too many to go through: the same answer still") {
    layout::Brief brief = oracle::squares(4, 4, std::vector<int>(16, 1));
    brief.rules.touching = Touching::free;
    brief.wishes = {.spread = 0, .colour = 1, .value = 0, .aim = layout::Aim::even, .picture = {}};
    const placement::Model model(brief);
    const placement::Outcome outcome = placement::place(brief, effort(1, 10'000, 2));
    CHECK_FALSE(placement::cheapest(model, outcome.assignment, 10'000).proved);
    // Another seed begins elsewhere and comes to the same: this is not proved to be the best, but it is no
    // accident either.
    CHECK(placement::place(brief, effort(2, 10'000, 2)).cost == Approx(outcome.cost).epsilon(1e-9));
}
