#include "layout/brief.h"

#include <algorithm>
#include <catch.hpp>
#include <cmath>
#include <functional>

#include "sample.h"

using namespace motley;
using namespace motley::layout;
using sample::Change;
using sample::Json;

namespace {

constexpr const char* triangles = R"("half-square-triangle")";

Brief brief(const std::vector<Change>& changes, const std::vector<palette::Fabric>& fabrics,
            const std::vector<int>& yields = {}) {
    return make_brief(sample::plan(changes), fabrics, yields);
}

/// A 4 x 3 top of fabrics f0 to f7 (L* 10 to 90).
Brief brief(const std::vector<Change>& changes) {
    return brief(changes, sample::fabrics(8));
}

Fault complaint(const std::vector<Change>& changes, const std::vector<int>& yields = {}) {
    return sample::complaint([&] { brief(changes, sample::fabrics(8), yields); });
}

int sum(const std::vector<int>& numbers) {
    int all = 0;
    for (const int n : numbers) all += n;
    return all;
}

} // namespace

TEST_CASE("a brief numbers the fabrics and takes size, rules and wishes over") {
    const Brief made =
        brief({{"/rules", R"({"apart": 2, "exempt": ["f3"]})"}, {"/wishes", R"({"value": 4})"}});
    CHECK(made.columns == 4);
    CHECK(made.rows == 3);
    CHECK(made.patches() == 12);
    REQUIRE(made.names.size() == 8);
    CHECK(made.names[3] == "f3");
    CHECK(made.labs[0].l == 10);
    CHECK(made.exempt == std::vector<char>{0, 0, 0, 1, 0, 0, 0, 0});
    CHECK(made.rules.apart == 2);
    CHECK(made.wishes.value == 4);
    CHECK(made.aim.empty());
}

TEST_CASE("even counts differ by at most one and use every patch") {
    const Brief made = brief({});
    for (const Range& range : made.role_counts[0]) CHECK(range == Range{1, 2}); // 12 patches, 8 fabrics
    CHECK(sum(made.shares[0]) == 12);
    // More fabrics than patches: none or one of each.
    const Brief many = brief({}, sample::fabrics(20));
    for (const Range& range : many.role_counts[0]) CHECK(range == Range{0, 1});
    // 12 patches over 6 fabrics leave no choice.
    const Brief whole = brief({}, sample::fabrics(6));
    for (const Range& range : whole.counts) CHECK(range == Range{2, 2});
}

TEST_CASE("exact counts come off before the rest is shared evenly") {
    const Brief made = brief({{"/counts", R"({"f0": 5, "f1": 0})"}});
    CHECK(made.role_counts[0][0] == Range{5, 5});
    CHECK(made.role_counts[0][1] == Range{0, 0});
    for (std::size_t f = 2; f < 8; ++f) CHECK(made.role_counts[0][f] == Range{1, 2}); // 7 over 6
    CHECK(made.shares[0][0] == 5);
}

TEST_CASE("open counts keep their range and get an even share") {
    const Brief made =
        brief({{"/counts", R"({"f0": {"at_most": 1}, "f1": {"at_least": 4}, "*": {"at_most": 6}})"}},
              sample::fabrics(4));
    CHECK(made.role_counts[0][0] == Range{0, 1});
    CHECK(made.role_counts[0][1].least == 4);
    CHECK(made.shares[0] == std::vector<int>{1, 4, 4, 3}); // 12 with f0 held at 1: 11 over three
    // Beside even fabrics: f0 is held at 2, the four others share 10.
    const Brief mixed = brief({{"/counts", R"({"f0": {"at_most": 2}})"}}, sample::fabrics(5));
    for (std::size_t f = 1; f < 5; ++f) CHECK(mixed.role_counts[0][f] == Range{2, 3});
    CHECK(mixed.role_counts[0][0] == Range{0, 2});
}

TEST_CASE("an even share holds in each role and over the roles") {
    const Brief made = brief({{"/unit", R"({"recipe": "half-square-triangle"})"}});
    for (std::size_t p = 0; p < 2; ++p) {
        for (const Range& range : made.role_counts[p]) CHECK(range == Range{1, 2});
        CHECK(sum(made.shares[p]) == 12);
    }
    for (std::size_t f = 0; f < 8; ++f) {
        CHECK(made.counts[f].most - made.counts[f].least <= 1);
        CHECK(made.shares[0][f] + made.shares[1][f] >= made.counts[f].least);
        CHECK(made.shares[0][f] + made.shares[1][f] <= made.counts[f].most);
    }
}

TEST_CASE("roles take what they list, a star what no other role names") {
    const auto fabrics = sample::fabrics(4);
    const auto taken = [&](const std::string& roles) {
        return takers(sample::plan({{"/unit/recipe", triangles}, {"/unit/roles", roles}}), fabrics);
    };
    using Taken = std::vector<std::vector<char>>;
    CHECK(taken("{}") == Taken{{1, 1, 1, 1}, {1, 1, 1, 1}});
    CHECK(taken(R"({"ground": ["f0"]})") == Taken{{0, 1, 1, 1}, {1, 0, 0, 0}});
    CHECK(taken(R"({"ground": ["f0", "*"]})") == Taken{{0, 1, 1, 1}, {1, 1, 1, 1}});
    CHECK(taken(R"({"print": ["f1", "f2"], "ground": ["f1", "*"]})") == Taken{{0, 1, 1, 0}, {1, 1, 0, 1}});
    // A fabric that no role takes is not in play, even under a star count.
    const Brief made = brief({{"/unit/roles", R"({"patch": ["f1", "f2"]})"}, {"/counts", R"({"*": 6})"}});
    CHECK(made.counts[0] == Range{0, 0});
    CHECK(made.counts[1] == Range{6, 6});
}

TEST_CASE("the stock limits a count") {
    const std::vector<int> yields{2, 100, 100, 100, 100, 100, 100, 100};
    const Brief made = brief({{"/counts", R"({"*": "stock"})"}}, sample::fabrics(8), yields);
    CHECK(made.role_counts[0][0] == Range{0, 2});
    CHECK(sum(made.shares[0]) == 12);
    // 8 fabrics of 1 give 8 patches, 12 are needed: a plan that cannot be met, not a plan that is wrong.
    const Fault fault = complaint({{"/counts", R"({"*": "stock"})"}}, std::vector<int>(8, 1));
    CHECK(fault.cause() == Cause::unmet);
    CHECK(sample::says(fault, "plan.json /counts", "the stock gives 8 patches, the top needs 12: 4 short"));
    const Fault role = sample::complaint([] {
        brief({{"/unit/recipe", triangles},
               {"/unit/roles", R"({"ground": ["f0", "f1"]})"},
               {"/counts", R"({"f0": "stock", "f1": "stock"})"}},
              sample::fabrics(8), {3, 4, 0, 0, 0, 0, 0, 0});
    });
    CHECK(role.cause() == Cause::unmet);
    CHECK(sample::says(role, "plan.json /counts",
                       "the stock gives 7 patches in the role \"ground\", the top needs 12: 5 short"));
}

namespace {

/// A small plan with counts of every kind, and the totals that its counts allow.
struct SmallPlan {
    std::vector<palette::Fabric> cloth;
    Plan plan;
    std::vector<std::vector<char>> taken;
    std::vector<int> yields, least, most;
    std::vector<char> even;
    std::string said;

    explicit SmallPlan(sample::Chance& chance) : cloth(sample::fabrics(1 + chance.below(4))) {
        const bool two = chance.one_in(2);
        Json counts = Json::object(), roles = Json::object();
        for (const palette::Fabric& fabric : cloth) ask(chance, fabric.id, counts);
        using Words = std::vector<const char*>;
        for (const char* role : two ? Words{"print", "ground"} : Words{"patch"}) {
            roles[role] = Json::array();
            for (const palette::Fabric& fabric : cloth)
                if (!chance.one_in(4)) roles[role].push_back(fabric.id);
        }
        said = counts.dump() + roles.dump();
        plan = sample::plan({{"/setting/columns", std::to_string(1 + chance.below(4))},
                             {"/setting/rows", "1"},
                             {"/unit/recipe", two ? triangles : R"("plain-square")"},
                             {"/unit/roles", roles.dump()},
                             {"/counts", counts.dump()}});
        taken = takers(plan, cloth);
    }

    void ask(sample::Chance& chance, const std::string& id, Json& counts) {
        const int low = chance.below(5), high = low + chance.below(4), yield = chance.below(6);
        const int kind = chance.below(5);
        counts[id] = kind == 0   ? Json(low)
                     : kind == 1 ? Json{{"at_least", low}, {"at_most", high}}
                     : kind == 2 ? Json{{"at_least", low}}
                     : kind == 3 ? Json("stock")
                                 : Json("even");
        yields.push_back(yield);
        least.push_back(kind <= 2 ? low : 0);
        most.push_back(kind == 0 ? low : kind == 1 ? high : kind == 3 ? yield : 99);
        even.push_back(kind == 4);
    }

    /// Empty roles and counts without a role have complaints of their own.
    bool complete() const {
        for (const auto& role : taken)
            if (std::count(role.begin(), role.end(), 1) == 0) return false;
        for (std::size_t f = 0; f < cloth.size(); ++f)
            if (!taken.front()[f] && !taken.back()[f]) return false;
        return true;
    }

    /// All ways to fill a role, as counts by fabric.
    std::vector<std::vector<int>> fills(std::size_t role) const {
        std::vector<std::vector<int>> all;
        std::vector<int> row(cloth.size(), 0);
        const std::function<void(std::size_t, int)> fill = [&](std::size_t f, int left) {
            if (f == cloth.size()) {
                if (left == 0) all.push_back(row);
                return;
            }
            for (int n = 0; n <= (taken[role][f] ? left : 0); ++n) {
                row[f] = n;
                fill(f + 1, left - n);
            }
            row[f] = 0;
        };
        fill(0, plan.columns);
        return all;
    }

    /// Calls `look` with all ways to fill the whole top, within the counts or not.
    void every_table(const std::function<void(const std::vector<std::vector<int>>&)>& look) const {
        for (const auto& first : fills(0)) {
            if (taken.size() == 1) look({first});
            if (taken.size() == 2)
                for (const auto& second : fills(1)) look({first, second});
        }
    }

    static int total(const std::vector<std::vector<int>>& table, std::size_t f) {
        int all = 0;
        for (const auto& role : table) all += role[f];
        return all;
    }

    bool as_asked(const std::vector<std::vector<int>>& table) const {
        for (std::size_t f = 0; f < cloth.size(); ++f)
            if (total(table, f) < least[f] || total(table, f) > most[f]) return false;
        return true;
    }

    /// Even fabrics differ by at most one in every role, and in total where the same roles take both.
    bool evenly(const std::vector<std::vector<int>>& table) const {
        for (std::size_t f = 0; f < cloth.size(); ++f)
            for (std::size_t g = 0; g < f; ++g) {
                if (!even[f] || !even[g]) continue;
                bool same_roles = true;
                for (std::size_t role = 0; role < taken.size(); ++role) {
                    if (taken[role][f] && taken[role][g] && std::abs(table[role][f] - table[role][g]) > 1)
                        return false;
                    same_roles = same_roles && taken[role][f] == taken[role][g];
                }
                if (same_roles && std::abs(total(table, f) - total(table, g)) > 1) return false;
            }
        return true;
    }
};

bool within(const Brief& brief, const std::vector<std::vector<int>>& table) {
    for (std::size_t f = 0; f < brief.names.size(); ++f) {
        const int total = SmallPlan::total(table, f);
        if (total < brief.counts[f].least || total > brief.counts[f].most) return false;
        for (std::size_t role = 0; role < table.size(); ++role) {
            const Range range = brief.role_counts[role][f];
            if (table[role][f] < range.least || table[role][f] > range.most) return false;
        }
    }
    return true;
}

} // namespace

TEST_CASE("small plans are feasible exactly when brute force finds counts that add up") {
    sample::Chance chance(5);
    int possible = 0, impossible = 0;
    for (int round = 0; round < 1500; ++round) {
        const SmallPlan small(chance);
        if (!small.complete()) continue;
        INFO(small.said << " columns " << small.plan.columns);
        bool feasible = false;
        small.every_table([&](const auto& table) { feasible = feasible || small.as_asked(table); });
        if (!feasible) {
            ++impossible;
            REQUIRE_THROWS_AS(make_brief(small.plan, small.cloth, small.yields), Fault);
            continue;
        }
        ++possible;
        // The shares are one way; every way that the brief admits is as asked, and even where it says even.
        const Brief made = make_brief(small.plan, small.cloth, small.yields);
        REQUIRE(within(made, made.shares));
        for (const auto& role : made.shares) REQUIRE(sum(role) == small.plan.columns);
        small.every_table([&](const auto& table) {
            if (!within(made, table)) return;
            REQUIRE(small.as_asked(table));
            REQUIRE(small.evenly(table));
        });
    }
    CHECK(possible > 200);
    CHECK(impossible > 200);
}

TEST_CASE("turns follow the plan") {
    const auto turns = [](const char* said) { return brief({{"/unit/turns", said}}).turns; };
    CHECK(turns(R"("fixed")") == std::vector<int>(12, 0));
    CHECK(turns(R"("any")") == std::vector<int>(12, -1));
    CHECK(turns(R"("alternate")") == std::vector<int>{0, 1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 1});
    CHECK(turns(R"("pinwheel")") == std::vector<int>{0, 1, 0, 1, 3, 2, 3, 2, 0, 1, 0, 1});
    CHECK(turns("[[0, 1, 2], [3, 2, 1]]") == std::vector<int>{0, 1, 2, 0, 3, 2, 1, 3, 0, 1, 2, 0});
}

TEST_CASE("a pinwheel whirls: its four grounds and its four prints alternate around the middle") {
    const Brief made = brief({{"/unit", R"({"recipe": "half-square-triangle", "turns": "pinwheel"})"}});
    // Around the middle of a 2 x 2 block lie eight 45 degree wedges; those of the prints are a quarter turn
    // apart.
    std::vector<double> angles;
    for (int row = 0; row < 2; ++row)
        for (int column = 0; column < 2; ++column) {
            const auto centre = unit::turned(made.forms[0].patches[0].centre,
                                             made.turns[static_cast<std::size_t>(row * 4 + column)]);
            angles.push_back(std::atan2(row + centre.y - 1, column + centre.x - 1));
        }
    std::sort(angles.begin(), angles.end());
    for (std::size_t i = 1; i < 4; ++i) CHECK(angles[i] - angles[i - 1] == Approx(std::acos(0.0)));
}

TEST_CASE("aims run from the lightest to the darkest unit") {
    const auto aim = [](const std::string& word, const std::vector<Change>& more = {}) {
        std::vector<Change> changes{{"/wishes", fmt::format("{{\"value_aim\": \"{}\"}}", word)}};
        changes.insert(changes.end(), more.begin(), more.end());
        return brief(changes).aim; // L* 10 to 90 on 4 columns, 3 rows.
    };
    const auto close = [](const std::vector<double>& found, const std::vector<double>& right) {
        REQUIRE(found.size() == right.size());
        for (std::size_t i = 0; i < found.size(); ++i) CHECK(found[i] == Approx(right[i]));
    };
    const double a = 90 - 80 / 3.0, b = 90 - 160 / 3.0;
    close(aim("across"), {90, a, b, 10, 90, a, b, 10, 90, a, b, 10});
    close(aim("down"), {90, 90, 90, 90, 50, 50, 50, 50, 10, 10, 10, 10});
    close(aim("diagonal"), {90, 74, 58, 42, 74, 58, 42, 26, 58, 42, 26, 10});
    close(aim("centre"), {10, 10, 10, 10, 10, a, a, 10, 10, 10, 10, 10});
    CHECK(aim("even").empty());
    // A fabric that may not be used is not aimed at; roles weigh by area.
    close(aim("down", {{"/counts", R"({"f0": 0, "f7": 0})"}}), [] {
        std::vector<double> right;
        for (int i = 0; i < 12; ++i) right.push_back(10 + 80 * 6 / 7.0 - (i / 4) * 80 * 5 / 14.0);
        return right;
    }());
    const auto halves =
        aim("across", {{"/unit/recipe", triangles}, {"/unit/roles", R"({"ground": ["f7"]})"}});
    CHECK(halves[0] == Approx(90 / 2.0 + (10 + 80 * 6 / 7.0) / 2));
    CHECK(halves[3] == Approx(90 / 2.0 + 10 / 2.0));
}

TEST_CASE("a picture is aimed at with its light") {
    const Plan plan = sample::plan({{"/wishes", R"({"value_aim": {"picture": "x.png"}})"}});
    AimPicture picture;
    for (int i = 0; i < 12; ++i) picture.light.push_back(i / 11.0);
    const Brief made = make_brief(plan, sample::fabrics(8), {}, picture);
    CHECK(made.aim.front() == Approx(10));
    CHECK(made.aim.back() == Approx(90));
    CHECK(made.aim[1] == Approx(10 + 80 / 11.0));
}

TEST_CASE("a top of one row or one column has aims too") {
    for (const char* word : {"across", "down", "diagonal", "centre"}) {
        const auto aim = brief({{"/setting", R"({"columns": 1, "rows": 1})"},
                                {"/wishes", fmt::format("{{\"value_aim\": \"{}\"}}", word)}})
                             .aim;
        REQUIRE(aim.size() == 1);
        CHECK(aim[0] >= 10);
        CHECK(aim[0] <= 90);
    }
}
