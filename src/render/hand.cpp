#include "render/hand.h"

#include <algorithm>
#include <cmath>

#include "render/chance.h"

namespace motley::render {

Hand::Hand(std::uint64_t seed, double sway, double pace)
    : right_(scrambled(seed, 21), pace, pace), below_(scrambled(seed, 22), pace, pace), sway_(sway) {}

Hand Hand::careful(std::uint64_t seed, const Scale& scale) {
    const double sway = std::min({scale.ppi / 32, 1.5, scale.unit / 40});
    return Hand(seed, sway, std::max(4.0, scale.unit * 0.45));
}

void Hand::drift(int x0, int y, std::span<float> right, std::span<float> below) const {
    std::fill(right.begin(), right.end(), 0.0f);
    std::fill(below.begin(), below.end(), 0.0f);
    if (sway_ <= 0) return;
    const auto most = static_cast<float>(sway_), usual = 0.45f * most;
    for (const auto& [ripple, out] : {std::pair{&right_, right}, {&below_, below}}) {
        ripple->add_row(x0 + 0.5, y + 0.5, usual, out);
        for (float& off : out) off = std::clamp(off, -most, most);
    }
}

double Hand::reach() const {
    return sway_;
}

} // namespace motley::render
