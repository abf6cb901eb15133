#pragma once
/// The top in pixels: whole pixels to a unit, and which patch of the unit each pixel shows.

#include <cstdint>
#include <vector>

#include "layout/layout.h"

namespace motley::render {

/// Where a pixel of a turned unit lies in the unit at turn 0: exact, no resampling. `size` pixels to a unit.
struct Texel {
    int u = 0, v = 0;
};
constexpr Texel unturned(int x, int y, int turn, int size) {
    switch (turn & 3) {
        case 1:
            return {y, size - 1 - x};
        case 2:
            return {size - 1 - x, size - 1 - y};
        case 3:
            return {size - 1 - y, x};
        default:
            return {x, y};
    }
}

/// The top's cells on the pixel grid.
struct Grid {
    int columns = 0, rows = 0;
    int patches = 1; ///< To a unit.
    int cell = 0;    ///< Pixels to the side of a unit, at least 4; even where units have several patches, so
                     ///< that diagonals halve exactly.
    double ppi = 0;  ///< Pixels per inch of the finished top.

    int width() const { return columns * cell; }
    int height() const { return rows * cell; }
    bool operator==(const Grid&) const = default;
};

Grid make_grid(const layout::Plan& plan, int longest_side);
/// Expects a layout whose parts fit together.
Grid make_grid(const layout::Layout& layout, int longest_side);

/// The recipe the layout's plan names.
const unit::Form& form_of(const layout::Layout& layout);

/// Share of each pixel that a patch covers at turn 0, exact: [v * cell + u], one list for each patch. They
/// add up to 1.
std::vector<std::vector<float>> coverages(const unit::Form& recipe, int cell);

/// The one patch that owns each pixel at turn 0: the one that covers most of it; pixels that patches share
/// equally go to each in turn.
std::vector<std::uint8_t> owners(const unit::Form& recipe, int cell);

} // namespace motley::render
