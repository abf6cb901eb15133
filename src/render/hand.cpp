#include "render/hand.h"

#include <algorithm>
#include <cmath>

#include "render/chance.h"

namespace motley::render {

Hand::Hand(std::uint64_t seed, double sway, double pace)
    : ripple_(scrambled(seed, 21), pace, 1), sway_(sway), pace_(pace) {}

Hand Hand::careful(std::uint64_t seed, const Grid& grid) {
    const double sway = std::min({grid.ppi / 32, 1.5, grid.cell / 40.0});
    return Hand(seed, sway, std::max(4.0, grid.cell * 0.45));
}

/// Lines lie eight knots apart in the ripple, so that one has nothing to do with the next.
float Hand::off(double line, double along) const {
    if (sway_ <= 0) return 0;
    return static_cast<float>(std::clamp(0.45 * static_cast<double>(ripple_.at(along, line * 8)), -1.0, 1.0) *
                              sway_);
}

float Hand::column_seam(int column, int row, double y) const {
    return off(column + 1e5, y + row * 16 * pace_);
}

float Hand::row_seam(int row, double x) const {
    return off(row, x);
}

int Hand::reach() const {
    return static_cast<int>(std::ceil(sway_));
}

} // namespace motley::render
