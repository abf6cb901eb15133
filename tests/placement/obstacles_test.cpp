// What `obstacles` says, and that what it advises does. (That it is never wrong is in tiny_test.cpp and
// limits_test.cpp.)

#include <catch.hpp>
#include <cstdio>
#include <set>

#include "oracle/fillings.h"
#include "oracle/small_boards.h"
#include "placement/placement.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;

namespace {

bool says(const Problem& problem, const std::string& fragment) {
    return (problem.what + " (" + problem.remedy + ")").find(fragment) != std::string::npos;
}

/// The patch after "unpin row R, column C" on plain squares; -1 when that is not advised.
int unpinned(const layout::Brief& brief, const std::string& remedy) {
    const std::size_t from = remedy.find("unpin row ");
    int row = 0, column = 0;
    if (from == std::string::npos ||
        std::sscanf(remedy.c_str() + from, "unpin row %d, column %d", &row, &column) != 2)
        return -1;
    return (row - 1) * brief.columns + column - 1;
}

} // namespace

TEST_CASE("every fabric that is asked for too often is named, once") {
    // 4 x 4, corner rule: at most 4 of one fabric.
    layout::Brief brief = oracle::squares(4, 4, {6, 5, 3, 2});
    brief.rules.touching = Touching::corner;
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 2);
    CHECK(says(problems[0], "impossible: f0 is asked for 6 times"));
    CHECK(says(problems[0], "at most 4 fit"));
    CHECK(says(problems[1], "impossible: f1 is asked for 5 times"));
}

TEST_CASE("a pin in the way is named with the number that still fits") {
    // Edge rule on 3 x 3: five of one fabric only on the corners and the middle; with another fabric in the
    // middle four are left.
    layout::Brief edge = oracle::squares(3, 3, {5, 4});
    edge.pinned[4] = oracle::id(1);
    std::vector<Problem> problems = placement::obstacles(edge);
    REQUIRE(problems.size() == 1);
    CHECK(says(problems[0], "impossible: f0 is asked for 5 times"));
    CHECK(says(problems[0], "at most 4 fit"));
    CHECK(says(problems[0], "unpin row 2, column 2"));

    // Corner rule on 5 x 5: nine of one fabric only in the odd rows and columns.
    layout::Brief corner = oracle::squares(5, 5, {9, 4, 4, 4, 4});
    corner.rules.touching = Touching::corner;
    corner.pinned[14] = oracle::id(1); // Row 3, column 5.
    problems = placement::obstacles(corner);
    REQUIRE(problems.size() == 1);
    CHECK(says(problems[0], "impossible: f0 is asked for 9 times"));
    CHECK(says(problems[0], "at most 8 fit"));
    CHECK(says(problems[0], "unpin row 3, column 5"));
}

TEST_CASE("on a large top, too: half of the cells with a pin on each colour of the chequerboard") {
    // Edge rule, even number of cells: half of them is one colour whole, and each colour has a cell taken.
    layout::Brief brief = oracle::squares(100, 100, {5000, 2500, 2500});
    brief.pinned[0] = oracle::id(1);
    brief.pinned[5151] = oracle::id(2);
    REQUIRE((5151 / 100 + 5151 % 100) % 2 == 0);
    CHECK(placement::obstacles(brief).empty());
    brief.pinned[5151] = layout::no_fabric;
    brief.pinned[5152] = oracle::id(2);
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 1);
    CHECK(says(problems[0], "f0 is asked for 5000 times"));
    CHECK(says(problems[0], "at most 4999 fit"));
}

TEST_CASE("every problem begins with the word, is said once, and advises something") {
    Dice dice(21);
    int impossible = 0, advised = 0;
    for (int k = 0; k < 1500; ++k) {
        layout::Brief brief = oracle::drawn_squares(3, 4, 4, dice);
        brief.rules.touching = k % 2 == 0 ? Touching::edge : Touching::corner;
        const auto board = oracle::pinned(brief, dice.below(6), dice);
        if (!board) continue;
        const std::vector<Problem> problems = placement::obstacles(*board);
        impossible += !problems.empty();
        std::set<std::string> said;
        for (const Problem& problem : problems) {
            CHECK(problem.what.rfind("impossible: ", 0) == 0);
            CHECK(said.insert(problem.what).second);
            CHECK_FALSE(problem.remedy.empty());
        }
        // Advice that begins with a pin was tried before it was given: brute force must agree.
        if (problems.size() != 1 || problems[0].remedy.rfind("unpin row", 0) != 0) continue;
        const int patch = unpinned(*board, problems[0].remedy);
        INFO(problems[0].what << " (" << problems[0].remedy << ")");
        if (problems[0].remedy.rfind("unpin one", 0) == 0) continue;
        REQUIRE(patch >= 0);
        REQUIRE(board->pinned[at(patch)] != layout::no_fabric);
        layout::Brief freed = *board;
        freed.pinned[at(patch)] = layout::no_fabric;
        CHECK(oracle::Fillings(freed).any());
        ++advised;
    }
    CHECK(impossible > 200);
    CHECK(advised >= 20);
}

TEST_CASE("several problems of different kinds come together") {
    layout::Brief brief =
        oracle::squares(4, 4, {10, 3, 3}); // Too often, and too few fabrics for a block of four.
    brief.rules.touching = Touching::corner;
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 2);
    CHECK(says(problems[0], "f0"));
    CHECK(says(problems[1], "4 different fabrics"));
    CHECK(says(problems[1], "add 1 more fabric"));
}

TEST_CASE("the line rule with pins is a matching of rows to columns") {
    // 12 x 12; a fabric asked for once in every row and column, but the top six rows are pinned full of
    // others except in four columns: six rows into four columns leave two rows out (König, 1931: a largest
    // matching is as large as a least cover by lines).
    std::vector<int> counts(40, 3);
    counts[0] = 12;
    counts.push_back(144 - 12 - 39 * 3);
    layout::Brief brief = oracle::squares(12, 12, counts);
    brief.rules.touching = Touching::free;
    brief.rules.line = true;
    for (int r = 0; r < 6; ++r)
        for (int c = 4; c < 12; ++c)
            brief.pinned[at(r * 12 + c)] = oracle::id(1 + (r + c * 3) % 12 + (c >= 8 ? 12 : 0));
    for (std::size_t f = 1; f < brief.names.size(); ++f) brief.counts[f] = brief.role_counts[0][f] = {0, 12};
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 1);
    CHECK(says(problems[0], "f0 is asked for 12 times"));
    CHECK(says(problems[0], "at most 10 fit"));
}
