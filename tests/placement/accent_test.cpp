/// Scatters of one fabric, against brute force on tiny grounds and against published figures.

#include "placement/accent.h"

#include <algorithm>
#include <catch.hpp>
#include <cstdlib>
#include <set>

using namespace motley::placement;
using Edges = Ground::Edges;

namespace {

/// round-half-to-even(100000 / d^2), the weights of QAPLIB's tai64c and tai256c.
std::int32_t grey_weight(int down, int right) {
    const int square = down * down + right * right;
    int whole = 100'000 / square;
    const int twice_rest = 2 * (100'000 - whole * square);
    if (twice_rest > square || (twice_rest == square && whole % 2 != 0)) ++whole;
    return whole;
}

Ground grey_torus(int columns, int rows) {
    return {columns, rows, Edges::meet, grey_weight};
}

/// The cost by the definition alone, from nothing of the engine's.
std::int64_t slow_cost(int columns, int rows, Edges edges, const std::vector<int>& cells) {
    std::int64_t sum = 0;
    for (const int a : cells)
        for (const int b : cells) {
            if (a == b) continue;
            int down = std::abs(a / columns - b / columns), right = std::abs(a % columns - b % columns);
            if (edges == Edges::meet) {
                down = std::min(down, rows - down);
                right = std::min(right, columns - right);
            }
            sum += grey_weight(down, right);
        }
    return sum;
}

/// By number of uses: the least cost over all subsets.
std::vector<std::int64_t> brute_force(int columns, int rows, Edges edges) {
    const int cells = columns * rows;
    std::vector<std::int64_t> least(static_cast<std::size_t>(cells + 1), -1);
    for (unsigned subset = 0; subset < 1U << cells; ++subset) {
        std::vector<int> chosen;
        for (int cell = 0; cell < cells; ++cell)
            if ((subset >> cell & 1U) != 0) chosen.push_back(cell);
        const std::int64_t cost = slow_cost(columns, rows, edges, chosen);
        std::int64_t& best = least[chosen.size()];
        if (best < 0 || cost < best) best = cost;
    }
    return least;
}

AccentEffort moves(std::int64_t count, std::uint64_t seed = 1) {
    AccentEffort effort;
    effort.moves = count;
    effort.seed = seed;
    return effort;
}

void check_whole(const Accent& found, const Ground& ground, int uses) {
    CHECK(found.cells.size() == static_cast<std::size_t>(uses));
    CHECK(std::set<int>(found.cells.begin(), found.cells.end()).size() == found.cells.size());
    CHECK(std::is_sorted(found.cells.begin(), found.cells.end()));
    if (uses > 0) CHECK((found.cells.front() >= 0 && found.cells.back() < ground.cells()));
    const Edges edges = ground.edges_meet() ? Edges::meet : Edges::plain;
    CHECK(found.cost == slow_cost(ground.columns(), ground.rows(), edges, found.cells));
}

} // namespace

TEST_CASE("on tiny grounds the scatter is the best there is, and the floor is never above it") {
    struct Size {
        int columns, rows;
    };
    for (const Edges edges : {Edges::meet, Edges::plain})
        for (const Size size :
             {Size{1, 1}, {2, 1}, {1, 3}, {1, 7}, {12, 1}, {2, 2}, {3, 3}, {5, 2}, {3, 4}, {4, 4}}) {
            const Ground ground(size.columns, size.rows, edges, grey_weight);
            const std::vector<std::int64_t> least = brute_force(size.columns, size.rows, edges);
            for (int uses = 0; uses <= ground.cells(); ++uses) {
                CAPTURE(size.columns, size.rows, edges == Edges::meet, uses);
                const Accent found = scatter_accent(ground, uses, moves(4000));
                check_whole(found, ground, uses);
                CHECK(found.cost == least[static_cast<std::size_t>(uses)]);
                CHECK(least_cost(ground, uses) <= found.cost);
                CHECK(least_cost(ground, uses) >= 0);
            }
        }
}

TEST_CASE("a torus's free cells cost as much as the used ones, but for a constant") {
    const Ground ground = grey_torus(7, 6);
    const int cells = ground.cells();
    for (const int uses : {1, 5, 20, 30, 41}) {
        const Accent found = scatter_accent(ground, uses, moves(2000));
        check_whole(found, ground, uses);
        std::vector<int> rest;
        for (int cell = 0; cell < cells; ++cell)
            if (!std::ranges::binary_search(found.cells, cell)) rest.push_back(cell);
        CHECK(ground.cost(rest) == found.cost + std::int64_t{ground.whole(0)} * (cells - 2 * uses));
        // So the best of so many uses and the best of so many free cells are found together.
        const Accent other = scatter_accent(ground, cells - uses, moves(2000));
        CHECK(other.cost == found.cost + std::int64_t{ground.whole(0)} * (cells - 2 * uses));
    }
}

TEST_CASE("8 x 8 with 13 uses: the proved optimum of QAPLIB's tai64c") {
    // 1855928: proved by Fischetti, Monaci and Salvagnin, "Three ideas for the quadratic assignment problem",
    // Operations Research 60(4), 2012 (as the project's notes give it).
    const Ground ground = grey_torus(8, 8);
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        AccentEffort effort = moves(200'000, seed);
        effort.enough = 1'855'928;
        const Accent found = scatter_accent(ground, 13, effort);
        CAPTURE(seed, found.moves);
        check_whole(found, ground, 13);
        CHECK(found.cost == 1'855'928);
    }
    CHECK(least_cost(ground, 13) <= 1'855'928);
}

TEST_CASE("16 x 16: near the best known of QAPLIB's tai256c after few moves") {
    const Ground ground = grey_torus(16, 16);
    const Accent found = scatter_accent(ground, 92, moves(20'000));
    check_whole(found, ground, 92);
    CHECK(found.cost >= 44'759'294); // Best known, QAPLIB.
    CHECK(found.cost <= 44'980'000); // Half a hundredth above.
    CHECK(least_cost(ground, 92) <= 44'759'294);
    CHECK(least_cost(ground, 92) > 40'000'000);
    // Two uses are farthest apart eight rows and eight columns away: 2 round(100000 / 128), and the floor
    // knows.
    CHECK(scatter_accent(ground, 2, moves(2000)).cost == 2 * 781);
    CHECK(least_cost(ground, 2) == 2 * 781);
}

TEST_CASE("the same seed gives the same cells") {
    const Ground ground = grey_torus(10, 12);
    const Accent once = scatter_accent(ground, 31, moves(20'000, 7));
    const Accent again = scatter_accent(ground, 31, moves(20'000, 7));
    CHECK(once.cells == again.cells);
    CHECK(once.moves == again.moves);
    CHECK(once.best_after == again.best_after);
    CHECK(once.cells != scatter_accent(ground, 31, moves(1000, 8)).cells);
}

TEST_CASE("a search that is told to stop still gives a whole scatter") {
    const Ground ground = grey_torus(10, 12);
    std::stop_source stop;
    stop.request_stop();
    AccentEffort effort = moves(1'000'000'000);
    effort.stop = stop.get_token();
    const Accent found = scatter_accent(ground, 80, effort);
    check_whole(found, ground, 80);
    CHECK(found.moves < 100'000);
}

TEST_CASE("more uses than cells are a mistake of the caller's") {
    CHECK_THROWS_AS(scatter_accent(grey_torus(2, 2), 5, {}), std::logic_error);
    CHECK_THROWS_AS(scatter_accent(grey_torus(2, 2), -1, {}), std::logic_error);
    CHECK_THROWS_AS(least_cost(grey_torus(2, 2), 5), std::logic_error);
}
