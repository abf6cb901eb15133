#pragma once
/// How many patches of each fabric each role gets, within bounds, as even as they allow.
/// In: bounds by role and by fabric. Out: a table of counts, or which bounds cannot be met together.

#include <cstdint>
#include <optional>
#include <vector>

#include "layout/brief.h"

namespace motley::layout {

using Table = std::vector<std::vector<int>>; ///< [role][fabric]

/// Expects 0 <= least and most >= 0 everywhere.
struct Bounds {
    std::vector<int> places;               ///< [role] how many it fills.
    std::vector<std::vector<Range>> roles; ///< [role][fabric]
    std::vector<Range> totals;             ///< [fabric], over all roles.
};

/// Bounds that cannot be met, for the roles of one set together.
struct Misfit {
    std::vector<char> roles;  ///< By role: in the set. None at all: one fabric's own bounds clash.
    std::int64_t patches = 0; ///< What the roles of the set have; for a single fabric, the most it can be.
    std::int64_t forced = 0;  ///< The fewest that the bounds force into them: too many when above `patches`.
    std::int64_t allowed = 0; ///< The most that the bounds let into them: too few when below `patches`.
    int fabric = -1;          ///< With an empty set: the fabric.
};

/// Empty exactly when a table within the bounds exists (Hoffman's circulation theorem, read off for every set
/// of roles: a set can be filled when what is forced into it fits and what is allowed into it suffices). The
/// set of all roles comes first. Expects at most 16 roles.
std::vector<Misfit> misfits(const Bounds& bounds);

/// The table within the bounds with the least 2^20 R + T, R the sum of squares over (role, fabric), T over
/// the fabrics' totals. So two fabrics whose bounds do not bind differ by at most one in every role, and in
/// total when the same roles take both. Expects that misfits(bounds) is empty.
Table apportion(const Bounds& bounds);

/// The same bounds without what can be seen at once to be out of reach, role by role and fabric by fabric;
/// loses no table.
Bounds tightened(Bounds bounds);

} // namespace motley::layout
