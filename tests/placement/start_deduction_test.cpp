// Deduction against brute force: what it fills keeps the rules, what it calls impossible is; and it fills
// tops that are known to be possible, at sizes where exchanges alone do not.

#include "placement/start_deduction.h"

#include <algorithm>
#include <catch.hpp>

#include "oracle/fillings.h"
#include "oracle/planted.h"
#include "oracle/small_boards.h"
#include "placement/effort.h"
#include "placement/start.h"
#include "placement/start_balance.h"
#include "placement/start_puzzle.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;
using placement::Solved;

namespace {

/// Rules and pins alone: any fabric of a role as often as it will.
layout::Brief uncounted(layout::Brief brief) {
    for (std::size_t f = 0; f < brief.counts.size(); ++f) {
        brief.counts[f] = {0, brief.patches()};
        for (auto& role : brief.role_counts)
            if (role[f].most > 0) role[f] = {0, brief.cells()};
    }
    return brief;
}

layout::Assignment anything(const layout::Brief& brief) {
    layout::Assignment top;
    top.patches.assign(at(brief.patches()), oracle::id(0));
    for (const int turn : brief.turns) top.turns.push_back(static_cast<std::uint8_t>(std::max(0, turn)));
    return top;
}

/// With every way to turn the units that are open.
bool any_filling(layout::Brief brief, int cell = 0) {
    if (cell == brief.cells()) return oracle::Fillings(brief).any();
    if (brief.turns[at(cell)] >= 0) return any_filling(std::move(brief), cell + 1);
    for (int turn = 0; turn < 4; ++turn) {
        brief.turns[at(cell)] = turn;
        if (any_filling(brief, cell + 1)) return true;
    }
    return false;
}

struct Verdicts {
    int found = 0, impossible = 0;
};

void check_deduction(const layout::Brief& brief, bool counted, Verdicts& verdicts) {
    const placement::Model model(brief);
    const layout::Assignment start = anything(brief);
    placement::Puzzle puzzle = model.turns_matter() ? placement::puzzle_with_turns(model, start)
                                                    : placement::puzzle_of(model, start);
    if (counted) {
        puzzle.most.assign(at(puzzle.fabrics), brief.patches());
        for (int f = 0; f < model.fabrics; ++f) puzzle.most[at(f)] = brief.counts[at(f)].most;
    }
    placement::Chance chance(1, 0);
    placement::Deduction deduction(puzzle, chance);
    const Solved solved = deduction.solve(100'000, 100'000'000);
    INFO(brief.columns << " x " << brief.rows << ", " << brief.names.size() << " fabrics");
    REQUIRE(solved != Solved::given_up);
    REQUIRE((solved == Solved::found) == any_filling(brief));
    verdicts.impossible += solved == Solved::impossible;
    if (solved != Solved::found) return;
    ++verdicts.found;
    const std::vector<int> filling = deduction.filling();
    layout::Assignment top = start;
    std::size_t next = at(brief.patches());
    for (std::size_t patch = 0; patch < top.patches.size(); ++patch)
        top.patches[patch] = oracle::id(filling[patch]);
    for (std::size_t cell = 0; cell < top.turns.size() && model.turns_matter(); ++cell)
        if (brief.turns[cell] < 0)
            top.turns[cell] = static_cast<std::uint8_t>(filling[next++] - model.fabrics);
    CHECK(oracle::breaches(brief, top).all() == 0);
}

} // namespace

TEST_CASE("deduction finds a filling exactly where there is one: plain squares") {
    Dice dice(31);
    Verdicts verdicts;
    for (int k = 0; k < 1500; ++k) {
        layout::Brief brief = oracle::drawn_squares(2, 4, k % 2 == 0 ? 5 : 7, dice);
        brief.rules.touching = k % 3 == 0 ? Touching::edge : Touching::corner;
        if (k % 5 == 3) brief.rules.apart = 3;
        if (k % 5 == 4) brief.rules.line = true;
        if (k % 7 == 1) brief.exempt[0] = 1;
        if (k % 7 == 2) brief.labs[0] = brief.labs[1], brief.rules.same_if_closer_than = 1;
        const bool counted = k % 4 == 0 && brief.cells() <= 12;
        const auto board = oracle::pinned(brief, dice.below(8), dice);
        if (board) check_deduction(counted ? *board : uncounted(*board), counted, verdicts);
    }
    CHECK(verdicts.found > 200);
    CHECK(verdicts.impossible > 200);
}

TEST_CASE(
    "deduction finds a filling exactly where there is one: half-square triangles, turns fixed or open") {
    Dice dice(32);
    Verdicts verdicts;
    for (int k = 0; k < 600; ++k) {
        const int columns = 1 + dice.below(3), rows = 1 + dice.below(2), fabrics = 2 + dice.below(3);
        std::vector<int> all(at(fabrics), columns * rows);
        layout::Brief brief = oracle::triangles(columns, rows, all, all);
        for (int& turn : brief.turns) turn = dice.below(4);
        brief.rules.touching = k % 2 == 0 ? Touching::edge : Touching::corner;
        if (k % 4 == 1) brief.rules.contrast = 20;
        if (k % 8 == 3) brief.exempt[0] = 1;
        brief = uncounted(brief);
        layout::Brief pinned = brief;
        for (int pins = dice.below(2 * columns * rows); pins > 0; --pins)
            pinned.pinned[at(dice.below(brief.patches()))] = oracle::id(dice.below(fabrics));
        if (k % 3 != 0)
            for (int& turn : pinned.turns)
                if (dice.below(4) != 0) turn = -1;
        check_deduction(pinned, false, verdicts);
    }
    CHECK(verdicts.found > 100);
    CHECK(verdicts.impossible > 100);
}

TEST_CASE("chains bring the numbers to what was asked and break nothing") {
    // A layout that is known has its own numbers: a filling of other numbers is led back to them.
    for (const std::uint32_t seed : {1U, 2U, 3U}) {
        layout::Rules rules;
        rules.touching = Touching::corner;
        const layout::Brief brief = oracle::planted_squares(20, 20, 6, rules, 10, seed);
        const placement::Model model(brief);
        placement::Chance chance(seed, 0);
        const placement::Puzzle puzzle = placement::puzzle_of(model, placement::pour(model, chance));
        placement::Deduction deduction(puzzle, chance);
        REQUIRE(deduction.solve(20'000, 10'000'000) == Solved::found);
        layout::Assignment top = anything(brief);
        std::vector<int> shown = deduction.filling();
        CHECK(placement::balance(model, puzzle, shown, chance, 20'000'000));
        CHECK(placement::Numbers(model, shown).off() == 0);
        for (std::size_t patch = 0; patch < shown.size(); ++patch)
            top.patches[patch] = oracle::id(shown[patch]);
        CHECK(oracle::breaches(brief, top).all() == 0);
    }
}

TEST_CASE("planted tops with few fabrics and many pins keep every rule from the first seed on") {
    struct Top {
        int columns, rows, fabrics, percent;
        Touching touching;
        int apart;
        bool line;
    };
    const Top tops[] = {
        {60, 60, 4, 5, Touching::corner, 1, false}, {60, 60, 5, 20, Touching::corner, 1, false},
        {60, 60, 3, 5, Touching::edge, 1, false},   {60, 60, 2, 20, Touching::edge, 1, false},
        {24, 20, 9, 20, Touching::edge, 3, false},  {24, 20, 10, 50, Touching::edge, 3, false},
        {11, 13, 9, 0, Touching::edge, 3, false},   {12, 12, 12, 40, Touching::free, 1, true},
        {30, 30, 30, 40, Touching::free, 1, true}};
    for (const Top& t : tops) {
        layout::Rules rules;
        rules.touching = t.touching, rules.apart = t.apart, rules.line = t.line;
        layout::Brief brief = oracle::planted_squares(t.columns, t.rows, t.fabrics, rules, t.percent, 5);
        brief.wishes.spread = brief.wishes.colour = brief.wishes.value = 0; // Only the rules are at stake.
        INFO(t.columns << " x " << t.rows << ", " << t.fabrics << " fabrics, " << t.percent << " % pinned");
        const placement::Outcome outcome = placement::place(brief, effort(1, 1));
        CHECK(outcome.broken.empty());
        if (t.columns <= 30) CHECK(oracle::breaches(brief, outcome.assignment).all() == 0);
    }
    for (const bool one_set : {true, false})
        for (const Touching touching : {Touching::edge, Touching::corner}) {
            layout::Brief brief = oracle::planted_triangles(12, 10, touching == Touching::edge ? 4 : 8,
                                                            one_set, true, touching, 50, 6);
            brief.wishes.spread = brief.wishes.colour = brief.wishes.value = 0;
            const placement::Outcome outcome = placement::place(brief, effort(1, 1));
            INFO("triangles, " << (one_set ? "one set" : "two sets"));
            CHECK(outcome.broken.empty());
            CHECK(oracle::breaches(brief, outcome.assignment).all() == 0);
        }
}
