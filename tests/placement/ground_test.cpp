/// Grounds, their symmetries, and the walk over them.

#include "placement/ground.h"

#include <algorithm>
#include <catch.hpp>

#include "placement/accent_walk.h"

using namespace motley::placement;
using Edges = Ground::Edges;

namespace {

std::int32_t near_and_far(int down, int right) {
    return 1000 / (down * down + 2 * right * right);
}
std::int32_t even(int down, int right) {
    return 1000 / (down * down + right * right);
}

std::vector<int> some_cells(Chance& chance, int cells, int count) {
    std::vector<int> all;
    for (int cell = 0; cell < cells; ++cell) all.push_back(cell);
    chance.shuffle(all);
    all.resize(static_cast<std::size_t>(count));
    return all;
}

} // namespace

TEST_CASE("steps take the shorter way round where edges meet, and only there") {
    const Ground torus(5, 4, Edges::meet, near_and_far), plain(5, 4, Edges::plain, near_and_far);
    CHECK(torus.weight(0, 4) == 500);   // One column.
    CHECK(plain.weight(0, 4) == 31);    // Four.
    CHECK(torus.weight(0, 15) == 1000); // One row.
    CHECK(plain.weight(0, 15) == 111);  // Three.
    CHECK(torus.weight(7, 7) == 0);
    for (int a = 0; a < 20; ++a)
        for (int b = 0; b < 20; ++b) CHECK(plain.weight(a, b) == plain.weight(b, a));
}

TEST_CASE("only what changes no weight counts as a turn") {
    CHECK(Ground(4, 4, Edges::plain, even).turns().size() == 8);
    CHECK(Ground(4, 4, Edges::plain, near_and_far).turns().size() == 4);
    CHECK(Ground(5, 4, Edges::plain, even).turns().size() == 4);
    CHECK(Ground(5, 1, Edges::plain, even).turns().size() == 2);
    CHECK(Ground(1, 1, Edges::plain, even).turns().size() == 1);
    for (const Edges edges : {Edges::meet, Edges::plain}) {
        const Ground ground(6, 6, edges, even);
        for (const std::vector<int>& turn : ground.turns())
            for (int a = 0; a < 36; ++a)
                for (int b = 0; b < 36; ++b)
                    REQUIRE(ground.weight(a, b) == ground.weight(turn[static_cast<std::size_t>(a)],
                                                                 turn[static_cast<std::size_t>(b)]));
    }
}

TEST_CASE("a scatter laid over its own image falls on itself") {
    Chance chance(5, 0);
    for (const Edges edges : {Edges::meet, Edges::plain})
        for (const int columns : {6, 7}) {
            const Ground ground(columns, 6, edges, even);
            for (int round = 0; round < 50; ++round) {
                const std::vector<int> still = some_cells(chance, ground.cells(), 1 + chance.below(20));
                const auto& turn = ground.turns()[static_cast<std::size_t>(
                    chance.below(static_cast<int>(ground.turns().size())))];
                const int down = edges == Edges::meet ? chance.below(6) : 0,
                          right = edges == Edges::meet ? chance.below(columns) : 0;
                std::vector<int> moved;
                for (const int cell : still)
                    moved.push_back(ground.shifted(turn[static_cast<std::size_t>(cell)], down, right));
                CHECK(ground.cost(moved) == ground.cost(still));
                Alignment found = align(ground, still, moved);
                CHECK(found.common == static_cast<int>(still.size()));
                std::vector<int> sorted = still;
                std::ranges::sort(sorted);
                std::ranges::sort(found.cells);
                CHECK(found.cells == sorted);
            }
        }
}

TEST_CASE("alignment finds as many cells in common as trying every image one by one") {
    Chance chance(6, 0);
    const Ground ground(5, 5, Edges::meet, even);
    for (int round = 0; round < 30; ++round) {
        const std::vector<int> still = some_cells(chance, 25, 9), moved = some_cells(chance, 25, 9);
        int most = 0;
        for (const std::vector<int>& turn : ground.turns())
            for (int down = 0; down < 5; ++down)
                for (int right = 0; right < 5; ++right) {
                    int common = 0;
                    for (const int cell : moved)
                        common += static_cast<int>(std::ranges::count(
                            still, ground.shifted(turn[static_cast<std::size_t>(cell)], down, right)));
                    most = std::max(most, common);
                }
        const Alignment found = align(ground, still, moved);
        CHECK(found.common == most);
        int common = 0;
        for (const int cell : found.cells) common += static_cast<int>(std::ranges::count(still, cell));
        CHECK(common == most);
        CHECK(ground.cost(found.cells) == ground.cost(moved));
    }
}

TEST_CASE("a walk's running cost equals a fresh count, and its first move is the best there is") {
    Chance chance(7, 0);
    for (const Edges edges : {Edges::meet, Edges::plain})
        for (const int uses : {1, 4, 15, 29}) {
            const Ground ground(6, 5, edges, even);
            AccentWalk walk(ground, chance);
            const std::vector<int> start = some_cells(chance, 30, uses);
            std::int64_t best = -1;
            for (std::size_t use = 0; use < start.size(); ++use)
                for (int to = 0; to < 30; ++to) {
                    if (std::ranges::count(start, to) != 0) continue;
                    std::vector<int> changed = start;
                    changed[use] = to;
                    const std::int64_t cost = ground.cost(changed);
                    if (best < 0 || cost < best) best = cost;
                }
            walk.start(start);
            REQUIRE(walk.step());
            CHECK(2 * walk.half_cost() == best);
            for (int move = 0; move < 300; ++move) {
                walk.step();
                std::vector<int> cells = walk.cells();
                REQUIRE(2 * walk.half_cost() == ground.cost(cells));
                std::ranges::sort(cells);
                REQUIRE(std::ranges::adjacent_find(cells) == cells.end());
            }
        }
}
