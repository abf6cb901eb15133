#pragma once
/// A plan made better by taking some of its strips and sheets at a time and cutting what they held anew, in
/// orders that chance makes up. Private to this folder.
/// How: what comes out replaces what was taken out when the plan is then no dearer than the best known and a
/// margin that shrinks to nothing (record-to-record travel, Dueck, 1993), several times over.

#include <cstdint>
#include <vector>

#include "cutting/cut_draw.h"
#include "cutting/cut_prices.h"

namespace motley::cutting {

/// One copy of a sheet.
struct LoadedSheet {
    int sheet = 0;
    int frame = 0; ///< Index into SheetFrames::frames.
    std::vector<Row> rows;
};

/// All copies of all sheets, one by one, and the yardage.
struct Load {
    std::vector<LoadedSheet> sheets;
    std::vector<Row> yardage;
    std::vector<int> left; ///< Per kind, what has no place: never what fits the yardage.

    std::int64_t ticks() const;
};

/// Plans of more strips and sheets than this are left alone.
inline constexpr std::size_t most_shuffled = 600;

/// At least as good as `start`. Stops at `enough` ticks of yardage, when all has a place.
Load shuffled(const Frame& yardage, const std::vector<SheetFrames>& sheets, Load start, std::int64_t enough,
              Work& work);

} // namespace motley::cutting
