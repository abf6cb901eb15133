#include "swatch/order.h"

#include <algorithm>

#include "swatch/bands.h"
#include "swatch/lattice.h"

namespace motley::swatch {

Order find_order(const Echo& echo) {
    constexpr int least_reach = 8;
    if (std::min(echo.reach_x(), echo.reach_y()) < least_reach) return {};
    const std::vector<Peak> peaks = peaks_of(echo);
    double best = 0;
    for (const Peak& peak : peaks) best = std::max(best, peak.value);
    if (const std::optional<Bands> bands = find_bands(echo, best)) {
        Order order{{}, bands->along, bands->alike};
        if (bands->step) order.steps.push_back(*bands->step);
        return order;
    }
    if (const std::optional<Repeat> repeat = find_repeat(echo, peaks))
        return {{repeat->one, repeat->other}, {}, repeat->alike};
    return {{}, {}, std::clamp(1 - best, 0.0, 1.0)};
}

} // namespace motley::swatch
