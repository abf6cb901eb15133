#pragma once
/// Reads the steps of a recipe. Private to this folder.

#include "document/document.h"
#include "unit/action.h"

namespace motley::unit {

/// Faults name the place in the file. Names of things, inputs and sizes are checked by the caller.
Action read_action(const document::Node& node, measure::System measure);

/// Text, or a number in the file's measure.
Expression read_expression(const document::Node& node, measure::System measure);

/// The things that an action takes, in order.
std::vector<std::string> taken(const Operation& operation);

/// All sizes that an action and its wishes are written with.
std::vector<const Expression*> sizes(const Action& action);

} // namespace motley::unit
