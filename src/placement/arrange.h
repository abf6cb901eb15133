#pragma once
/// Hangs the units of a kit on the wall: which unit in which cell, turned how, which are spare.
/// Method: hang them one by one where they break least, mend what is left by a tabu search on broken rules,
/// then anneal by exchanges that break no more. Two units of one set do not meet, not even at corners, where
/// there are sets enough; where there are too few, as few of them meet as the search finds, and no rule is
/// broken by it.

#include "placement/anneal.h"
#include "placement/arrange_state.h"

namespace motley::placement {

/// As few broken rules as found, then as few twins that meet. Poured unit by unit, or set by set, which helps
/// where there are hardly sets enough.
Hung hang(const Units& units, Chance& chance, const std::stop_token& stop, bool by_sets = false);

/// The same from a start.
Hung mended(const Units& units, Hung start, Chance& chance, const std::stop_token& stop);

/// What the wishes of the brief come to for units that hang like this.
Prices prices_of(const Units& units, const Hung& hung, Chance& chance);

/// What annealing makes smallest, rules aside: wishes' weights times ratios (neighbours by the middles of
/// their patches, all others by the middles of the units), and with less weight twins that hang near each
/// other and stripes that run the same way side by side.
double cost_of(const Prices& prices, const Hanging& hanging);

struct Arranged {
    Hung hung;
    HangingTally tally;
    std::int64_t moves = 0;
};
/// Breaks no more rules than the start, and lets no more twins meet.
Arranged rearrange(const Units& units, const Prices& prices, const Hung& start, Chance& chance,
                   const AnnealEffort& effort);

/// As the rest of the program knows it.
layout::Assignment spell_out(const Units& units, const Hung& hung);

} // namespace motley::placement
