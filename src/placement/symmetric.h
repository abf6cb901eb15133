#pragma once
/// Places a top that is to look the same after being mirrored or turned: patches that are each other's images
/// carry one fabric, and are exchanged together.

#include <cstdint>
#include <stop_token>
#include <vector>

#include "fault/fault.h"
#include "layout/mirror.h"
#include "placement/chance.h"
#include "placement/cooling.h"
#include "placement/model.h"

namespace motley::placement {

struct Symmetric {
    layout::Assignment assignment; ///< Whole, whether every rule is kept or not.
    std::int64_t moves = 0;        ///< Exchanges of whole orbits that were tried.
};

/// Annealing over exchanges of orbits of one size, and over turns of units and their images; broken rules are
/// weighed so that they go first. Expects orbits without an obstacle.
Symmetric place_symmetric(const Model& model, const layout::Orbits& orbits, Chance& chance,
                          const AnnealEffort& effort);

/// What no symmetric top can avoid: images that touch each other, units that cannot be images, counts that
/// images cannot make. Remedies were tried: they take away what is told.
std::vector<Problem> symmetry_obstacles(const layout::Brief& brief, const layout::Orbits& orbits);

} // namespace motley::placement
