// Sewn units in the way, against brute force on small boards: unpicking those named does, and no fewer of
// them.

#include "mend/in_the_way.h"

#include <algorithm>
#include <catch.hpp>

#include "oracle/fillings.h"
#include "oracle/small_boards.h"

using namespace motley;
using layout::Assignment;
using layout::Brief;
using layout::Touching;
using mend::Hindrance;
using oracle::at;
using oracle::Dice;

namespace {

bool can_be_met(const Brief& brief, const Assignment& worn, const std::vector<char>& sewn) {
    return oracle::Fillings(mend::held(brief, worn, sewn)).any();
}

std::vector<char> without(std::vector<char> sewn, const std::vector<Hindrance>& units, int kept = -1) {
    for (const Hindrance& unit : units)
        if (unit.cell != kept) sewn[at(unit.cell)] = 0;
    return sewn;
}

} // namespace

TEST_CASE("unpicking the units named does, and none of them could have stayed") {
    Dice dice(9);
    int blamed = 0, several = 0, not_to_blame = 0;
    for (int round = 0; round < 400; ++round) {
        Brief brief = oracle::drawn_squares(3, 3, 5, dice);
        brief.rules.touching = std::vector{Touching::free, Touching::edge}[at(dice.below(2))];
        const Assignment worn = oracle::shuffled(brief, dice);
        brief.rules.touching = dice.below(2) == 0 ? Touching::corner : Touching::edge;
        std::vector<char> sewn(at(brief.cells()));
        for (int k = 0; k < 5; ++k) sewn[at(dice.below(brief.cells()))] = 1;
        if (can_be_met(brief, worn, sewn)) continue;
        const std::vector<Hindrance> units = mend::in_the_way(brief, {worn, {}}, sewn, {});
        INFO("round " << round);
        if (!oracle::Fillings(brief).any()) {
            CHECK(units.empty());
            ++not_to_blame;
            continue;
        }
        REQUIRE_FALSE(units.empty());
        CHECK(can_be_met(brief, worn, without(sewn, units)));
        for (const Hindrance& unit : units) {
            CHECK(sewn[at(unit.cell)]);
            CHECK_FALSE(can_be_met(brief, worn, without(sewn, units, unit.cell)));
            if (unit.why != Hindrance::Why::pair) continue;
            CHECK(sewn[at(unit.other)]);
            CHECK(worn.patches[at(unit.cell)] == worn.patches[at(unit.other)]);
            CHECK(oracle::clash(brief, unit.cell, unit.other, 0, 0));
        }
        ++blamed;
        several += units.size() > 1;
    }
    CHECK(blamed > 50);
    CHECK(several > 10);
    CHECK(not_to_blame > 10);
}

TEST_CASE("each hindrance is told for what it is") {
    Brief brief = oracle::triangles(3, 3, {3, 3, 3, 0, 0, 0}, {0, 0, 0, 3, 3, 3});
    for (std::size_t f = 0; f < 6; ++f) brief.labs[f] = {f < 3 ? 20.0 + static_cast<double>(f) : 70.0, 0, 0};
    Dice dice(1);
    const Assignment any = oracle::shuffled(brief, dice);
    brief.rules.touching = Touching::free;
    const auto blame = [&](const Brief& changed, const Assignment& worn, std::initializer_list<int> cells) {
        std::vector<char> sewn(9);
        for (const int cell : cells) sewn[at(cell)] = 1;
        return mend::in_the_way(changed, {worn, {}}, sewn, {});
    };
    // A fabric that the place takes no more.
    Brief changed = brief;
    const std::size_t ground = layout::index(any.patches[1]);
    changed.counts[ground] = changed.role_counts[1][ground] = {0, 0};
    for (std::size_t g = 3; g < 6; ++g)
        if (g != ground) changed.counts[g] = changed.role_counts[1][g] = {3, 9};
    std::vector<Hindrance> units = blame(changed, any, {0});
    REQUIRE(units.size() == 1);
    CHECK(units[0].why == Hindrance::Why::itself);
    CHECK(layout::index(units[0].fabric) == ground);
    // Too little contrast: the ground of the sewn unit is nearly as dark as its print.
    changed = brief;
    changed.rules.contrast = 30;
    changed.labs[ground].l = 53;
    changed.labs[layout::index(any.patches[0])].l = 30;
    units = blame(changed, any, {0});
    REQUIRE(units.size() == 1);
    CHECK(units[0].why == Hindrance::Why::contrast);
    CHECK(units[0].cell == 0);
    // A pin on the other side of the seam.
    Brief squares = oracle::squares(3, 1, {2, 1});
    Assignment row;
    row.patches = {oracle::id(0), oracle::id(1), oracle::id(0)};
    row.turns = {0, 0, 0};
    squares.counts = {{1, 2}, {1, 2}};
    squares.role_counts = {squares.counts};
    squares.pinned[1] = oracle::id(0);
    units = mend::in_the_way(squares, {row, {}}, {1, 0, 0}, {});
    REQUIRE(units.size() == 1);
    CHECK(units[0].why == Hindrance::Why::pair);
    CHECK(units[0].other == 1);
    CHECK(units[0].other_fabric == oracle::id(0));
}
