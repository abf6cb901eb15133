// Fabrics for the slots of a kit: what must hold holds, what is wished for is better than dealing at random,
// and what cannot be is told.

#include "placement/batch.h"

#include <algorithm>
#include <catch.hpp>
#include <cmath>
#include <map>
#include <random>
#include <set>

#include "layout/score.h"
#include "placement/kits.h"

using namespace motley;
using kits::at;
using layout::Brief;
using layout::FabricId;
using placement::Batches;
using placement::Chance;
using placement::KitModel;

namespace {

int number(FabricId f) {
    return static_cast<int>(layout::index(f));
}

/// Every pair of pieces of every making, by the wording of the task: one fabric, or too alike, or too little
/// contrast between roles that share a unit.
int breaches(const Brief& brief, const std::vector<FabricId>& slots) {
    const std::vector<char> same = layout::same_fabric(brief);
    int broken = 0;
    for (const std::vector<int>& making : brief.kit->makings)
        for (std::size_t i = 0; i < making.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                broken += same[layout::index(slots[at(making[i])]) * brief.names.size() +
                               layout::index(slots[at(making[j])])];
    for (const layout::KitUnit& unit : brief.kit->units)
        for (const int i : unit.slots)
            for (const int j : unit.slots)
                if (brief.kit->slots[at(i)].role != brief.kit->slots[at(j)].role)
                    broken += std::abs(brief.labs[layout::index(slots[at(i)])].l -
                                       brief.labs[layout::index(slots[at(j)])].l) < brief.rules.contrast;
    return broken;
}

void check_counts(const Brief& brief, const std::vector<FabricId>& slots) {
    REQUIRE(slots.size() == brief.kit->slots.size());
    for (std::size_t r = 0; r < brief.kit->roles.size(); ++r)
        for (std::size_t f = 0; f + 1 < brief.names.size(); ++f) {
            int used = 0;
            for (std::size_t s = 0; s < slots.size(); ++s)
                used += brief.kit->slots[s].role == static_cast<int>(r) && layout::index(slots[s]) == f;
            CHECK(used >= brief.role_counts[r][f].least);
            CHECK(used <= brief.role_counts[r][f].most);
        }
    for (std::size_t f = 0; f + 1 < brief.names.size(); ++f) {
        const auto used =
            std::count_if(slots.begin(), slots.end(), [f](FabricId id) { return layout::index(id) == f; });
        CHECK(used >= brief.counts[f].least);
        CHECK(used <= brief.counts[f].most);
    }
}

/// The strips of each set, in order.
std::vector<std::vector<int>> sets(const Brief& brief, const std::vector<FabricId>& slots) {
    std::map<int, std::vector<int>> found;
    for (const layout::KitUnit& unit : brief.kit->units) {
        std::vector<int>& set = found[unit.twins];
        if (!set.empty()) continue;
        for (const int slot : brief.kit->makings[at(unit.making)])
            if (brief.kit->roles[at(brief.kit->slots[at(slot)].role)] == "strip")
                set.push_back(number(slots[at(slot)]));
    }
    std::vector<std::vector<int>> out;
    for (auto& [twins, set] : found) out.push_back(set);
    return out;
}

/// How good a choice is, in figures a person can check.
struct Figures {
    double off_mean = 0; ///< Standard deviation of the sets' mean L*.
    double likeness = 0; ///< Of strips side by side, mean.
    double step = 0;     ///< In L*, from a strip to the next, mean.
    int most_shared = 0; ///< Fabrics that two sets share, at most.
    double off_share =
        0; ///< Standard deviation of the fabrics' visible areas over their shares of the strips.
};

Figures figures(const Brief& brief, const std::vector<FabricId>& slots) {
    Figures out;
    const auto all = sets(brief, slots);
    const std::vector<double> like = layout::likeness(brief);
    double mean = 0, many = 0, pairs = 0;
    for (const auto& set : all)
        for (const int f : set) mean += brief.labs[at(f)].l, many += 1;
    mean /= many;
    for (const auto& set : all) {
        double own = 0;
        for (std::size_t i = 0; i < set.size(); ++i) {
            own += brief.labs[at(set[i])].l / static_cast<double>(set.size());
            if (i == 0) continue;
            out.likeness += like[at(set[i]) * brief.names.size() + at(set[i - 1])];
            out.step += std::abs(brief.labs[at(set[i])].l - brief.labs[at(set[i - 1])].l);
            pairs += 1;
        }
        out.off_mean += (own - mean) * (own - mean) / static_cast<double>(all.size());
    }
    out.off_mean = std::sqrt(out.off_mean), out.likeness /= pairs, out.step /= pairs;
    for (std::size_t a = 0; a < all.size(); ++a)
        for (std::size_t b = 0; b < a; ++b) {
            const std::set<int> one(all[a].begin(), all[a].end());
            int shared = 0;
            for (const int f : all[b]) shared += one.contains(f);
            out.most_shared = std::max(out.most_shared, shared);
        }
    std::map<int, double> visible, used;
    double area = 0, strips = 0;
    for (const layout::KitUnit& unit : brief.kit->units)
        for (std::size_t p = 0; p < unit.slots.size(); ++p) {
            const int slot = unit.slots[p];
            if (brief.kit->slots[at(slot)].role != 0) continue;
            visible[number(slots[at(slot)])] += brief.forms[at(unit.form)].patches[p].area;
            area += brief.forms[at(unit.form)].patches[p].area;
        }
    for (std::size_t s = 0; s < slots.size(); ++s)
        if (brief.kit->slots[s].role == 0) used[number(slots[s])] += 1, strips += 1;
    for (const auto& [f, shown] : visible) {
        const double off = shown / area / (used[f] / strips) - 1;
        out.off_share += off * off / static_cast<double>(visible.size());
    }
    out.off_share = std::sqrt(out.off_share);
    return out;
}

Brief strip_sets(int strips, int grounds) {
    return kits::make("strip-set-triangle", kits::straight(10, 12), {{0, strips}, {strips, grounds}});
}

} // namespace

TEST_CASE("counts are kept and no making has a fabric twice") {
    struct Kit {
        const char* recipe;
        std::vector<kits::Takes> roles;
    };
    const Kit all[] = {{"strip-set-triangle", {{0, 20}, {20, 3}}},
                       {"strip-set-triangle", {{0, 5}, {5, 1}}},   // As few as there can be.
                       {"strip-set-triangle", {{0, 12}, {6, 12}}}, // Some fabrics in both roles.
                       {"half-square-triangle-two", {{0, 9}, {3, 9}}},
                       {"nine-patch", {{0, 6}, {4, 6}}},
                       {"rail", {{0, 3}}},
                       {"disappearing-nine-patch", {{0, 6}, {2, 6}, {4, 6}}}};
    for (const Kit& kit : all)
        for (const std::uint64_t seed : {1U, 2U, 3U}) {
            INFO(kit.recipe << ", seed " << seed);
            const Brief brief = kits::make(kit.recipe, kits::straight(10, 12), kit.roles);
            CHECK(placement::batch_obstacles(brief).empty());
            const KitModel model(brief);
            Chance chance(seed, 0);
            const std::vector<FabricId> slots = placement::choose_batches(model, chance, 3000);
            check_counts(brief, slots);
            CHECK(breaches(brief, slots) == 0);
            CHECK(placement::batch_breaches(brief, slots).empty());
        }
}

TEST_CASE("a fabric that two roles take keeps its number over both, where the roles leave it open") {
    // As make_brief has even counts: in each role and in total one of two neighbouring numbers.
    for (const char* recipe : {"square-in-square", "half-square-triangle-two"})
        for (const std::uint64_t seed : {1U, 2U, 3U, 4U}) {
            INFO(recipe << ", seed " << seed);
            Brief brief = kits::make(recipe, kits::straight(7, 8), {{0, 25}, {0, 25}});
            const int places = brief.kit->places(0), once_more = places % 25;
            REQUIRE(brief.kit->places(1) == places);
            for (int f = 0; f < 25; ++f) {
                const std::size_t i = at(f);
                for (auto& role : brief.role_counts) role[i] = {places / 25, places / 25 + 1};
                brief.counts[i] = {2 * places / 25, 2 * places / 25 + 1};
                brief.shares[0][i] = places / 25 + (f < once_more);
                brief.shares[1][i] = places / 25 + (f >= 25 - once_more);
            }
            const KitModel model(brief);
            Chance chance(seed, 0);
            const std::vector<FabricId> slots = placement::choose_batches(model, chance, 500);
            check_counts(brief, slots);
        }
}

TEST_CASE("fabrics too alike to tell apart stay out of one making, and roles keep their contrast") {
    Brief brief = strip_sets(20, 4);
    for (int g = 0; g < 4; ++g) brief.labs[at(20 + g)] = {g % 2 == 0 ? 8.0 : 97.0, 0, 0};
    brief.rules.contrast = 35;
    brief.rules.same_if_closer_than = 9;
    const std::vector<char> same = layout::same_fabric(brief);
    REQUIRE(std::count(same.begin(), same.end(), 1) > 24); // Not only each with itself.
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        const KitModel model(brief);
        Chance chance(seed, 0);
        const std::vector<FabricId> slots = placement::choose_batches(model, chance, 5000);
        check_counts(brief, slots);
        CHECK(breaches(brief, slots) == 0);
    }
}

TEST_CASE("sets mix values and colours, differ from each other and show every fabric evenly") {
    const Brief brief = strip_sets(20, 3);
    const KitModel model(brief);
    Chance chance(1, 0);
    const Figures chosen = figures(brief, placement::choose_batches(model, chance));
    Figures best{1e9, 1e9, 0, 99, 1e9};
    std::mt19937 dice(1);
    for (int k = 0; k < 200; ++k) { // Each figure against the best of 200 deals for itself.
        std::vector<FabricId> slots;
        for (int r = 0; r < 2; ++r) {
            std::vector<FabricId> role;
            for (std::size_t f = 0; f + 1 < brief.names.size(); ++f)
                role.insert(role.end(), at(brief.shares[at(r)][f]), FabricId{static_cast<std::uint16_t>(f)});
            for (std::size_t i = role.size(); i > 1; --i) std::swap(role[i - 1], role[dice() % i]);
            std::size_t next = 0;
            slots.resize(brief.kit->slots.size());
            for (std::size_t s = 0; s < slots.size(); ++s)
                if (brief.kit->slots[s].role == r) slots[s] = role[next++];
        }
        const Figures dealt = figures(brief, slots);
        best.off_mean = std::min(best.off_mean, dealt.off_mean);
        best.likeness = std::min(best.likeness, dealt.likeness);
        best.step = std::max(best.step, dealt.step);
        best.most_shared = std::min(best.most_shared, dealt.most_shared);
        best.off_share = std::min(best.off_share, dealt.off_share);
    }
    CHECK(chosen.off_mean < best.off_mean);
    CHECK(chosen.likeness < best.likeness);
    CHECK(chosen.step > best.step);
    CHECK(chosen.most_shared == 1);
    CHECK(chosen.off_share < best.off_share);
}

TEST_CASE("a walk of changes leaves the tally equal to a fresh count") {
    for (const int strips : {6, 20}) {
        Brief brief = strip_sets(strips, 3);
        brief.rules.contrast = 20;
        brief.rules.same_if_closer_than = 12;
        const KitModel model(brief);
        std::mt19937 dice(7);
        const auto below = [&](int n) { return static_cast<int>(dice() % static_cast<unsigned>(n)); };
        std::vector<int> fabrics;
        for (int slot = 0; slot < model.slots; ++slot) fabrics.push_back(below(strips + 3));
        Batches walked(model, fabrics);
        for (int k = 0; k < 300; ++k) {
            if (k % 3 == 0)
                walked.set(below(model.slots), below(strips + 3));
            else
                walked.exchange(below(model.slots), below(model.slots));
            for (int slot = 0; slot < model.slots; ++slot) fabrics[at(slot)] = walked.fabric(slot);
            REQUIRE(walked.tally() == Batches(model, fabrics).tally());
        }
        std::vector<FabricId> slots;
        for (const int f : fabrics) slots.push_back(FabricId{static_cast<std::uint16_t>(f)});
        CHECK((walked.tally().broken == 0) == (breaches(brief, slots) == 0));
    }
}

TEST_CASE("two sets of three rails against all ways to fill them") {
    // 12 rails take 2 sets of 3 strips at 42 in: 6 in finished needs sections of 6 1/2 in, six to a set.
    Brief plain = kits::make("rail", kits::straight(4, 3), {{0, 5}});
    REQUIRE(plain.kit->slots.size() == 6);
    std::mt19937 dice(3);
    const auto below = [&](int n) { return static_cast<int>(dice() % static_cast<unsigned>(n)); };
    int possible = 0, impossible = 0, proved = 0;
    for (int k = 0; k < 200; ++k) {
        Brief brief = plain;
        // Bounds around a filling that adds up; whether it avoids a fabric twice is another matter.
        std::vector<int> used(5);
        for (int s = 0; s < 6; ++s) ++used[at(below(2 + k % 4))];
        for (std::size_t f = 0; f < 5; ++f) {
            brief.role_counts[0][f] = {std::max(0, used[f] - below(2)), used[f] + below(2)};
            brief.counts[f] = brief.role_counts[0][f];
            brief.shares[0][f] = used[f];
        }
        bool any = false;
        for (int code = 0; code < 15625 && !any; ++code) { // 5^6 fillings.
            std::vector<FabricId> slots;
            std::vector<int> count(5);
            for (int s = 0, rest = code; s < 6; ++s, rest /= 5) {
                slots.push_back(FabricId{static_cast<std::uint16_t>(rest % 5)});
                ++count[at(rest % 5)];
            }
            bool fits = true;
            for (std::size_t f = 0; f < 5; ++f)
                fits = fits && count[f] >= brief.counts[f].least && count[f] <= brief.counts[f].most;
            any = fits && breaches(brief, slots) == 0;
        }
        const bool told = !placement::batch_obstacles(brief).empty();
        const KitModel model(brief);
        Chance chance(1, 0);
        const std::vector<FabricId> slots = placement::choose_batches(model, chance, 500);
        check_counts(brief, slots);
        CHECK((breaches(brief, slots) == 0) == any);
        CHECK(!(any && told));
        (any ? possible : impossible) += 1;
        proved += told;
    }
    CHECK(possible > 20);
    CHECK(impossible > 20);
    CHECK(proved == impossible); // Sets of one size without contrast: counting decides them.
}

TEST_CASE("a kit that cannot be filled is told in words") {
    const auto words = [](const Brief& brief) { return text(placement::batch_obstacles(brief)); };
    CHECK(
        words(strip_sets(4, 2)) ==
        "impossible: 5 strips are sewn together, all of different fabrics, but only 4 fabrics may be a strip "
        "(give the role strip at least 5 fabrics, or sew fewer together)");
    Brief much = strip_sets(20, 2);
    much.role_counts[0][0] = much.counts[0] = {9, 9};
    CHECK(words(much) ==
          "impossible: f0 is asked for 9 times as a strip, but there are only 8 sets to sew and none "
          "may have a fabric twice (use it 8 times or fewer)");
    Brief flat = strip_sets(20, 1);
    flat.rules.contrast = 60;
    CHECK(words(flat).find("is less than 60 L* from every fabric that may be ground") != std::string::npos);
    Brief background = strip_sets(4, 2); // Strips of a background may be there twice.
    background.exempt[0] = 1;
    for (std::size_t f = 0; f < 4; ++f) {
        background.shares[0][f] = f == 0 ? 16 : 8;
        background.role_counts[0][f] =
            background.counts[f] = {background.shares[0][f], background.shares[0][f]};
    }
    CHECK(placement::batch_obstacles(background).empty());
}
