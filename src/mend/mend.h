#pragma once
/// Mends a top that no longer meets its brief (a fabric ran short, a pin or a rule changed) by changing as
/// few units as can be. In: the brief as it is now, the top as it was. Out: a top that keeps every rule, and
/// how few changes are proved to be needed.
///
/// What counts, in this order:
/// - every rule kept;
/// - fewest cells that show other fabrics or another turn;
/// - the fabrics used as often as liked, and new fabrics near the ones they stand for. Where a fabric is
///   short, a stand-in is *near* when CIEDE2000 and the difference in L* are at most `near_colour` and
///   `near_value` more than those of the nearest fabric that may be used more often; only what goes beyond
///   counts. Every other change counts with its whole CIEDE2000;
/// - the new uses shared over the near fabrics: least sum over fabrics of (uses more than before)^2;
/// - the wishes. After a shortage `spread` weighs at least as much as the others, the stand-ins count among
///   themselves as if they were one fabric (so that they lie apart), and each CIEDE2000 between old and new
///   counts as 1/50 of two patches of one fabric at a distance of 1.
///
/// Method: a search tree that allows one change more each time it has proved that fewer will not do
/// (tree.h); where that takes too long, a tabu walk from the top as it was, then the tree again on a few of
/// its changes at a time; then exchanges that make the rest better. Threads: one. The same input gives the
/// same bytes.

#include <cstdint>
#include <functional>
#include <stop_token>
#include <string>
#include <vector>

#include "layout/layout.h"

namespace motley::mend {

inline constexpr double near_colour = 4, near_value = 4; ///< CIEDE2000 and L*.

/// The top as it was, and how often each fabric is best used.
struct Worn {
    layout::Assignment assignment;
    std::vector<layout::Range> liked; ///< By fabric; inside the brief's counts. Empty: no liking.
};

struct Effort {
    std::uint64_t seed = 1;
    std::int64_t work = 400'000'000;      ///< Patches looked at, roughly; more proves more.
    bool only_rules = false;              ///< Leave it at a top that keeps every rule with few changes.
    std::stop_token stop;                 ///< When asked to stop, the best so far is returned.
    std::function<void(double)> progress; ///< How much of the work is done, [0, 1].
};

struct Mended {
    enum class Ending : std::uint8_t {
        every_rule_met,
        none_found, ///< Nothing is proved.
        impossible, ///< Proved: no top keeps the rules, the pins and the counts.
    };

    layout::Assignment assignment; ///< The top as it was unless every rule is met.
    Ending ending = Ending::none_found;
    std::vector<std::string> broken; ///< As layout::broken_rules of `assignment`.
    std::vector<int> changed;        ///< Cells, rising.
    int at_least = 0;                ///< No top that keeps every rule changes fewer cells; proved.
    double strangeness = 0;          ///< Sum of CIEDE2000 between old and new over the changed patches.

    bool proved_fewest() const {
        return ending == Ending::every_rule_met && static_cast<int>(changed.size()) == at_least;
    }
};

/// A patch that the brief pins shows its pin; a unit that must not move has all its patches and its turn said
/// by the brief. Brief::shares is not looked at.
Mended mend(const layout::Brief& brief, const Worn& worn, const Effort& effort);

} // namespace motley::mend
