// What `place` promises, checked over all pairs of patches by code that shares nothing with it
// (tests/oracle).

#include <algorithm>
#include <atomic>
#include <catch.hpp>
#include <chrono>
#include <cmath>

#include "layout/score.h"
#include "oracle/ratios.h"
#include "oracle/rules.h"
#include "oracle/small_boards.h"
#include "oracle/tops.h"
#include "placement/effort.h"
#include "placement/placement.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;
using placement::Ending;
using placement::Outcome;

namespace {

/// Rules, counts, pins, and the three ratios where the slow sums are affordable.
void check_outcome(const layout::Brief& brief, const Outcome& outcome) {
    REQUIRE(outcome.assignment.patches.size() == at(brief.patches()));
    REQUIRE(outcome.assignment.turns.size() == at(brief.cells()));
    const oracle::Breaches breaches = oracle::breaches(brief, outcome.assignment);
    CHECK(outcome.broken.empty() == (breaches.all() == 0));
    CHECK((outcome.ending == Ending::every_rule_met) == outcome.broken.empty());
    if (brief.cells() > 56) return;
    const layout::Score score = layout::judge(brief, outcome.assignment);
    const oracle::Ratios slow(brief, outcome.assignment);
    using Wish = oracle::Ratios::Wish;
    if (score.spread)
        CHECK(*score.spread == Approx(slow.found(Wish::spread) / slow.expected(Wish::spread)).epsilon(1e-9));
    if (score.colour)
        CHECK(*score.colour == Approx(slow.found(Wish::colour) / slow.expected(Wish::colour)).epsilon(1e-9));
    if (score.value && brief.aim.empty())
        CHECK(*score.value ==
              Approx(slow.found(Wish::value) / slow.expected_evenness()).epsilon(1e-9).margin(1e-12));
    CHECK(score.touching == (brief.rules.apart == 1 && !brief.rules.line ? breaches.pairs : score.touching));
    if (brief.aim.empty())
        CHECK(outcome.cost == Approx(oracle::cost(brief, outcome.assignment)).epsilon(1e-9));
}

void check_met(const layout::Brief& brief, const Outcome& outcome) {
    check_outcome(brief, outcome);
    CHECK(outcome.broken.empty());
    CHECK(outcome.first_valid.has_value());
}

layout::Brief corner(layout::Brief brief) {
    brief.rules.touching = Touching::corner;
    return brief;
}

/// Keeps a share of a layout as pins.
layout::Brief planted(layout::Brief brief, const layout::Assignment& top, int percent, std::uint32_t seed) {
    Dice dice(seed);
    for (std::size_t patch = 0; patch < top.patches.size(); ++patch)
        if (dice.below(100) < percent) brief.pinned[patch] = top.patches[patch];
    return brief;
}

int differing(const layout::Assignment& one, const layout::Assignment& other) {
    int differ = 0;
    for (std::size_t patch = 0; patch < one.patches.size(); ++patch)
        differ += one.patches[patch] != other.patches[patch];
    return differ;
}

} // namespace

TEST_CASE("plain squares with every rule and wish") {
    std::uint64_t seed = 1;
    for (const Touching touching : {Touching::free, Touching::edge, Touching::corner})
        for (const int apart : {1, 2, 3})
            for (const bool line : {false, true}) {
                layout::Brief brief = oracle::squares(7, 6, oracle::even(42, 12));
                brief.rules.touching = touching, brief.rules.apart = apart, brief.rules.line = line;
                check_met(brief, placement::place(brief, effort(++seed, 20'000)));
            }
}

TEST_CASE("half-square triangles with fixed and with free turns") {
    for (const bool turning : {false, true})
        for (const double contrast : {0.0, 15.0}) {
            layout::Brief brief = corner(oracle::triangles(6, 5, {5, 5, 5, 5, 5, 5, 0, 0, 0, 0, 0, 0},
                                                           {0, 0, 0, 0, 0, 0, 5, 5, 5, 5, 5, 5}));
            if (turning) brief.turns.assign(30, -1);
            brief.rules.contrast = contrast;
            check_met(brief, placement::place(brief, effort(2, 30'000, 2)));
        }
    layout::Brief shared = oracle::triangles(6, 5, oracle::even(30, 10), oracle::even(30, 10));
    shared.rules.apart = 2;
    check_met(shared, placement::place(shared, effort(3, 30'000)));
}

TEST_CASE("counts with room are kept within their ranges") {
    layout::Brief brief = corner(oracle::squares(8, 8, oracle::even(64, 10)));
    for (std::size_t f = 0; f < 10; ++f)
        brief.counts[f] = brief.role_counts[0][f] = {static_cast<int>(f) % 3, 9};
    REQUIRE(oracle::share_out(brief));
    check_met(brief, placement::place(brief, effort(1, 40'000)));
}

TEST_CASE("the same seed gives the same bytes with one, two and eight threads; another seed another top") {
    for (const bool pieced : {false, true}) {
        layout::Brief brief = pieced ? oracle::triangles(6, 5, oracle::even(30, 10), oracle::even(30, 10))
                                     : corner(oracle::squares(9, 8, oracle::even(72, 12)));
        if (pieced) brief.turns.assign(30, -1);
        const Outcome one = placement::place(brief, effort(5, 10'000, 5, 1));
        check_met(brief, one);
        for (const int threads : {1, 2, 8}) {
            const Outcome again = placement::place(brief, effort(5, 10'000, 5, threads));
            CHECK(again.assignment == one.assignment);
            CHECK(again.cost == one.cost);
            CHECK(again.moves == one.moves);
        }
        CHECK(differing(placement::place(brief, effort(6, 10'000, 5)).assignment, one.assignment) >
              brief.patches() / 3);
    }
}

TEST_CASE(
    "candidates are valid, best first, differ in a third of the free patches and do not depend on threads") {
    layout::Brief brief = corner(oracle::squares(9, 8, oracle::even(72, 12)));
    brief = planted(brief, placement::place(brief, effort(9, 1)).assignment, 10, 1);
    const std::vector<Outcome> found = placement::candidates(brief, effort(4, 10'000, 2), 6);
    REQUIRE(found.size() == 6);
    int free = 0;
    for (const layout::FabricId pin : brief.pinned) free += pin == layout::no_fabric;
    for (std::size_t i = 0; i < found.size(); ++i) {
        check_met(brief, found[i]);
        for (std::size_t j = 0; j < i; ++j) {
            CHECK(found[j].cost <= found[i].cost);
            CHECK(3 * differing(found[i].assignment, found[j].assignment) >= free);
        }
    }
    const std::vector<Outcome> again = placement::candidates(brief, effort(4, 10'000, 2, 8), 6);
    REQUIRE(again.size() == 6);
    for (std::size_t i = 0; i < 6; ++i) CHECK(again[i].assignment == found[i].assignment);
}

TEST_CASE("with only a lightness aim wished and no rule, the result is the sorted one") {
    // Rearrangement inequality (Hardy, Littlewood, Pólya, Inequalities, 1934, 10.2): the sum of squared
    // differences is least when both are sorted.
    for (const std::uint32_t seed : {1U, 2U, 3U}) {
        Dice dice(seed);
        layout::Brief brief = oracle::squares(9, 7, oracle::even(63, 13));
        brief.rules.touching = Touching::free;
        brief.wishes = {.spread = 0, .colour = 0, .value = 1, .aim = layout::Aim::across, .picture = {}};
        for (int cell = 0; cell < 63; ++cell) brief.aim.push_back(10 + dice.below(8000) / 100.0);
        const Outcome outcome = placement::place(brief, effort(seed, 200'000));
        check_met(brief, outcome);
        std::vector<double> light, aim = brief.aim;
        for (const layout::FabricId f : outcome.assignment.patches)
            light.push_back(brief.labs[layout::index(f)].l);
        std::sort(light.begin(), light.end());
        std::sort(aim.begin(), aim.end());
        double best = 0;
        for (std::size_t i = 0; i < aim.size(); ++i) best += (light[i] - aim[i]) * (light[i] - aim[i]) / 63;
        // The search rounds L* to 1/256: pairs that differ by less are equal to it.
        CHECK(layout::sums(brief, outcome.assignment).value.found == Approx(best).epsilon(1e-3));
    }
}

TEST_CASE("a search that is stopped hands back a whole top that keeps the rules") {
    const layout::Brief brief = corner(oracle::squares(10, 10, oracle::even(100, 15)));
    placement::Effort early = effort(1, 1'000'000, 3, 2);
    std::stop_source source;
    source.request_stop();
    early.stop = source.get_token();
    check_met(brief, placement::place(brief, early));
    for (const Outcome& outcome : placement::candidates(brief, early, 3)) check_met(brief, outcome);

    placement::Effort midway = effort(1, 1'000'000, 2, 2);
    std::stop_source later;
    midway.stop = later.get_token();
    midway.progress = [&](double share) {
        CHECK(share >= 0);
        CHECK(share <= 1);
        if (share > 0.01) later.request_stop();
    };
    const Outcome outcome = placement::place(brief, midway);
    check_met(brief, outcome);
    CHECK(outcome.moves < 2'000'000);
}

TEST_CASE("a search against the clock hands back a whole top that keeps the rules") {
    const layout::Brief brief = corner(oracle::squares(10, 10, oracle::even(100, 15)));
    for (const double seconds : {0.0, 0.02}) {
        placement::Effort timed = effort(1, 0, 2, 2);
        timed.seconds = seconds;
        check_met(brief, placement::place(brief, timed));
    }
}

TEST_CASE("tight tops: half the cells of one fabric, four fabrics alone under the corner rule") {
    for (const auto& [columns, rows] : {std::pair{10, 12}, {11, 13}, {100, 100}}) {
        const int cells = columns * rows, half = (cells + 1) / 2;
        std::vector<int> counts{half};
        for (const int n : oracle::even(cells - half, 9)) counts.push_back(n);
        for (const std::uint64_t seed : {1U, 2U}) {
            const layout::Brief edge = oracle::squares(columns, rows, counts);
            check_met(edge, placement::place(edge, effort(seed, 1)));
            std::vector<int> residues(4);
            for (int cell = 0; cell < cells; ++cell)
                ++residues[at(cell / columns % 2 * 2 + cell % columns % 2)];
            const layout::Brief four = corner(oracle::squares(columns, rows, residues));
            check_met(four, placement::place(four, effort(seed, 1)));
        }
    }
}

TEST_CASE("pins planted from a layout that exists are met again") {
    struct Top {
        int columns, rows, fabrics, percent;
        Touching touching;
    };
    const Top tops[] = {{10, 12, 30, 20, Touching::edge},   {10, 12, 12, 20, Touching::corner},
                        {10, 12, 6, 10, Touching::corner},  {10, 12, 3, 10, Touching::edge},
                        {30, 40, 40, 15, Touching::corner}, {100, 100, 200, 10, Touching::corner}};
    for (const Top& t : tops)
        for (const std::uint64_t seed : {1U, 2U}) {
            layout::Brief brief =
                oracle::squares(t.columns, t.rows, oracle::even(t.columns * t.rows, t.fabrics));
            brief.rules.touching = t.touching;
            const Outcome whole =
                placement::place(brief, effort(seed + 50, t.columns < 50 ? 20'000 : 200'000));
            INFO(t.columns << " x " << t.rows << ", " << t.fabrics << " fabrics, " << t.percent
                           << " % pinned, seed " << seed);
            REQUIRE(whole.broken.empty());
            const layout::Brief pinned =
                planted(brief, whole.assignment, t.percent, static_cast<std::uint32_t>(seed));
            CHECK(placement::obstacles(pinned).empty());
            check_met(pinned, placement::place(pinned, effort(seed, 1)));
        }
}
