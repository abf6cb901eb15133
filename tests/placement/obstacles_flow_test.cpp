// Numbers as a flow against brute force, and refusals on tops too large to try.

#include "placement/obstacles_flow.h"

#include <catch.hpp>
#include <functional>

#include "oracle/planted.h"
#include "oracle/tops.h"
#include "placement/placement.h"

using namespace motley;
using layout::Touching;
using oracle::at;
using oracle::Dice;

TEST_CASE("numbers flow to patches exactly where some sharing-out meets them") {
    Dice dice(41);
    int flowing = 0, stuck = 0;
    for (int k = 0; k < 800; ++k) {
        const int cells = 2 + dice.below(5), fabrics = 2 + dice.below(3);
        layout::Brief brief = oracle::squares(cells, 1, std::vector<int>(at(fabrics), 0));
        brief.rules.touching = Touching::free;
        for (layout::Range& range : brief.counts) {
            range.least = dice.below(3);
            range.most = range.least + dice.below(3);
        }
        brief.role_counts = {std::vector<layout::Range>(at(fabrics), {0, cells})};
        const auto counts = brief.counts; // A fabric with most 0 would be out of every choice from the start.
        for (layout::Range& range : brief.counts) range.most = std::max(range.most, 1);
        const auto board = placement::Board::lay_out(brief);
        REQUIRE(board.has_value());
        const placement::Demand demand(brief);
        placement::Filling filling(*board, demand, nullptr);
        for (int patch = 0; patch < cells; ++patch)
            for (int f = 0; f < fabrics; ++f)
                if (dice.below(3) == 0) filling.forbid(patch, f);
        std::vector<int> used(at(fabrics));
        const std::function<bool(int)> fits = [&](int patch) {
            if (patch == cells) {
                for (int f = 0; f < fabrics; ++f)
                    if (used[at(f)] < brief.counts[at(f)].least || used[at(f)] > brief.counts[at(f)].most)
                        return false;
                return true;
            }
            for (int f = 0; f < fabrics; ++f) {
                if (!filling.may_show(patch, f)) continue;
                ++used[at(f)];
                const bool found = fits(patch + 1);
                --used[at(f)];
                if (found) return true;
            }
            return false;
        };
        const bool possible = fits(0);
        REQUIRE(placement::numbers_flow(*board, demand, filling) == possible);
        ++(possible ? flowing : stuck);
    }
    CHECK(flowing > 100);
    CHECK(stuck > 100);
}

TEST_CASE("patches that together are more than all they may show are named on a top too large to try") {
    // 12 x 12, edge rule: a chequerboard of c and d pinned but for twenty cells of c's colour. Ten of these
    // have an a and a b beside them, and c is used up: only e is left for them, eight times.
    constexpr int a = 0, b = 1, c = 2, d = 3, e = 4;
    std::vector<int> pins(144);
    for (int cell = 0; cell < 144; ++cell) pins[at(cell)] = (cell / 12 + cell % 12) % 2 == 0 ? c : d;
    for (const int row : {1, 3, 7, 9})
        for (int column = 1; column < 10; column += 2) pins[at(row * 12 + column)] = -1;
    for (const int row : {7, 9})
        for (int column = 0; column < 12; column += 2)
            pins[at(row * 12 + column)] = (column / 2 + row / 2) % 2 == 0 ? a : b;
    std::vector<int> counts{6, 6, 0, 0, 8};
    for (const int f : pins)
        if (f >= 0) ++counts[at(f)];
    layout::Brief brief = oracle::squares(12, 12, counts);
    for (int cell = 0; cell < 144; ++cell)
        if (pins[at(cell)] >= 0) brief.pinned[at(cell)] = oracle::id(pins[at(cell)]);
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 1);
    INFO(text(problems));
    CHECK(problems[0].what.find("8 of f4") != std::string::npos);
    // With ten of e and five of a and b each there is room.
    brief.counts[e] = brief.role_counts[0][e] = {10, 10};
    brief.shares[0] = {counts[a] - 1, counts[b] - 1, counts[c], counts[d], 10};
    for (const std::size_t f : {a, b})
        brief.counts[f] = brief.role_counts[0][f] = {counts[f] - 1, counts[f] - 1};
    CHECK(placement::obstacles(brief).empty());
}

TEST_CASE("pins that four fabrics cannot reconcile are found out on 60 x 60, and named") {
    // Corner rule, four fabrics: every row alternates two of them, or every column does (derived: where one
    // row shows three different ones side by side, its neighbours must answer, and all columns alternate).
    layout::Brief brief = oracle::squares(60, 60, {900, 900, 900, 900});
    brief.rules.touching = Touching::corner;
    const auto pin = [&](int row, int column, int f) { brief.pinned[at(row * 60 + column)] = oracle::id(f); };
    // f0 f1 f2 in one row: columns alternate, the even ones f0 and f2, the odd ones f1 and f3.
    pin(10, 10, 0), pin(10, 11, 1), pin(10, 12, 2);
    // f1 f3 f0 down an odd column: rows would have to alternate, or the last one be lifted.
    pin(40, 41, 1), pin(41, 41, 3), pin(42, 41, 0);
    const std::vector<Problem> problems = placement::obstacles(brief);
    REQUIRE(problems.size() == 1);
    INFO(text(problems));
    CHECK(problems[0].what.find("pinned at row 11, column 1") != std::string::npos);
    CHECK(problems[0].what.find("pinned at row 43, column 42") != std::string::npos);
    CHECK(problems[0].remedy.rfind("unpin row ", 0) == 0);
}
