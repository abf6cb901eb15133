// A state that was walked about must equal a state made afresh from where it stands, to the last bit; what a
// step was said to change must be what it changed.

#include "placement/state.h"

#include <catch.hpp>

#include "oracle/ratios.h"
#include "oracle/rules.h"
#include "oracle/tops.h"

using namespace motley;
using oracle::at;
using oracle::Dice;
using placement::Model;
using placement::State;
using placement::Tally;

namespace {

Tally difference(const Tally& after, const Tally& before) {
    return {after.spread - before.spread, after.colour - before.colour,   after.value - before.value,
            after.light - before.light,   after.windows - before.windows, after.broken - before.broken};
}

/// Windows of an even aim are counted from the mean of the first assignment. Counted from another base, each
/// of W window sums moves by d: sum (s - d)^2 = sum s^2 - 2 d sum s + W d^2.
Tally from_base(const Model& model, Tally tally, std::int64_t before, std::int64_t base) {
    if (model.has_aim() || model.rows < 4 || model.columns < 4 || model.cells <= 16) return tally;
    const std::int64_t windows = (model.rows - 3) * (model.columns - 3), moved = base - before;
    tally.value += windows * moved * moved - 2 * moved * tally.windows;
    tally.windows -= windows * moved;
    return tally;
}

void compare(const Model& model, const State& state) {
    const State fresh(model, state.assignment());
    const Tally walked = from_base(model, state.tally(), state.base(), fresh.base());
    REQUIRE(walked.spread == fresh.tally().spread);
    REQUIRE(walked.colour == fresh.tally().colour);
    REQUIRE(walked.value == fresh.tally().value);
    REQUIRE(walked.light == fresh.tally().light);
    REQUIRE(walked.windows == fresh.tally().windows);
    REQUIRE(walked.broken == fresh.tally().broken);
    const oracle::Breaches breaches = oracle::breaches(model.brief, state.assignment());
    REQUIRE(walked.broken == breaches.pairs + breaches.contrast);
    for (int patch = 0; patch < model.patches; ++patch)
        for (int f = 0; f < model.fabrics; ++f)
            REQUIRE(state.conflicts(patch, f) == fresh.conflicts(patch, f));
    for (int f = 0; f < model.fabrics; ++f) {
        REQUIRE(state.uses(f) == fresh.uses(f));
        for (int p = 0; p < model.places; ++p)
            REQUIRE(state.uses_in_place(p, f) == fresh.uses_in_place(p, f));
    }
}

void exchange(State& state, int i, int j) {
    const bool sound = state.tally().broken == 0;
    const bool kept = sound && state.exchange_keeps_rules(i, j);
    const std::int64_t breaks = state.exchange_breaks(i, j);
    const Tally gain = state.exchange_gain(i, j), before = state.tally();
    state.exchange(i, j);
    const Tally change = difference(state.tally(), before);
    REQUIRE(change.spread == gain.spread);
    REQUIRE(change.colour == gain.colour);
    REQUIRE(change.value == gain.value);
    REQUIRE(change.light == gain.light);
    REQUIRE(change.windows == gain.windows);
    REQUIRE(change.broken == breaks);
    if (sound) REQUIRE(kept == (state.tally().broken == 0));
}

void replace(State& state, int i, int f) {
    const std::int64_t breaks = state.replace_breaks(i, f);
    const Tally gain = state.replace_gain(i, f), before = state.tally();
    state.replace(i, f);
    const Tally change = difference(state.tally(), before);
    REQUIRE(change.spread == gain.spread);
    REQUIRE(change.colour == gain.colour);
    REQUIRE(change.value == gain.value);
    REQUIRE(change.light == gain.light);
    REQUIRE(change.windows == gain.windows);
    REQUIRE(change.broken == breaks);
}

void walk(const layout::Brief& brief, std::uint32_t seed, int steps) {
    const Model model(brief);
    Dice dice(seed);
    State state(model, oracle::shuffled(brief, dice));
    compare(model, state);
    for (int step = 0; step < steps; ++step) {
        const int i = dice.below(model.patches), j = dice.below(model.patches);
        switch (dice.below(4)) {
            case 0:
                if (const int f = dice.below(model.fabrics); f != state.fabric(i)) replace(state, i, f);
                break;
            case 1: // Only where the plan leaves the turn open: patches that do not turn are listed once.
                if (brief.turns[at(i / model.places)] < 0 || model.places == 1)
                    state.pose_to(i / model.places, dice.below(4));
                break;
            default:
                if (state.fabric(i) != state.fabric(j)) exchange(state, i, j);
        }
        compare(model, state);
    }
}

layout::Brief with_rules(layout::Brief brief, layout::Touching touching, int apart, bool line,
                         double contrast, double same) {
    brief.rules.touching = touching;
    brief.rules.apart = apart;
    brief.rules.line = line;
    brief.rules.contrast = contrast;
    brief.rules.same_if_closer_than = same;
    return brief;
}

/// 1/d^2 over all pairs of patches within the reach of `colour`.
/// Over near pairs: the weight, by which a likeness's rounding counts, and 1, the most by which a weight's
/// rounding does.
double near_weights(const layout::Brief& brief, const layout::Assignment& top) {
    const int places = brief.patches_per_unit();
    double sum = 0;
    for (int i = 0; i < brief.patches(); ++i)
        for (int j = 0; j < i; ++j) {
            const int a = i / places, b = j / places;
            const oracle::Centre one = oracle::centre(places, i % places, top.turns[at(a)]),
                                 other = oracle::centre(places, j % places, top.turns[at(b)]);
            const double d2 = std::pow(one.x + a % brief.columns - other.x - b % brief.columns, 2) +
                              std::pow(one.y + a / brief.columns - other.y - b / brief.columns, 2);
            if (d2 <= 9 + 1e-9) sum += 1 / d2 + 1;
        }
    return sum;
}

using layout::Touching;

} // namespace

TEST_CASE("a walk over plain squares leaves a state equal to a fresh one") {
    const layout::Brief plain = oracle::squares(7, 6, oracle::even(42, 6));
    walk(plain, 1, 120);
    walk(with_rules(plain, Touching::corner, 1, false, 0, 0), 2, 120);
    walk(with_rules(plain, Touching::free, 3, false, 0, 25), 3, 120);
    walk(with_rules(plain, Touching::edge, 1, true, 0, 40), 4, 120);
    walk(with_rules(plain, Touching::free, 1, false, 0, 0), 5, 60);
    layout::Brief background = with_rules(plain, Touching::corner, 2, true, 0, 20);
    background.exempt = {1, 0, 0, 1, 0, 0};
    walk(background, 6, 120);
}

TEST_CASE("a walk on tops that are one line or narrower than a window") {
    walk(oracle::squares(12, 1, oracle::even(12, 4)), 1, 80);
    walk(oracle::squares(1, 9, oracle::even(9, 3)), 2, 80);
    walk(with_rules(oracle::squares(4, 4, oracle::even(16, 3)), Touching::corner, 2, true, 0, 0), 3, 80);
    walk(with_rules(oracle::squares(3, 8, oracle::even(24, 5)), Touching::free, 4, false, 0, 0), 4, 80);
}

TEST_CASE("a walk towards a lightness that every cell is to have") {
    layout::Brief brief = oracle::squares(6, 6, oracle::even(36, 5));
    for (int cell = 0; cell < 36; ++cell) brief.aim.push_back(20 + cell * 1.7);
    walk(brief, 1, 150);
    layout::Brief pieced = oracle::triangles(5, 4, oracle::even(20, 5), oracle::even(20, 5));
    for (int cell = 0; cell < 20; ++cell) pieced.aim.push_back(80 - cell * 2.3);
    walk(pieced, 2, 150);
    for (int cell = 0; cell < 20; cell += 2) pieced.turns[at(cell)] = -1;
    walk(pieced, 3, 150);
}

TEST_CASE("a walk over half-square triangles with every turn") {
    layout::Brief pieced = oracle::triangles(5, 5, oracle::even(25, 4), oracle::even(25, 4));
    pieced.turns.assign(25, -1);
    walk(pieced, 1, 120);
    walk(with_rules(pieced, Touching::corner, 1, false, 18, 0), 2, 120);
    walk(with_rules(pieced, Touching::free, 2, true, 30, 30), 3, 120);
    pieced.exempt[2] = 1;
    walk(with_rules(pieced, Touching::corner, 1, false, 0, 25), 4, 120);
}

TEST_CASE("a fabric used often is summed instead of listed, with the same figures") {
    // More than 32 uses switch to running sums: one fabric listed, two summed.
    walk(oracle::squares(10, 10, {45, 40, 15}), 1, 60);
    layout::Brief pieced = oracle::triangles(8, 7, {40, 16, 0}, {0, 16, 40});
    pieced.turns.assign(56, -1);
    walk(with_rules(pieced, Touching::corner, 1, false, 20, 0), 2, 60);
}

TEST_CASE("the whole numbers of a state are the contract's sums in fixed point") {
    Dice dice(4);
    for (const bool triangles : {false, true}) {
        layout::Brief brief = triangles ? oracle::triangles(6, 5, oracle::even(30, 5), {10, 8, 6, 6, 0})
                                        : oracle::squares(6, 5, oracle::even(30, 5));
        if (triangles) brief.turns.assign(30, -1);
        const Model model(brief);
        const layout::Assignment top = oracle::shuffled(brief, dice);
        const State state(model, top);
        const oracle::Ratios ratios(brief, top);
        using Wish = oracle::Ratios::Wish;
        const double spread = static_cast<double>(state.tally().spread) / (1 << Model::distance_bits);
        CHECK(spread == Approx(ratios.found(Wish::spread)).epsilon(1e-5));
        // Each likeness, and each weight with a likeness below 1, is rounded by half a step at most; all may
        // err the same way.
        const double colour = static_cast<double>(state.tally().colour) /
                              std::ldexp(1.0, Model::near_bits + Model::likeness_bits);
        const double off = near_weights(brief, top) * std::ldexp(0.5, -Model::likeness_bits);
        CHECK(std::abs(colour - ratios.found(Wish::colour)) < off);
        const double value = static_cast<double>(state.tally().value) / (256.0 * 256.0 * 256.0) / (3 * 2);
        CHECK(value == Approx(ratios.found(Wish::value)).epsilon(2e-3));
    }
}
