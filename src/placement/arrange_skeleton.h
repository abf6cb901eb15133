#pragma once
/// Two more ways to come to a start where fabrics are few: a skeleton of one role's fabrics, laid out as if
/// the units were plain squares; and exchanging which fabrics share a set while the units hang.

#include <functional>
#include <optional>

#include "placement/arrange.h"
#include "placement/batch_state.h"

namespace motley::placement {

/// Roles of which every unit shows one piece, the one with the fewest fabrics first.
std::vector<int> skeleton_roles(const Units& units);

/// Units hung so that the fabrics of that role keep the rules where that was found; which of the units that
/// show a fabric hangs where, chance says. `over` is asked between the parts.
Hung hang_by_role(const Units& units, int role, Chance& chance, const std::function<bool()>& over,
                  const std::stop_token& stop);

/// Fabrics exchanged between slots of one role, as long as fewer rules break on the wall than before (and no
/// more inside the makings). [slot]
std::vector<layout::FabricId> refit(const Wall& wall, const KitModel& model,
                                    std::vector<layout::FabricId> slots, const Hung& hung, Chance& chance,
                                    const std::function<bool()>& over);

} // namespace motley::placement
