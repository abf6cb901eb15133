#pragma once
/// How long a search goes on, and how its temperature falls meanwhile.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>

#include "layout/layout.h"

namespace motley::placement {

struct AnnealEffort {
    std::int64_t moves = 0;                                     ///< Exchanges to try.
    std::optional<std::chrono::steady_clock::time_point> until; ///< Instead of counting moves.
    std::stop_token stop;
    std::function<void(std::int64_t)> tried; ///< Told now and then how many more moves were tried.
    /// As often: may ask for the top as it stands, which keeps every rule.
    std::function<void(const std::function<layout::Assignment()>& now)> glance{};
};

/// Geometrically with the moves made (or with the time, where that is what is given), from hot to cold.
class Cooling {
public:
    Cooling(const AnnealEffort& effort, double hot, double cold) : effort_(effort), hot_(hot), cold_(cold) {}

    /// Nothing when the effort is spent, the time was over before this began, or a stop was asked for.
    std::optional<double> after(std::int64_t moves) const {
        double done =
            static_cast<double>(moves) / static_cast<double>(std::max<std::int64_t>(1, effort_.moves));
        if (effort_.until) {
            const auto now = std::chrono::steady_clock::now();
            if (now >= *effort_.until) return std::nullopt;
            done = std::chrono::duration<double>(now - began_) /
                   std::chrono::duration<double>(*effort_.until - began_);
        }
        if (done >= 1 || effort_.stop.stop_requested()) return std::nullopt;
        return hot_ * std::exp(done * std::log(cold_ / hot_));
    }

private:
    const AnnealEffort& effort_;
    double hot_, cold_;
    std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
};

} // namespace motley::placement
