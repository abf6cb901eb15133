#pragma once
/// Which sewn units keep a top from being mended, and why. In: the brief without them held, the top as it
/// was, which cells are sewn. Out: a few of them that, unpicked, let the brief be met.

#include <vector>

#include "mend/mend.h"

namespace motley::mend {

struct Hindrance {
    enum class Why : std::uint8_t {
        itself,   ///< What it shows is not allowed there, whatever else the top shows.
        contrast, ///< Between two of its own patches.
        pair,     ///< It breaks a rule together with `other`, which is sewn or pinned.
        room,     ///< It takes part in leaving too little room.
    };

    int cell = 0;
    Why why = Why::room;
    int other = -1;                            ///< With pair.
    layout::FabricId fabric{}, other_fabric{}; ///< What the two show.
};

/// Unpick these and the brief can be met; cells rising. Tried by halves and one by one whether fewer would
/// do, as far as the effort goes. Empty when the sewn units are not to blame, or nothing is found.
std::vector<Hindrance> in_the_way(const layout::Brief& brief, const Worn& worn, const std::vector<char>& sewn,
                                  const Effort& effort);

/// The brief with these units as they are: fabrics and turn.
layout::Brief held(layout::Brief brief, const layout::Assignment& worn, const std::vector<char>& sewn);

} // namespace motley::mend
