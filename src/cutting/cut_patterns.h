#pragma once
/// All strips that lack little to be worth their height. Private to this folder.

#include <cstdint>
#include <vector>

#include "cutting/cut_strip.h"

namespace motley::cutting {

struct StripPattern {
    std::vector<int> counts; ///< Per kind; no two patterns have the same.
    std::int64_t lacks = 0;  ///< Height less value, in units times `value_scale`; at least 0.
    Row row;                 ///< Of the least height that holds them.
};

struct StripPatterns {
    bool all = false; ///< None is missing: the work and the memory were enough.
    std::vector<StripPattern> patterns;
};

/// Every content of a strip, from at most `asked`, that lacks at most `gap`; strips no higher than `height`.
StripPatterns list_patterns(const Frame& frame, const std::vector<int>& asked,
                            const std::vector<std::int64_t>& values, int height, std::int64_t gap,
                            Work& work);

} // namespace motley::cutting
