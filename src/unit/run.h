#pragma once
/// A recipe's steps, done on the bench with every size known. Private to this folder.

#include <string>
#include <utility>
#include <vector>

#include "unit/bench.h"
#include "unit/values.h"

namespace motley::unit {

/// How far a wish is from coming true, in inches.
struct Shortfall {
    std::string finds;
    double by = 0; ///< Measured less wished.
};

struct Run {
    Bench bench;
    std::vector<Input> inputs;
    std::vector<Shortfall> shortfalls; ///< Of every wish that was met with.
    std::vector<StripSetYield> sets;
    std::vector<Step> steps;
};

/// `seeking`: as in Bench; nothing is recorded but the shortfalls. `usual`: the same values with the sizes
/// that were sought rounded up: for the sizes as one would cut them.
Run run(const Recipe& recipe, const Order& order, const Values& values, const Values& usual, bool seeking);

/// Finds the unknown sizes: those that `values` lacks are added to it. The measurements are affine in the
/// sizes as long as the cuts fall in the same order, so Newton's method with differences for slopes is exact
/// in a step or two. Fault when no size does it.
void seek(const Recipe& recipe, const Order& order, Values& values);

} // namespace motley::unit
