#include "layout/apportion.h"

#include <catch.hpp>
#include <optional>

#include "sample.h"

using namespace motley::layout;

namespace {

/// Calls `look` with every table within the bounds.
void every_table(const Bounds& bounds, const std::function<void(const Table&)>& look) {
    const std::size_t roles = bounds.roles.size(), fabrics = bounds.totals.size();
    Table table(roles, std::vector<int>(fabrics, 0));
    const std::function<void(std::size_t, std::size_t, int)> fill = [&](std::size_t role, std::size_t f,
                                                                        int left) {
        if (role == roles) {
            for (std::size_t g = 0; g < fabrics; ++g) {
                int total = 0;
                for (const auto& row : table) total += row[g];
                if (total < bounds.totals[g].least || total > bounds.totals[g].most) return;
            }
            look(table);
            return;
        }
        if (f == fabrics) {
            if (left == 0) fill(role + 1, 0, role + 1 < bounds.roles.size() ? bounds.places[role + 1] : 0);
            return;
        }
        for (int n = bounds.roles[role][f].least; n <= std::min(left, bounds.roles[role][f].most); ++n) {
            table[role][f] = n;
            fill(role, f + 1, left - n);
        }
        table[role][f] = 0;
    };
    fill(0, 0, bounds.places[0]);
}

/// Sum of squares over role and fabric, then over the fabrics' totals.
std::pair<int, int> unevenness(const Table& table) {
    std::pair<int, int> sum{0, 0};
    for (std::size_t f = 0; f < table[0].size(); ++f) {
        int total = 0;
        for (const auto& row : table) sum.first += row[f] * row[f], total += row[f];
        sum.second += total * total;
    }
    return sum;
}

Bounds random_bounds(sample::Chance& chance) {
    Bounds bounds;
    const int roles = 1 + chance.below(3), fabrics = 1 + chance.below(roles == 3 ? 3 : 4);
    bounds.roles.resize(static_cast<std::size_t>(roles));
    const int places = 1 + chance.below(5);
    for (int role = 0; role < roles; ++role)
        bounds.places.push_back(chance.one_in(3) ? 1 + chance.below(5) : places);
    for (auto& role : bounds.roles)
        for (int f = 0; f < fabrics; ++f) {
            const int most = chance.one_in(4) ? 0 : chance.one_in(2) ? places : chance.below(places + 1);
            role.push_back({chance.one_in(4) ? chance.below(most + 1) : 0, most});
        }
    for (int f = 0; f < fabrics; ++f) {
        const int most = chance.one_in(2) ? 1'000'000 : chance.below(2 * places + 1);
        bounds.totals.push_back(
            {chance.one_in(2) ? chance.below(std::min(most, places * roles) + 1) : 0, most});
    }
    return bounds;
}

} // namespace

TEST_CASE("bounds fit exactly when brute force finds a table, and the table is the most even one") {
    sample::Chance chance(11);
    int possible = 0, impossible = 0;
    for (int round = 0; round < 4000; ++round) {
        const Bounds bounds = random_bounds(chance);
        std::optional<std::pair<int, int>> best;
        Bounds reached = bounds;
        for (auto& role : reached.roles)
            for (Range& range : role) range = {1'000'000, -1};
        every_table(bounds, [&](const Table& table) {
            if (!best || unevenness(table) < *best) best = unevenness(table);
            for (std::size_t role = 0; role < table.size(); ++role)
                for (std::size_t f = 0; f < table[role].size(); ++f) {
                    Range& range = reached.roles[role][f];
                    range = {std::min(range.least, table[role][f]), std::max(range.most, table[role][f])};
                }
        });
        INFO("round " << round);
        REQUIRE(misfits(bounds).empty() == best.has_value());
        if (!best) {
            ++impossible;
            continue;
        }
        ++possible;
        const Table table = apportion(bounds);
        for (std::size_t role = 0; role < table.size(); ++role) {
            int sum = 0;
            for (std::size_t f = 0; f < table[role].size(); ++f) {
                sum += table[role][f];
                REQUIRE(table[role][f] >= bounds.roles[role][f].least);
                REQUIRE(table[role][f] <= bounds.roles[role][f].most);
            }
            REQUIRE(sum == bounds.places[role]);
        }
        for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
            int total = 0;
            for (const auto& row : table) total += row[f];
            REQUIRE(total >= bounds.totals[f].least);
            REQUIRE(total <= bounds.totals[f].most);
        }
        REQUIRE(unevenness(table) == *best);

        // Tightening loses no table and never widens.
        const Bounds tight = tightened(bounds);
        for (std::size_t role = 0; role < table.size(); ++role)
            for (std::size_t f = 0; f < table[role].size(); ++f) {
                REQUIRE(tight.roles[role][f].least <= reached.roles[role][f].least);
                REQUIRE(tight.roles[role][f].most >= reached.roles[role][f].most);
                REQUIRE(tight.roles[role][f].least >= bounds.roles[role][f].least);
                REQUIRE(tight.roles[role][f].most <= bounds.roles[role][f].most);
                if (table.size() == 1) REQUIRE(tight.roles[role][f] == reached.roles[role][f]);
            }
    }
    CHECK(possible > 500); // Both sides were tried in earnest.
    CHECK(impossible > 500);
}

TEST_CASE("the largest top is apportioned") {
    Bounds bounds{{40'000, 40'000}, {{}, {}}, {}};
    for (int f = 0; f < 60; ++f) {
        bounds.roles[0].push_back({0, 40'000});
        bounds.roles[1].push_back({0, f % 3 == 0 ? 0 : 40'000});
        bounds.totals.push_back({0, f == 7 ? 500 : 1'000'000});
    }
    const Table table = apportion(bounds);
    CHECK(table[0][7] + table[1][7] == 500);
    for (std::size_t f = 1; f < 60; ++f)
        if (f != 7) CHECK(std::abs(table[0][f] - table[0][0]) <= 1);
}
