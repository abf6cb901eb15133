// Which fabrics stand in after a shortage, and where: near ones, shared, and spread out.

#include <catch.hpp>
#include <functional>
#include <tuple>

#include "layout/score.h"
#include "mend/judge.h"
#include "oracle/rules.h"
#include "placement/effort.h"
#include "placement/placement.h"

using namespace motley;
using layout::Range;
using mend::Mended;
using mend::Worn;
using oracle::Dice;
using tests::Assignment;
using tests::at;
using tests::Brief;
using tests::Judge;
using Ending = Mended::Ending;

namespace {

/// Families of five that are hard to tell apart, the families well apart from each other.
void dye_in_families(Brief& brief, Dice& dice) {
    for (std::size_t f = 0; f < brief.labs.size(); ++f) {
        const double family = static_cast<double>(f / 5), angle = 2.4 * family;
        const auto off = [&] { return dice.below(400) / 100.0 - 2; };
        brief.labs[f] = {20 + std::fmod(13 * family, 60) + off(), 40 * std::cos(angle) + off(),
                         40 * std::sin(angle) + off()};
    }
}

Brief top_of_families(int columns, int rows, int fabrics, Dice& dice) {
    Brief brief = oracle::squares(columns, rows, oracle::even(columns * rows, fabrics));
    brief.rules.touching = layout::Touching::corner;
    dye_in_families(brief, dice);
    return brief;
}

/// So many of these fabrics are missing; any other may be used more often.
Brief shorten(Brief brief, const std::vector<std::pair<int, int>>& missing) {
    int sum = 0;
    for (const auto& [f, patches] : missing) sum += patches;
    for (Range& range : brief.counts) range.most += sum;
    for (const auto& [f, patches] : missing) {
        const int left = brief.shares[0][at(f)] - patches;
        brief.counts[at(f)] = {left, left};
    }
    brief.role_counts = {brief.counts};
    return brief;
}

std::vector<int> cells_of(const Assignment& top, int f) {
    std::vector<int> cells;
    for (std::size_t cell = 0; cell < top.patches.size(); ++cell)
        if (top.patches[cell] == oracle::id(f)) cells.push_back(static_cast<int>(cell));
    return cells;
}

/// What is made least once the rules are kept with the fewest changes.
std::tuple<double, int, double> rank(const Judge& judge, const Assignment& top) {
    return {judge.oddness(top), judge.piled(top), judge.crowding(top)};
}

Assignment placed(const Brief& brief, std::uint64_t seed) {
    Assignment top = placement::place(brief, effort(seed, 60'000)).assignment;
    REQUIRE(layout::broken_rules(brief, top).empty());
    return top;
}

/// Every choice of three uses and of three fabrics among `choices` that keeps the rules.
void for_threes(const Brief& brief, const Assignment& worn, int f, const std::vector<int>& choices,
                const std::function<void(const Assignment&, bool one_fabric)>& visit) {
    const std::vector<int> uses = cells_of(worn, f);
    for (std::size_t a = 0; a < uses.size(); ++a)
        for (std::size_t b = 0; b < a; ++b)
            for (std::size_t c = 0; c < b; ++c)
                for (const int g : choices)
                    for (const int h : choices)
                        for (const int i : choices) {
                            Assignment top = worn;
                            top.patches[at(uses[a])] = oracle::id(g);
                            top.patches[at(uses[b])] = oracle::id(h);
                            top.patches[at(uses[c])] = oracle::id(i);
                            if (layout::broken_rules(brief, top).empty()) visit(top, g == h && h == i);
                        }
}

} // namespace

TEST_CASE("three squares short on a bed-size top: the best choice of all, by brute force") {
    Dice dice(31);
    Brief brief = top_of_families(11, 13, 30, dice);
    // With nothing but `spread` wished, mending's last aim is a sum that can be counted here.
    brief.wishes.spread = 0.2;
    brief.wishes.colour = brief.wishes.value = 0;
    for (const int f : {0, 7, 22, 29}) {
        const Worn worn{placed(brief, 3 + static_cast<std::uint64_t>(f)), {}};
        const Brief shorter = shorten(brief, {{f, 3}});
        const Judge judge(shorter, worn);
        const Mended mended = mend::mend(shorter, worn, {});
        REQUIRE(mended.ending == Ending::every_rule_met);
        CHECK(mended.changed.size() == 3);
        CHECK(mended.proved_fewest());
        CHECK(oracle::breaches(shorter, mended.assignment).all() == 0);
        CHECK(judge.oddness(mended.assignment) < 0.03); // Three roundings.
        std::vector<int> near;
        for (int g = 0; g < 30; ++g)
            if (g != f && judge.odd(0, f, g) <= 0) near.push_back(g);
        REQUIRE(near.size() >= 3);
        std::tuple<double, int, double> best{1e9, 0, 0}, best_of_one{1e9, 0, 0};
        for_threes(shorter, worn.assignment, f, near, [&](const Assignment& top, bool one_fabric) {
            best = std::min(best, rank(judge, top));
            if (one_fabric) best_of_one = std::min(best_of_one, rank(judge, top));
        });
        CHECK(judge.piled(mended.assignment) == std::get<1>(best));
        CHECK(judge.crowding(mended.assignment) == Approx(std::get<2>(best)).epsilon(1e-4));
        CHECK(rank(judge, mended.assignment) <= best_of_one);
    }
}

TEST_CASE(
    "shortages of chance: as few changes as patches are missing, near, shared, never worse than one "
    "substitute for all") {
    Dice dice(8);
    int tops = 0;
    double spread = 0, spread_of_one = 0;
    for (int round = 0; round < 12; ++round) {
        const Brief brief = top_of_families(12, 12, 25, dice);
        const Assignment top = placed(brief, static_cast<std::uint64_t>(round));
        const int f = dice.below(25), missing = 2 + dice.below(3);
        const Brief shorter = shorten(brief, {{f, missing}});
        const Worn worn{top, {}};
        const Judge judge(shorter, worn);
        const Mended mended = mend::mend(shorter, worn, {});
        REQUIRE(mended.ending == Ending::every_rule_met);
        CHECK(static_cast<int>(mended.changed.size()) == missing);
        CHECK(mended.proved_fewest());
        CHECK(judge.oddness(mended.assignment) == 0);
        for (const int cell : mended.changed) CHECK(worn.assignment.patches[at(cell)] == oracle::id(f));
        // Only the nearest may be used more often.
        int nearest = -1;
        for (int g = 0; g < 25; ++g)
            if (g != f && (nearest < 0 || judge.far(f, g) < judge.far(f, nearest))) nearest = g;
        Brief one = shorter;
        for (int g = 0; g < 25; ++g)
            if (g != f && g != nearest) one.counts[at(g)].most = brief.counts[at(g)].most;
        one.role_counts = {one.counts};
        const Mended single = mend::mend(one, worn, {});
        if (single.changed.size() != mended.changed.size()) continue;
        ++tops;
        CHECK(judge.piled(single.assignment) == missing * missing);
        CHECK(rank(judge, mended.assignment) < rank(judge, single.assignment));
        spread += *layout::judge(brief, mended.assignment).spread;
        spread_of_one += *layout::judge(brief, single.assignment).spread;
    }
    // Sharing comes before spreading, so now and then one substitute lies better; not on the whole.
    CHECK(spread < spread_of_one);
    CHECK(tops >= 8);
}

TEST_CASE("eight short, four near fabrics: two more of each") {
    Dice dice(4);
    const Brief brief = top_of_families(15, 16, 20, dice); // 12 of each.
    const Worn worn{placed(brief, 1), {}};
    const Brief shorter = shorten(brief, {{6, 8}});
    const Judge judge(shorter, worn);
    const Mended mended = mend::mend(shorter, worn, {});
    REQUIRE(mended.ending == Ending::every_rule_met);
    CHECK(mended.changed.size() == 8);
    CHECK(judge.oddness(mended.assignment) == 0);
    for (const int g : {5, 7, 8, 9}) CHECK(cells_of(mended.assignment, g).size() == 14);
    CHECK(judge.piled(mended.assignment) == 16);
}

TEST_CASE("two fabrics of one family short at once do not stand in for each other") {
    Dice dice(12);
    const Brief brief = top_of_families(12, 10, 20, dice);
    const Worn worn{placed(brief, 2), {}};
    const Brief shorter = shorten(brief, {{10, 2}, {11, 3}});
    const Judge judge(shorter, worn);
    const Mended mended = mend::mend(shorter, worn, {});
    REQUIRE(mended.ending == Ending::every_rule_met);
    CHECK(mended.changed.size() == 5);
    CHECK(mended.proved_fewest());
    CHECK(cells_of(mended.assignment, 10).size() == 4);
    CHECK(cells_of(mended.assignment, 11).size() == 3);
    CHECK(judge.oddness(mended.assignment) == 0);
    CHECK(judge.piled(mended.assignment) == 9); // 2 + 2 + 1 over the other three of the family.
}

TEST_CASE("where near fabrics have no room, the nearest that has; what is liked is not overstepped") {
    Dice dice(21);
    const Brief brief = top_of_families(12, 10, 20, dice);
    const Assignment top = placed(brief, 2);
    Brief shorter = shorten(brief, {{0, 3}});
    for (const int g : {1, 2, 3}) shorter.counts[at(g)] = brief.counts[at(g)];
    shorter.role_counts = {shorter.counts};
    // Of the one near fabric with room, one more is liked.
    std::vector<Range> liked = shorter.counts;
    const Mended all = mend::mend(shorter, {top, liked}, {});
    REQUIRE(all.ending == Ending::every_rule_met);
    CHECK(all.changed.size() == 3);
    CHECK(cells_of(all.assignment, 4).size() == 9);
    liked[4].most = 7;
    const Mended some = mend::mend(shorter, {top, liked}, {});
    REQUIRE(some.ending == Ending::every_rule_met);
    CHECK(some.changed.size() == 3);
    CHECK(cells_of(some.assignment, 4).size() == 7);
}

TEST_CASE("a stop is heeded at once, and progress rises to the end") {
    Dice dice(2);
    const Brief brief = top_of_families(12, 10, 20, dice);
    const Worn worn{placed(brief, 2), {}};
    const Brief shorter = shorten(brief, {{0, 3}});
    mend::Effort effort;
    double last = 0;
    effort.progress = [&](double share) {
        CHECK(share >= last);
        last = share;
    };
    CHECK(mend::mend(shorter, worn, effort).ending == Ending::every_rule_met);
    CHECK(last <= 1);
    CHECK(last > 0);
    std::stop_source stopped;
    stopped.request_stop();
    effort.stop = stopped.get_token();
    effort.progress = {};
    const Mended mended = mend::mend(shorter, worn, effort);
    CHECK(mended.ending == Ending::none_found);
    CHECK(mended.assignment == worn.assignment);
}
