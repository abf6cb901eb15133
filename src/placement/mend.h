#pragma once
/// Mends a top that no longer meets its brief (a fabric ran short, a pin or a rule changed) by changing as
/// few units as can be. In: the brief as it is now, the top as it was. Out: a top that keeps every rule, and
/// how few changes are proved to be needed.
///
/// What counts, in this order: every rule kept; fewest cells that show other fabrics or another turn; the
/// fabrics used as often as liked; new fabrics near the ones they stand for (sum of CIEDE2000 over the
/// changed patches); the wishes.
///
/// Method: a search tree that allows one change more each time it has proved that fewer will not do
/// (mend_tree.h); where that takes too long, a tabu walk from the top as it was, then the tree again on a few
/// of its changes at a time. Threads: one. The same input gives the same bytes.

#include <cstdint>
#include <stop_token>
#include <string>
#include <vector>

#include "layout/layout.h"

namespace motley::placement {

/// The top as it was, and how often each fabric is best used.
struct Worn {
    layout::Assignment assignment;
    std::vector<layout::Range> liked; ///< By fabric; inside the brief's counts. Empty: no liking.
};

struct MendEffort {
    std::uint64_t seed = 1;
    std::int64_t work = 400'000'000; ///< Patches looked at, roughly; more proves more.
    std::stop_token stop;            ///< When asked to stop, the best so far is returned.
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
Mended mend(const layout::Brief& brief, const Worn& worn, const MendEffort& effort);

} // namespace motley::placement
