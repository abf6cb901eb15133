#pragma once
/// Steps in words. Private to this folder.

#include <functional>
#include <string>
#include <vector>

#include "unit/action.h"
#include "unit/said.h"
#include "unit/sewn.h"

namespace motley::unit {

/// The whole instruction. `strips`: the names of the strips that a strip set is sewn from. `sized` evaluates
/// a size to inches; `step` is what the bench made of it.
std::string instruction(const Action& action, const Step& step, double seam,
                        const std::vector<std::string>& strips,
                        const std::function<double(const Expression&)>& sized, const Said& said);

/// The first step: "Cut 1 ground: a square of 9 3/4 in."
std::string cutting_out(const std::vector<Input>& inputs, bool usual, measure::System measure);

/// "Each quarter should now measure 6 1/2 in x 6 1/2 in."
std::string outcome(const Step& step, const Said& said);

} // namespace motley::unit
