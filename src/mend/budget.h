#pragma once
/// What a search may still spend, and who waits for it. Work is counted in patches looked at, so that the
/// same input ends at the same place on every machine.

#include <algorithm>
#include <cstdint>
#include <functional>
#include <stop_token>
#include <utility>

namespace motley::mend {

class Budget {
public:
    /// `tell` hears the share spent, [0, 1], at most a hundred times.
    Budget(std::int64_t work, std::stop_token stop, std::function<void(double)> tell = {})
        : work_(work), left_(work), stop_(std::move(stop)), tell_(std::move(tell)) {}

    /// False when there was not enough left, or somebody asked to stop: then there is nothing left.
    bool spend(std::int64_t work) {
        left_ -= work;
        if (left_ < 0 || stop_.stop_requested()) left_ = -1;
        if (tell_ && told_ < hundredths()) tell_(static_cast<double>(told_ = hundredths()) / 100);
        return left_ >= 0;
    }
    bool spent() const { return left_ <= 0 || stop_.stop_requested(); }
    std::int64_t left() const { return left_; }
    /// Part of this, to be spent on its own; it is taken off at once.
    Budget part(std::int64_t work) {
        const std::int64_t share = std::min(work, std::max<std::int64_t>(0, left_));
        left_ -= share;
        return {share, stop_};
    }

private:
    std::int64_t hundredths() const {
        return work_ > 0 ? (work_ - std::max<std::int64_t>(0, left_)) * 100 / work_ : 100;
    }

    std::int64_t work_, left_, told_ = -1;
    std::stop_token stop_;
    std::function<void(double)> tell_;
};

} // namespace motley::mend
