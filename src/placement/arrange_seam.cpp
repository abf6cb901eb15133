#include "placement/arrange_seam.h"

#include <algorithm>
#include <cmath>

namespace motley::placement {

std::optional<double> seam_between(const std::vector<unit::Point>& one,
                                   const std::vector<unit::Point>& other) {
    const double half = std::acos(-1.0);
    for (std::size_t i = 0; i < one.size(); ++i)
        for (std::size_t j = 0; j < other.size(); ++j) {
            const unit::Point a = one[i], b = one[(i + 1) % one.size()];
            const unit::Point c = other[j], d = other[(j + 1) % other.size()];
            const double length = std::hypot(b.x - a.x, b.y - a.y);
            const double ux = (b.x - a.x) / length, uy = (b.y - a.y) / length;
            const auto off = [&](unit::Point p) { return std::abs((p.y - a.y) * ux - (p.x - a.x) * uy); };
            const auto along = [&](unit::Point p) { return (p.x - a.x) * ux + (p.y - a.y) * uy; };
            if (off(c) > 1e-9 || off(d) > 1e-9) continue;
            const double low = std::max(0.0, std::min(along(c), along(d)));
            const double high = std::min(length, std::max(along(c), along(d)));
            if (high - low < 1e-6) continue;
            const double angle = std::atan2(uy, ux);
            if (angle < -1e-9) return angle + half;
            return angle > half - 1e-9 ? 0.0 : std::max(angle, 0.0);
        }
    return std::nullopt;
}

} // namespace motley::placement
