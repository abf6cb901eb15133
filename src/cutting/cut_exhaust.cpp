#include "cutting/cut_exhaust.h"

#include <algorithm>
#include <map>

#include "cutting/cut_patterns.h"
#include "fault/fault.h"

namespace motley::cutting {

namespace {

constexpr std::size_t most_remembered = 200'000;

/// Puts patterns together until nothing is left, the kind with the fewest patterns first.
class Assembly {
public:
    Assembly(const StripPatterns& patterns, std::size_t kinds, Work& work)
        : patterns_(patterns.patterns), work_(work), with_(kinds) {
        std::vector<std::size_t> order(patterns_.size());
        for (std::size_t p = 0; p < order.size(); ++p) order[p] = p;
        std::stable_sort(order.begin(), order.end(), [this](std::size_t a, std::size_t b) {
            return patterns_[a].lacks < patterns_[b].lacks;
        });
        for (const std::size_t p : order)
            for (std::size_t k = 0; k < kinds; ++k)
                if (patterns_[p].counts[k] > 0) with_[k].push_back(p);
    }

    Verdict run(const std::vector<int>& asked, std::int64_t gap) {
        left_ = asked;
        const bool found = complete(gap);
        if (found) return Verdict::found;
        return work_.spent() ? Verdict::unknown : Verdict::none;
    }

    const std::vector<std::size_t>& chosen() const { return chosen_; }

private:
    bool fits(std::size_t p) const {
        for (std::size_t k = 0; k < left_.size(); ++k)
            if (patterns_[p].counts[k] > left_[k]) return false;
        return true;
    }

    /// The patterns for the kind that has fewest of them, by what they lack; no kind when nothing is left.
    bool hardest(std::int64_t gap, std::vector<std::size_t>& choices) {
        bool any = false;
        for (std::size_t k = 0; k < left_.size(); ++k) {
            if (left_[k] == 0) continue;
            std::vector<std::size_t> here;
            for (const std::size_t p : with_[k]) {
                if (patterns_[p].lacks > gap) break;
                if (fits(p)) here.push_back(p);
                if (any && here.size() >= choices.size()) break;
            }
            work_.spend(static_cast<std::int64_t>(with_[k].size() + 10));
            if (!any || here.size() < choices.size()) choices = std::move(here);
            any = true;
            if (choices.empty()) break;
        }
        return any;
    }

    bool complete(std::int64_t gap) {
        if (work_.spent()) return false;
        const auto known = failed_.find(left_);
        if (known != failed_.end() && known->second >= gap) return false;
        std::vector<std::size_t> choices;
        if (!hardest(gap, choices)) return true;
        for (const std::size_t p : choices) {
            for (std::size_t k = 0; k < left_.size(); ++k) left_[k] -= patterns_[p].counts[k];
            chosen_.push_back(p);
            if (complete(gap - patterns_[p].lacks)) return true;
            chosen_.pop_back();
            for (std::size_t k = 0; k < left_.size(); ++k) left_[k] += patterns_[p].counts[k];
        }
        if (work_.spent()) return false;
        if (failed_.size() < most_remembered) {
            std::int64_t& most = failed_[left_];
            most = std::max(most, gap);
        }
        return false;
    }

    const std::vector<StripPattern>& patterns_;
    Work& work_;
    std::vector<std::vector<std::size_t>>
        with_; ///< Per kind, the patterns that hold it, lacking least first.
    std::vector<int> left_;
    std::vector<std::size_t> chosen_;
    std::map<std::vector<int>, std::int64_t> failed_; ///< Rests, and the gap that was not enough.
};

} // namespace

Exhausted exhaust(const Frame& frame, const std::vector<int>& asked, const Prices& prices, std::int64_t most,
                  Work& work) {
    expects(frame.exact);
    std::int64_t worth = 0;
    for (std::size_t k = 0; k < asked.size(); ++k) worth += asked[k] * prices.values[k];
    const std::int64_t units = most / frame.unit_high;
    const std::int64_t gap = units * value_scale - worth;
    if (gap < 0) return {Verdict::none, {}};
    if (units > frame.height) return {}; // A single strip could be taller than the frame.
    const StripPatterns patterns =
        list_patterns(frame, asked, prices.values, static_cast<int>(units), gap, work);
    if (!patterns.all) return {};
    Assembly assembly(patterns, asked.size(), work);
    Exhausted answer{assembly.run(asked, gap), {}};
    if (answer.verdict == Verdict::found)
        for (const std::size_t p : assembly.chosen()) {
            answer.plan.rows.push_back({patterns.patterns[p].row, 1});
            answer.plan.ticks += patterns.patterns[p].row.ticks_high;
        }
    return answer;
}

} // namespace motley::cutting
