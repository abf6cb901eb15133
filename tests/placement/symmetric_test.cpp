#include "placement/symmetric.h"

#include <catch.hpp>

#include "oracle/tops.h"
#include "placement/effort.h"

using namespace motley;

namespace {

/// Plain squares with ranges as loose as symmetry asks for.
layout::Brief brief_of(int columns, int rows, int fabrics, layout::Symmetry symmetry) {
    layout::Brief brief = oracle::squares(columns, rows, oracle::even(columns * rows, fabrics));
    brief.symmetry = symmetry;
    const int slack = symmetry == layout::Symmetry::mirror ? 1 : 3;
    for (layout::Range& range : brief.counts) range = {std::max(0, range.least - slack), range.most + slack};
    brief.role_counts = {brief.counts};
    return brief;
}

} // namespace

TEST_CASE("symmetric tops keep the rules and the symmetry, the same for every number of threads") {
    for (const auto symmetry : {layout::Symmetry::mirror, layout::Symmetry::mirror_both,
                                layout::Symmetry::half_turn, layout::Symmetry::quarter_turn}) {
        INFO("symmetry " << static_cast<int>(symmetry));
        const layout::Brief brief = brief_of(9, 9, 12, symmetry);
        CHECK(placement::obstacles(brief).empty());
        placement::Effort search = effort(5, 20'000, 2);
        const placement::Outcome one = placement::place(brief, search);
        CHECK(one.broken.empty());
        const layout::Orbits orbits = layout::orbits(brief, symmetry);
        for (const auto& orbit : orbits.patches)
            for (const int patch : orbit)
                CHECK(one.assignment.patches[oracle::at(patch)] ==
                      one.assignment.patches[oracle::at(orbit[0])]);
        search.threads = 2;
        CHECK(placement::place(brief, search).assignment == one.assignment);
        // A search with a hundredth of the moves does not find as much.
        search.moves = 200;
        CHECK(one.cost < placement::place(brief, search).cost);
    }
}

TEST_CASE("images that touch are proved impossible, and are when every filling is tried") {
    // Derived: with an even number of columns the two in the middle are images of each other.
    const layout::Brief even = brief_of(4, 3, 4, layout::Symmetry::mirror);
    REQUIRE(placement::obstacles(even).size() == 1);
    CHECK(placement::obstacles(even)[0].what.find("row 1, column 2") != std::string::npos);
    layout::Brief free = even;
    free.rules.touching = layout::Touching::free;
    CHECK(placement::obstacles(free).empty());
    CHECK(placement::obstacles(brief_of(5, 3, 4, layout::Symmetry::mirror)).empty());
    // Remedies take the obstacle away: one column more or fewer; a quarter turn of 9 x 9 with corners held
    // apart has four images around the middle, of 8 x 8 four in the middle.
    CHECK(placement::obstacles(even)[0].remedy == "use 3 columns and 3 rows");
    layout::Brief quarter = brief_of(9, 9, 12, layout::Symmetry::quarter_turn);
    quarter.rules.touching = layout::Touching::corner;
    REQUIRE(placement::obstacles(quarter).size() == 1);
    CHECK(placement::obstacles(quarter)[0].remedy == "set \"touching\" to \"edge\"");
    quarter.rules.touching = layout::Touching::edge;
    CHECK(placement::obstacles(quarter).empty());
}

namespace {

/// As `make_brief` has tops with cells that are not there.
layout::Brief in_setting(layout::Arrangement arrangement, int columns, int rows, int fabrics,
                         layout::Symmetry symmetry) {
    layout::Setting setting;
    setting.arrangement = arrangement;
    setting.columns = columns;
    setting.rows = rows;
    const layout::Board board(setting, {measure::Length::per_inch});
    layout::Brief brief =
        oracle::squares(board.columns(), board.rows(), oracle::even(board.units(), fabrics));
    brief.board = board;
    brief.symmetry = symmetry;
    for (layout::Range& range : brief.counts) range = {std::max(0, range.least - 3), range.most + 3};
    brief.role_counts = {brief.counts};
    const int absent = board.cells() - board.units();
    brief.names.emplace_back();
    brief.labs.push_back({0, 0, 0});
    brief.exempt.push_back(1);
    brief.counts.push_back({absent, absent});
    brief.role_counts[0].push_back({absent, absent});
    brief.shares[0].push_back(absent);
    for (int cell = 0; cell < board.cells(); ++cell)
        if (!board.present(cell)) brief.pinned[oracle::at(cell)] = brief.none();
    return brief;
}

const placement::Effort small = effort(5, 10'000);

} // namespace

TEST_CASE("symmetric tops on point and of bricks: what is not there stays empty, every rule is kept") {
    using layout::Symmetry;
    const auto check = [](layout::Brief brief) {
        brief.rules.touching = layout::Touching::free;
        CHECK(placement::obstacles(brief).empty());
        const placement::Outcome made = placement::place(brief, small);
        CHECK(made.broken == std::vector<std::string>{});
    };
    for (const Symmetry symmetry :
         {Symmetry::mirror, Symmetry::mirror_both, Symmetry::half_turn, Symmetry::quarter_turn}) {
        INFO(static_cast<int>(symmetry));
        check(in_setting(layout::Arrangement::on_point, 5, 5, 10, symmetry));
        if (symmetry != Symmetry::quarter_turn)
            check(in_setting(layout::Arrangement::brick, 7, 7, 10, symmetry));
    }
    // Derived: of two neighbouring rows of bricks one has an even number, whose middle two are images.
    CHECK(placement::obstacles(in_setting(layout::Arrangement::brick, 7, 7, 10, Symmetry::mirror))
              .at(0)
              .remedy == "set \"touching\" to \"free\"");
}

TEST_CASE("units with free turns are turned together so that images do not touch") {
    layout::Brief brief = oracle::triangles(8, 8, {11, 11, 11, 11, 10, 10, 0}, {0, 0, 0, 0, 0, 0, 64});
    brief.symmetry = layout::Symmetry::mirror;
    brief.exempt.back() = 1;
    for (auto* ranges : {&brief.counts, &brief.role_counts[0], &brief.role_counts[1]})
        for (layout::Range& range : *ranges)
            if (range.most > 0 && range.most < 64) range = {range.least - 1, range.most + 1};
    REQUIRE(placement::obstacles(brief).size() == 1);
    CHECK(placement::obstacles(brief)[0].remedy.find("\"turns\": \"any\"") != std::string::npos);
    brief.turns.assign(64, -1);
    CHECK(placement::obstacles(brief).empty());
    const placement::Outcome made = placement::place(brief, small);
    CHECK(made.broken == std::vector<std::string>{});
    for (int cell = 0; cell < 64; ++cell) // Derived: 0 and 3, 1 and 2 are each other's mirror images.
        CHECK(made.assignment.turns[oracle::at(cell)] +
                  made.assignment.turns[oracle::at(cell / 8 * 8 + 7 - cell % 8)] ==
              3);
}

TEST_CASE("counts that images cannot make are told with one that they can; those they can make are met") {
    layout::Brief brief = oracle::squares(4, 4, {5, 5, 6});
    brief.symmetry = layout::Symmetry::mirror;
    brief.rules.touching = layout::Touching::free;
    REQUIRE(placement::obstacles(brief).size() == 2);
    CHECK(placement::obstacles(brief)[0].remedy.find("ask for 4") != std::string::npos);
    brief = oracle::squares(5, 3, {5, 5, 5}); // Three patches lie on the line: one for each.
    brief.symmetry = layout::Symmetry::mirror;
    brief.rules.touching = layout::Touching::free;
    CHECK(placement::obstacles(brief).empty());
    CHECK(placement::place(brief, small).broken == std::vector<std::string>{});
    brief = oracle::squares(5, 3, {5, 3, 3, 3, 1}); // Five odd counts.
    brief.symmetry = layout::Symmetry::mirror;
    brief.rules.touching = layout::Touching::free;
    REQUIRE(placement::obstacles(brief).size() == 1);
    CHECK(placement::obstacles(brief)[0].remedy.find("make 2 of those") != std::string::npos);
}

TEST_CASE("a symmetric search ends when its seconds are over, and counts what it tried") {
    const layout::Brief brief = brief_of(9, 9, 12, layout::Symmetry::mirror);
    placement::Effort search = effort(5, 0);
    search.seconds = 0.05;
    const placement::Outcome timed = placement::place(brief, search);
    CHECK(timed.broken.empty());
    CHECK(timed.moves > 0);
    search.seconds.reset();
    CHECK(placement::place(brief, search).moves != timed.moves); // Not as many as without a limit.
}
