#pragma once
/// Cut lists as JSON, and plans told as JSON: the formats of `motley cut`.

#include <string_view>

#include "cutting/cut_plan.h"
#include "document/document.h"

namespace motley::cutting {

inline constexpr std::string_view cuts_format = "motley cuts 1";

/// Reads a cut list. Faults (Cause::input) name file and pointer, everything that is wrong in one: unknown
/// keys, wrong types, no usable width, no pieces, two pieces of one name, a piece that fits neither the cloth
/// nor a sheet also when turned, more pieces than `plan_cuts` takes, stock that is not as a palette has it.
CutList read_cut_list(const document::Node& root);

/// The plan, lengths as numbers in the list's measure, pieces as they lie.
document::Json plan_json(const CutList& list, const CutPlan& plan);

} // namespace motley::cutting
