#pragma once
/// Chooses a fabric for every slot of a kit: which strips share a set and in which order, which square meets
/// which ground.
/// Must hold: the counts; no fabric twice among the pieces of one making, nor two that count as the same;
/// contrast between the roles of a unit. Wished for: in every set light beside dark, colours that differ, and
/// the mean lightness of all; no two fabrics together more often than need be, so that sets differ; each
/// fabric as visible as its share.

#include <cstdint>
#include <string>
#include <vector>

#include "fault/fault.h"
#include "layout/brief.h"
#include "placement/batch_state.h"
#include "placement/chance.h"

namespace motley::placement {

/// [slot]. `moves` exchanges are tried; 0 chooses by the size of the kit. Whole even when what must hold
/// cannot be met.
std::vector<layout::FabricId> choose_batches(const KitModel& model, Chance& chance, std::int64_t moves = 0);

/// Sentences for what must hold inside the makings and does not; counts are left to layout::broken_rules.
std::vector<std::string> batch_breaches(const layout::Brief& brief,
                                        const std::vector<layout::FabricId>& slots);

/// What proves, before any search, that no choice can meet the brief. Empty when nothing is proved.
std::vector<Problem> batch_obstacles(const layout::Brief& brief);

} // namespace motley::placement
