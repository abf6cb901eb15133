// What `obstacles` says, and that what it advises does. (That it is never wrong is in tiny_test.cpp and
// limits_test.cpp.)

#include <catch.hpp>
#include <cstdio>
#include <optional>
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

/// A remedy's alternatives.
std::vector<std::string> alternatives(const std::string& remedy) {
    std::vector<std::string> out{""};
    for (std::size_t i = 0; i < remedy.size(); ++i) {
        if (remedy.compare(i, 5, ", or ") == 0) out.emplace_back(), i += 5;
        out.back() += remedy[i];
    }
    return out;
}

/// The brief with one alternative done as it is told; empty where it is no such thing.
std::optional<layout::Brief> done(layout::Brief brief, const std::string& advice) {
    int row = 0, column = 0, apart = 0, read = 0;
    if (std::sscanf(advice.c_str(), "unpin row %d, column %d", &row, &column) == 2) {
        const int cell = (row - 1) * brief.columns + column - 1, places = brief.patches_per_unit();
        bool any = false;
        for (int p = 0; p < places; ++p) {
            layout::FabricId& pin = brief.pinned[at(cell * places + p)];
            any = any || pin != layout::no_fabric;
            pin = layout::no_fabric;
        }
        REQUIRE(any);
        return brief;
    }
    if (advice == "let corners touch (\"touching\": \"edge\")") {
        brief.rules.touching = Touching::edge;
        return brief;
    }
    if (std::sscanf(advice.c_str(), "set \"apart\" to %d", &apart) == 1) {
        brief.rules.apart = apart;
        return brief;
    }
    if (advice == "leave the line rule out") {
        brief.rules.line = false;
        return brief;
    }
    if (int f = 0; std::sscanf(advice.c_str(), "list f%d under rules.exempt", &f) == 1) {
        brief.exempt[at(f)] = 1;
        return brief;
    }
    if (advice.rfind("use ", 0) != 0) return std::nullopt;
    for (std::size_t i = 4; i < advice.size(); i += at(read) + 5) { // " and "
        int used = 0, fabric = 0, asked = 0;
        REQUIRE(std::sscanf(advice.c_str() + i, "%d of f%d instead of %d%n", &used, &fabric, &asked, &read) ==
                3);
        layout::Range& range = brief.counts[at(fabric)];
        CHECK((asked == range.least || asked == range.most));
        CHECK((used < range.least || used > range.most));
        range = {used, used};
        for (auto& role : brief.role_counts)
            if (role[at(fabric)].most > 0) role[at(fabric)] = {used, used};
    }
    return brief;
}

struct Advised {
    int impossible = 0, unpin = 0, use = 0, loosen = 0, none = 0;
};

/// Whatever is said to do must do: brute force is asked.
void check_advice(const layout::Brief& brief, Advised& advised) {
    const std::vector<Problem> problems = placement::obstacles(brief);
    if (problems.empty()) return;
    ++advised.impossible;
    advised.none += problems[0].remedy.rfind("no single change", 0) == 0;
    for (const Problem& problem : problems)
        for (const std::string& advice : alternatives(problem.remedy)) {
            const std::optional<layout::Brief> changed = done(brief, advice);
            if (!changed) continue;
            INFO(brief.columns << " x " << brief.rows << ": " << problem.what << " (" << advice << ")");
            CHECK(oracle::Fillings(*changed).any());
            advised.unpin += advice[0] == 'u' && advice[1] == 'n';
            advised.use += advice[0] == 'u' && advice[1] == 's';
            advised.loosen += advice[0] != 'u';
        }
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
    int impossible = 0;
    for (int k = 0; k < 500; ++k) {
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
    }
    CHECK(impossible > 100);
}

TEST_CASE("what is said to do, does: unpinning, other numbers, looser rules") {
    Dice dice(22);
    Advised advised;
    for (int k = 0; k < 1500; ++k) {
        layout::Brief brief = oracle::drawn_squares(2, 4, 6, dice);
        brief.rules.touching = k % 3 == 0 ? Touching::edge : k % 3 == 1 ? Touching::corner : Touching::free;
        if (k % 3 == 2) brief.rules.apart = 1 + dice.below(3), brief.rules.line = dice.below(2) == 0;
        for (std::size_t f = 0; f < brief.counts.size() && k % 4 == 0; ++f)
            if (dice.below(3) == 0) {
                brief.counts[f].most += dice.below(2);
                brief.role_counts[0][f] = brief.counts[f];
            }
        if (dice.below(6) == 0) brief.exempt[0] = 1;
        if (const auto board = oracle::pinned(brief, dice.below(6), dice)) check_advice(*board, advised);
    }
    for (int k = 0; k < 200; ++k) { // Half-square triangles: prints f0 to f2, grounds f3 to f5.
        const int columns = 1 + dice.below(3), rows = 1 + dice.below(3);
        std::vector<int> prints(6), grounds(6);
        for (int cell = 0; cell < columns * rows; ++cell)
            ++prints[at(dice.below(3))], ++grounds[at(3 + dice.below(3))];
        layout::Brief brief = oracle::triangles(columns, rows, prints, grounds);
        for (int& turn : brief.turns) turn = dice.below(4);
        brief.rules.touching = Touching::corner;
        if (const auto board = oracle::pinned(brief, dice.below(4), dice)) check_advice(*board, advised);
    }
    CHECK(advised.impossible > 300);
    CHECK(advised.unpin > 20);
    CHECK(advised.use > 200);
    CHECK(advised.loosen > 100);
    CHECK(advised.none < advised.impossible / 4);
}

TEST_CASE("several problems of different kinds come together") {
    layout::Brief brief =
        oracle::squares(4, 4, {10, 3, 3}); // Too often, and too few fabrics for a block of four.
    brief.rules.touching = Touching::corner;
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 2);
    CHECK(says(problems[0], "f0"));
    CHECK(says(problems[1], "4 different fabrics"));
    CHECK(says(problems[1], "at least 1 more fabric is needed"));
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
