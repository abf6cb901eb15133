#pragma once
/// The wish `value` for whole units: window sums near the mean, or cells near an aim.

#include <cstdint>
#include <vector>

#include "layout/brief.h"

namespace motley::placement {

/// Which windows count, and how many of them lie over cells.
class LightMap {
public:
    explicit LightMap(const layout::Brief& brief);

    static constexpr int window = 4;
    static constexpr int steps = 256; ///< Per L*.

    int columns, rows;
    int windows = 0;               ///< That count; 0 too where the score has no value for so small a top.
    std::vector<std::int32_t> aim; ///< [cell], empty with an even aim.

    bool counts(int first) const { return counts_[static_cast<std::size_t>(first)] != 0; }
    /// Windows that hold both cells.
    int over(int a, int b) const;

private:
    std::vector<char> counts_;             // [first cell]
    std::vector<std::int32_t> above_left_; // Windows with a first cell above and left; a row and column more.
};

/// What a change does to the light of a top.
struct LightTally {
    std::int64_t squares = 0; ///< Of window sums less `base`, or of differences from the aim.
    std::int64_t windows = 0; ///< Window sums less `base`, added up; 0 with an aim.
    std::int64_t light = 0;   ///< Of all units.
    bool operator==(const LightTally&) const = default;
};

/// The light of every cell as it is now.
class Light {
public:
    /// `light` by cell, L* times steps. Windows are taken from `base`.
    Light(const LightMap& map, std::vector<std::int32_t> light, std::int64_t base);

    const LightTally& tally() const { return tally_; }
    std::int32_t of(int cell) const { return light_[static_cast<std::size_t>(cell)]; }
    /// Two cells (b may be -1) that become lighter by so much.
    LightTally gain(int a, std::int64_t by_a, int b, std::int64_t by_b) const;
    void shift(int cell, std::int64_t by);

private:
    const LightMap& map_;
    LightTally tally_;
    std::vector<std::int32_t> light_;
    std::vector<std::int64_t> around_; // [cell] sum of the windows over it, less base.
};

} // namespace motley::placement
