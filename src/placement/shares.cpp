#include <algorithm>
#include <numeric>

#include "placement/start.h"

namespace motley::placement {

namespace {

/// Fills places with fabrics one patch at a time, always the fabric used least so far; where the limits stand in the way, an earlier choice
/// is passed on along a path (augmenting path of a flow from places to fabrics).
class Shares {
public:
    Shares(const layout::Brief& brief, Chance& chance)
        : brief_(brief), places_(brief.patches_per_unit()), fabrics_(static_cast<int>(brief.names.size())) {
        const auto F = static_cast<std::size_t>(fabrics_);
        given_.assign(static_cast<std::size_t>(places_), std::vector<int>(F));
        least_ = given_;
        total_.resize(F);
        order_.resize(F);
        std::iota(order_.begin(), order_.end(), 0);
        chance.shuffle(order_);
        for (int patch = 0; patch < brief.patches(); ++patch) {
            const layout::FabricId pin = brief.pinned[static_cast<std::size_t>(patch)];
            if (pin != layout::no_fabric) ++least_[static_cast<std::size_t>(patch % places_)][index(pin)];
        }
        for (int p = 0; p < places_; ++p)
            for (int f = 0; f < fabrics_; ++f) least(p, f) = std::max(least(p, f), range(p, f).least);
    }

    std::optional<std::vector<std::vector<int>>> fill() {
        for (int p = 0; p < places_; ++p)
            for (int f = 0; f < fabrics_; ++f) {
                given(p, f) = least(p, f);
                total_[static_cast<std::size_t>(f)] += least(p, f);
                if (least(p, f) > range(p, f).most) return std::nullopt;
            }
        for (int f = 0; f < fabrics_; ++f)
            if (total(f) > limits(f).most) return std::nullopt;
        for (int p = 0; p < places_; ++p)
            if (need(p) < 0) return std::nullopt;
        // First what fabrics must have, then what places still need.
        for (const int f : order_)
            while (total(f) < limits(f).least)
                if (!place_one(f)) return std::nullopt;
        for (int p = 0; p < places_; ++p)
            while (need(p) > 0)
                if (!serve(p)) return std::nullopt;
        return given_;
    }

private:
    int& given(int p, int f) { return given_[static_cast<std::size_t>(p)][static_cast<std::size_t>(f)]; }
    int& least(int p, int f) { return least_[static_cast<std::size_t>(p)][static_cast<std::size_t>(f)]; }
    int total(int f) const { return total_[static_cast<std::size_t>(f)]; }
    const layout::Range& range(int p, int f) const { return brief_.role_counts[static_cast<std::size_t>(p)][static_cast<std::size_t>(f)]; }
    const layout::Range& limits(int f) const { return brief_.counts[static_cast<std::size_t>(f)]; }
    int need(int p) {
        const std::vector<int>& row = given_[static_cast<std::size_t>(p)];
        return brief_.cells() - std::accumulate(row.begin(), row.end(), 0);
    }
    bool room(int p, int f) { return given(p, f) < range(p, f).most; }

    /// One more patch of f in the place with the most need, or in a full place that hands its need on to none: another fabric there that is
    /// above its own least gives way.
    bool place_one(int f) {
        int best = -1;
        for (int p = 0; p < places_; ++p)
            if (room(p, f) && need(p) > 0 && (best < 0 || need(p) > need(best))) best = p;
        if (best >= 0) {
            ++given(best, f), ++total_[static_cast<std::size_t>(f)];
            return true;
        }
        for (int p = 0; p < places_; ++p) {
            if (!room(p, f)) continue;
            for (const int g : order_)
                if (g != f && given(p, g) > least(p, g) && total(g) > limits(g).least) {
                    --given(p, g), --total_[static_cast<std::size_t>(g)];
                    ++given(p, f), ++total_[static_cast<std::size_t>(f)];
                    return true;
                }
        }
        return false;
    }

    /// One more patch for place p: directly, or by a chain in which other places swap what they have.
    bool serve(int p) {
        int best = -1;
        for (const int f : order_)
            if (room(p, f) && total(f) < limits(f).most && (best < 0 || total(f) < total(best))) best = f;
        if (best >= 0) {
            ++given(p, best), ++total_[static_cast<std::size_t>(best)];
            return true;
        }
        // Breadth first over places: place `a` takes f from place `b`, which then needs one itself.
        std::vector<int> from(static_cast<std::size_t>(places_), -1), by(static_cast<std::size_t>(places_), -1);
        std::vector<int> queue{p};
        from[static_cast<std::size_t>(p)] = p;
        for (std::size_t i = 0; i < queue.size(); ++i) {
            const int a = queue[i];
            for (const int f : order_) {
                if (!room(a, f)) continue;
                if (total(f) < limits(f).most) {
                    ++given(a, f), ++total_[static_cast<std::size_t>(f)];
                    for (int b = a; b != p; b = from[static_cast<std::size_t>(b)]) {
                        const int passed = by[static_cast<std::size_t>(b)];
                        --given(b, passed), ++given(from[static_cast<std::size_t>(b)], passed);
                    }
                    return true;
                }
                for (int b = 0; b < places_; ++b)
                    if (from[static_cast<std::size_t>(b)] < 0 && given(b, f) > least(b, f)) {
                        from[static_cast<std::size_t>(b)] = a, by[static_cast<std::size_t>(b)] = f;
                        queue.push_back(b);
                    }
            }
        }
        return false;
    }

    const layout::Brief& brief_;
    int places_, fabrics_;
    std::vector<std::vector<int>> given_, least_;
    std::vector<int> total_, order_;
};

} // namespace

std::optional<std::vector<std::vector<int>>> shares(const layout::Brief& brief, Chance& chance) {
    return Shares(brief, chance).fill();
}

} // namespace motley::placement
