#pragma once
/// Where the tree cannot go: from the top as it was to one that keeps every rule, and from there to fewer
/// changes and better ones, step by step. Nothing is proved here.

#include <cstdint>
#include <optional>
#include <stop_token>

#include "placement/chance.h"
#include "placement/mend_task.h"

namespace motley::placement {

/// A tabu walk (Glover 1989) on broken rules and counts, ties to what changes fewer cells. Empty when it does
/// not arrive within `steps` and four for each thing that is wrong.
std::optional<layout::Assignment> walk_to_rules(const MendTask& task, Chance& chance, std::int64_t steps,
                                                const std::stop_token& stop);

/// Puts back every change that the rules and counts allow to be put back alone or together with one other.
layout::Assignment put_back(const MendTask& task, layout::Assignment top);

/// Puts a few neighbouring changes back at a time and lets the tree do with fewer, until the work is spent.
layout::Assignment with_fewer_changes(const MendTask& task, layout::Assignment top, Chance& chance,
                                      std::int64_t work, const std::stop_token& stop);

/// Tries `moves` small changes that keep the rules and the number of changed cells, and takes those that make
/// the top less dear, or as dear and nearer to the wishes.
layout::Assignment polish(const MendTask& task, const layout::Assignment& top, Chance& chance,
                          std::int64_t moves, const std::stop_token& stop);

} // namespace motley::placement
