#include "placement/symmetric.h"

#include <catch.hpp>

#include "oracle/tops.h"
#include "placement/placement.h"

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
        placement::Effort effort{.seed = 5,
                                 .moves = 20'000,
                                 .restarts = 2,
                                 .threads = 1,
                                 .seconds = {},
                                 .stop = {},
                                 .progress = {}};
        const placement::Outcome one = placement::place(brief, effort);
        CHECK(one.broken.empty());
        const layout::Orbits orbits = layout::orbits(brief, symmetry);
        for (const auto& orbit : orbits.patches)
            for (const int patch : orbit)
                CHECK(one.assignment.patches[oracle::at(patch)] ==
                      one.assignment.patches[oracle::at(orbit[0])]);
        effort.threads = 2;
        CHECK(placement::place(brief, effort).assignment == one.assignment);
        // A search with a hundredth of the moves does not find as much.
        effort.moves = 200;
        CHECK(one.cost < placement::place(brief, effort).cost);
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
}
