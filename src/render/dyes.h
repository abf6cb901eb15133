#pragma once
/// The few colours that make up a cloth, and which of them each place shows: what a choice of parts may not
/// change.

#include <array>
#include <cstdint>
#include <vector>

#include "render/match.h"

namespace motley::render {

inline constexpr int most_dyes = 6;

struct Dyes {
    int width = 0, height = 0;
    std::vector<std::uint8_t> at; ///< [y * width + x], the dye nearest to each place.
};

/// Lloyd's algorithm from colours as far apart as can be. No chance in it.
Dyes dyes_of(const Codes& codes);

} // namespace motley::render
