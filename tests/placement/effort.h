#pragma once
#include "placement/placement.h"

/// An effort of so many moves; nothing else asked.
inline motley::placement::Effort effort(std::uint64_t seed, std::int64_t moves, int restarts = 1,
                                        int threads = 1) {
    motley::placement::Effort out;
    out.seed = seed;
    out.moves = moves;
    out.restarts = restarts;
    out.threads = threads;
    return out;
}
