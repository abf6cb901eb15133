#include "render/in_step.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::render {

namespace {

constexpr double surely = 0.7; ///< Less, and figures differ by chance: a join had better look for like ones.

/// How a step suits: what rounding takes it off the print, pixels, and the share of the photo not shown.
double unsuited(double along, double off, int side) {
    constexpr double unshown = 0.4;
    return off + unshown * (1 - along / side);
}

} // namespace

std::optional<Repeat> repeat_in_step(const photo::LinearImage& cloth, const palette::Print& print,
                                     double ppi) {
    expects(cloth.width >= 6 && cloth.height >= 6 && ppi > 0);
    if (print.repeat.size() != 2 || print.sure < surely) return {};
    const palette::Print::Step one = print.repeat[0], other = print.repeat[1];
    const double shortest =
        ppi * std::min(std::hypot(one.across, one.down), std::hypot(other.across, other.down));
    if (shortest < 1) return {}; // Finer than the picture.
    const int most = 2 + static_cast<int>(2 * std::max(cloth.width, cloth.height) / shortest);
    const auto room = [](int side) { return side - std::max(2, side / 16); };
    const auto slack = [](int side) { return std::max(1.0, side / 24.0); };
    Repeat repeat;
    double worst_across = 1e9, worst_down = 1e9;
    for (int i = -most; i <= most; ++i)
        for (int j = -most; j <= most; ++j) {
            const double x = ppi * (i * one.across + j * other.across),
                         y = ppi * (i * one.down + j * other.down);
            const double off = std::max(std::abs(x - std::round(x)), std::abs(y - std::round(y)));
            const Step step{static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y))};
            if (2 * step.x >= cloth.width && step.x <= room(cloth.width) &&
                std::abs(y) <= slack(cloth.height) && unsuited(x, off, cloth.width) < worst_across) {
                worst_across = unsuited(x, off, cloth.width);
                repeat.across = step;
            }
            if (2 * step.y >= cloth.height && step.y <= room(cloth.height) &&
                std::abs(x) <= slack(cloth.width) && unsuited(y, off, cloth.height) < worst_down) {
                worst_down = unsuited(y, off, cloth.height);
                repeat.down = step;
            }
        }
    if (repeat.across.x == 0 || repeat.down.y == 0) return {};
    return repeat;
}

} // namespace motley::render
