#pragma once
/// Is there a plan at most so long? By trying everything that the prices do not rule out. Private to this
/// folder.
/// With prices under which no strip is worth more than its height, a plan's length is what all pieces are
/// worth and what each strip lacks to be worth its height. So a plan no longer than `most` has only strips
/// that lack no more than the whole may: those are listed, and put together in every way that can matter.

#include <cstdint>

#include "cutting/cut_search.h"

namespace motley::cutting {

enum class Verdict : std::uint8_t {
    found,   ///< A plan, in the answer.
    none,    ///< Proved: there is none.
    unknown, ///< The work was not enough to tell.
};

struct Exhausted {
    Verdict verdict = Verdict::unknown;
    RowPlan plan; ///< Complete when found.
};

/// Expects a frame without rounding, and prices found for it without sheets.
Exhausted exhaust(const Frame& frame, const std::vector<int>& asked, const Prices& prices, std::int64_t most,
                  Work& work);

} // namespace motley::cutting
