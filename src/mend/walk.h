#pragma once
/// Where the tree cannot go: from the top as it was to one that keeps every rule, and from there to fewer
/// changes and better ones, step by step. Nothing is proved here.

#include <optional>

#include "mend/budget.h"
#include "mend/task.h"
#include "placement/chance.h"

namespace motley::mend {

using placement::Chance;

/// A tabu walk (Glover 1989) on broken rules and counts, ties to what changes fewer cells. Empty when it does
/// not arrive before the steps are spent.
std::optional<layout::Assignment> walk_to_rules(const Task& task, Chance& chance, Budget& steps);

/// Puts back every change that the rules and counts allow to be put back alone or together with one other.
layout::Assignment put_back(const Task& task, layout::Assignment top);

/// Puts a few neighbouring changes back at a time and lets the tree do with fewer, until the work is spent.
layout::Assignment with_fewer_changes(const Task& task, layout::Assignment top, Chance& chance, Budget& work);

/// Tries small changes that keep the rules and the number of changed cells, and takes those that make the top
/// less dear; or as dear and better shared; or that too, and nearer to the wishes.
layout::Assignment polish(const Task& task, const layout::Assignment& top, Chance& chance, Budget& tries);

} // namespace motley::mend
