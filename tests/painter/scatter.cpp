#include "painter/scatter.h"

#include <cmath>

namespace motley::painter {

bool Repeat::is_free(Point at, double radius) const {
    for (const Spot& spot : taken_) {
        double across = at.x - spot.at.x, down = at.y - spot.at.y;
        // Both lie in one repeat, so the nearest copy is at most one repeat away. The neighbour to the right
        // hangs half a repeat lower.
        if (across > side_ / 2) {
            across -= side_;
            down -= side_ / 2;
        } else if (across < -side_ / 2) {
            across += side_;
            down += side_ / 2;
        }
        while (down > side_ / 2) down -= side_;
        while (down < -side_ / 2) down += side_;
        const double reach = radius + spot.radius;
        if (across * across + down * down < reach * reach) return false;
    }
    return true;
}

std::vector<Spot> Repeat::toss(double radius, int count, double crowding) {
    std::vector<Spot> spots;
    constexpr int patience = 60;
    for (int tries = 0; tries < patience * count && static_cast<int>(spots.size()) < count; ++tries) {
        const Point at{chance_.between(0, side_), chance_.between(0, side_)};
        if (!is_free(at, radius * crowding)) continue;
        taken_.push_back({at, radius * crowding, 0});
        spots.push_back({at, radius, chance_.next()});
    }
    return spots;
}

std::vector<Spot> Repeat::fill(double radius, double crowding) {
    const double room = side_ * side_ / (radius * radius * crowding * crowding * 2.6);
    return toss(radius, 1 + static_cast<int>(room), crowding);
}

std::vector<Spot> repeated(const std::vector<Spot>& spots, double side, double width, double height,
                           double margin) {
    std::vector<Spot> result;
    const int across = static_cast<int>(std::ceil(width / side)) + 1,
              down = static_cast<int>(std::ceil(height / side)) + 1;
    for (int i = -1; i <= across; ++i) {
        for (int j = -2; j <= down; ++j) {
            const Point corner{i * side, (j + (i % 2 != 0 ? 0.5 : 0.0)) * side};
            for (Spot spot : spots) {
                spot.at = spot.at + corner;
                const bool seen = spot.at.x > -margin && spot.at.x < width + margin && spot.at.y > -margin &&
                                  spot.at.y < height + margin;
                if (seen) result.push_back(spot);
            }
        }
    }
    return result;
}

std::vector<Spot> half_drop(double across, double along, double width, double height, std::uint64_t seed) {
    std::vector<Spot> result;
    for (int j = -1; j * along < height + along; ++j) {
        for (int i = -1; i * across < width + across; ++i) {
            const double shift = j % 2 != 0 ? 0.5 : 0.0;
            const auto place =
                static_cast<std::uint64_t>(i + 1000) * 4096 + static_cast<std::uint64_t>(j + 1000);
            result.push_back(
                {{(i + shift + 0.25) * across, (j + 0.5) * along}, along / 2, mixed(seed, place)});
        }
    }
    return result;
}

} // namespace motley::painter
