// Tiny boards against brute force: nothing possible is called impossible, and what can be laid out is.

#include <catch.hpp>
#include <cstdlib>
#include <iostream>

#include "oracle/fillings.h"
#include "oracle/small_boards.h"
#include "placement/effort.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;

namespace {

struct Verdicts {
    int possible = 0, impossible = 0, proved = 0, missed = 0;
    int searched = 0,
        refuted = 0; ///< Impossible boards that `place` was asked for all the same, and knew so.
};

std::string told(const layout::Brief& brief) {
    std::string out = std::to_string(brief.columns) + " x " + std::to_string(brief.rows) + ", counts";
    for (const layout::Range& range : brief.counts)
        out += " " + std::to_string(range.least) + ".." + std::to_string(range.most);
    out += ", touching " + std::to_string(static_cast<int>(brief.rules.touching)) + ", apart " +
           std::to_string(brief.rules.apart) + (brief.rules.line ? ", line" : "") + ", pins";
    for (std::size_t i = 0; i < brief.pinned.size(); ++i)
        if (brief.pinned[i] != layout::no_fabric)
            out += " " + std::to_string(i) + "=" + std::to_string(layout::index(brief.pinned[i]));
    return out;
}

void judge_board(const layout::Brief& brief, Verdicts& verdicts) {
    INFO(told(brief));
    const std::vector<Problem> problems = placement::obstacles(brief);
    layout::Brief unwished = brief; // Only the rules are at stake here.
    unwished.wishes = {.spread = 0, .colour = 0, .value = 0, .aim = layout::Aim::even, .picture = {}};
    if (!oracle::Fillings(brief).any()) {
        ++verdicts.impossible;
        verdicts.proved += !problems.empty();
        if (verdicts.impossible % 16 != 1) return;
        const placement::Ending ending = placement::place(unwished, effort(1, 1)).ending;
        CHECK(ending != placement::Ending::every_rule_met);
        ++verdicts.searched;
        verdicts.refuted += ending == placement::Ending::impossible;
        return;
    }
    ++verdicts.possible;
    if (!problems.empty()) FAIL("called impossible: " << text(problems));
    const placement::Outcome outcome = placement::place(unwished, effort(1, 1));
    CHECK((outcome.ending == placement::Ending::every_rule_met) == outcome.broken.empty());
    CHECK(outcome.broken.empty() == (oracle::breaches(brief, outcome.assignment).all() == 0));
    verdicts.missed += !outcome.broken.empty();
    CHECK(outcome.broken.empty());
}

const std::vector<layout::Rules>& rule_sets() {
    static const std::vector<layout::Rules> sets = [] {
        std::vector<layout::Rules> out(6);
        out[0].touching = Touching::edge;
        out[1].touching = Touching::corner;
        out[2].touching = Touching::free, out[2].apart = 2;
        out[3].touching = Touching::free, out[3].line = true;
        out[4].touching = Touching::corner, out[4].line = true;
        out[5].touching = Touching::edge, out[5].apart = 3;
        return out;
    }();
    return sets;
}

void report(const char* what, const Verdicts& v) {
    if (std::getenv("MOTLEY_REPORT"))
        std::cout << what << ": " << v.possible << " possible, " << v.missed << " not laid out; "
                  << v.impossible << " impossible, " << v.proved << " proved\n";
}

} // namespace

TEST_CASE("all plain squares up to 3 x 4 with up to four fabrics") {
    Verdicts verdicts;
    oracle::for_small_squares([&](layout::Brief& brief) {
        for (const layout::Rules& rules : rule_sets()) {
            brief.rules = rules;
            judge_board(brief, verdicts);
        }
    });
    report("all up to 3 x 4", verdicts);
    CHECK(verdicts.possible > 150);
    CHECK(verdicts.proved == verdicts.impossible);
}

TEST_CASE("the same with pins") {
    Verdicts verdicts;
    Dice dice(1);
    oracle::for_small_squares([&](layout::Brief& brief) {
        for (const layout::Rules& rules : rule_sets())
            for (int pins = 1; pins <= 4; ++pins) {
                brief.rules = rules;
                if (const auto board = oracle::pinned(brief, pins, dice)) judge_board(*board, verdicts);
            }
    });
    report("with pins", verdicts);
    CHECK(verdicts.possible > 400);
    CHECK(verdicts.proved == verdicts.impossible);
}

TEST_CASE("boards of chance from 3 x 3 to 5 x 5 with pins") {
    for (const Touching touching : {Touching::edge, Touching::corner}) {
        Verdicts verdicts;
        Dice dice(touching == Touching::edge ? 7 : 8);
        for (int k = 0; k < 1500; ++k) {
            layout::Brief brief =
                oracle::drawn_squares(3, k % 5 == 0 ? 5 : 4, touching == Touching::edge ? 4 : 6, dice);
            brief.rules.touching = touching;
            if (const auto board = oracle::pinned(brief, dice.below(7), dice)) judge_board(*board, verdicts);
        }
        report(touching == Touching::edge ? "chance, edge" : "chance, corner", verdicts);
        // At least 99 of 100 under the edge rule and 97 of 100 under the corner rule are asked for.
        CHECK(verdicts.impossible > 100);
        CHECK(verdicts.possible > 100);
        CHECK(verdicts.proved == verdicts.impossible);
        CHECK(verdicts.refuted > 0.9 * verdicts.searched);
    }
}

TEST_CASE("ranges, alike fabrics and backgrounds on boards of chance") {
    Verdicts verdicts;
    Dice dice(9);
    for (int k = 0; k < 600; ++k) {
        layout::Brief brief = oracle::drawn_squares(2, 4, 5, dice);
        brief.rules = rule_sets()[at(dice.below(6))];
        for (std::size_t f = 0; f < brief.counts.size(); ++f)
            if (dice.below(3) == 0) {
                brief.counts[f] = {std::max(0, brief.counts[f].least - dice.below(3)),
                                   brief.counts[f].most + dice.below(3)};
                brief.role_counts[0][f] = brief.counts[f];
            }
        if (dice.below(3) == 0) brief.exempt[at(dice.below(static_cast<int>(brief.names.size())))] = 1;
        if (dice.below(3) == 0) brief.labs[0] = brief.labs[1], brief.rules.same_if_closer_than = 1;
        if (const auto board = oracle::pinned(brief, dice.below(4), dice)) judge_board(*board, verdicts);
    }
    report("ranges", verdicts);
    CHECK(verdicts.possible > 100);
    CHECK(verdicts.proved == verdicts.impossible);
}

TEST_CASE("half-square triangles of chance up to 3 x 3") {
    Verdicts verdicts;
    Dice dice(10);
    for (int k = 0; k < 400; ++k) {
        const int columns = 1 + dice.below(3), rows = 1 + dice.below(3), fabrics = 2 + dice.below(3);
        std::vector<int> prints(at(fabrics)), grounds(at(fabrics));
        for (int cell = 0; cell < columns * rows; ++cell)
            ++prints[at(dice.below(fabrics))], ++grounds[at(dice.below(fabrics))];
        layout::Brief brief = oracle::triangles(columns, rows, prints, grounds);
        for (int& turn : brief.turns) turn = dice.below(4);
        brief.rules = rule_sets()[at(dice.below(6))];
        if (dice.below(4) == 0) brief.rules.contrast = 20;
        if (dice.below(4) == 0) brief.exempt[0] = 1;
        if (const auto board = oracle::pinned(brief, dice.below(4), dice)) judge_board(*board, verdicts);
    }
    report("triangles", verdicts);
    CHECK(verdicts.possible > 50);
    CHECK(verdicts.impossible > 50);
    CHECK(verdicts.proved == verdicts.impossible);
}
