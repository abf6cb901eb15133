#pragma once
/// What is wrong on the wall, in words, with what would put it right.

#include <string>
#include <utility>
#include <vector>

#include "web/state.h"

namespace motley::web {

/// A button: what it says, and the action it asks for.
struct Way {
    std::string says;
    document::Json act;
};

struct Trouble {
    std::string what, remedy; ///< Sentences; `remedy` may be empty.
    std::vector<Way> ways;
};

/// Pairs of cells that break touching, apart or line; a cell with itself where its own patches have too
/// little contrast or it is not as pinned.
std::vector<std::pair<int, int>> conflicts(const layout::Brief& brief, const layout::Assignment& top);

/// Of the wall as it is: why the plan cannot be made exact, and rules that do not hold.
std::vector<Trouble> troubles(const State& state, const Outlook& outlook);

/// After a search that was refused: `problems`, with rules that, loosened, nothing speaks against any more.
std::vector<Trouble> refused(const State& state, const Outlook& outlook,
                             const std::vector<Problem>& problems);

} // namespace motley::web
