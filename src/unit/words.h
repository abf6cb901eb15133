#pragma once
/// Steps in words. Private to this folder.

#include <functional>
#include <string>

#include "unit/action.h"
#include "unit/step.h"

namespace motley::unit {

/// The whole instruction. `sized` evaluates a size to inches, `said` prints inches.
std::string instruction(const Action& action, double seam,
                        const std::function<double(const Expression&)>& sized,
                        const std::function<std::string(double)>& said);

/// "Each quarter should now measure 6 1/2 in x 6 1/2 in."
std::string outcome(const Step& step, const std::function<std::string(double)>& said);

} // namespace motley::unit
