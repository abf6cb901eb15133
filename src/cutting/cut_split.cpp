#include "cutting/cut_split.h"

#include <algorithm>

namespace motley::cutting {

namespace {

/// A stack in two: which of its lies go below a height.
class Parting {
public:
    Parting(const std::vector<int>& lies, const Frame& frame) : lies_(lies) {
        for (const int i : lies) {
            heights_.push_back(frame.lies[static_cast<std::size_t>(i)].height);
            total_ += heights_.back();
        }
        last_.assign(static_cast<std::size_t>(total_) + 1, none);
        last_[0] = start;
        // Each sum is first reached with the lies up to the one kept there, so the way back never uses one
        // twice.
        for (std::size_t i = 0; i < heights_.size(); ++i)
            for (int sum = total_ - heights_[i]; sum >= 0; --sum)
                if (last_[static_cast<std::size_t>(sum)] != none &&
                    last_[static_cast<std::size_t>(sum + heights_[i])] == none)
                    last_[static_cast<std::size_t>(sum + heights_[i])] = static_cast<int>(i);
    }

    int total() const { return total_; }
    bool reaches(int sum) const { return last_[static_cast<std::size_t>(sum)] != none; }

    /// The highest part no higher than `most`.
    int below(int most) const {
        int sum = std::min(most, total_);
        while (!reaches(sum)) --sum;
        return sum;
    }

    /// Lies that add up to `sum`, and the others.
    std::pair<std::vector<int>, std::vector<int>> at(int sum) const {
        std::vector<char> low(lies_.size());
        while (sum > 0) {
            const std::size_t i = static_cast<std::size_t>(last_[static_cast<std::size_t>(sum)]);
            low[i] = 1;
            sum -= heights_[i];
        }
        std::pair<std::vector<int>, std::vector<int>> parts;
        for (std::size_t i = 0; i < lies_.size(); ++i)
            (low[i] ? parts.first : parts.second).push_back(lies_[i]);
        return parts;
    }

private:
    static constexpr int none = -2, start = -1;
    const std::vector<int>& lies_;
    std::vector<int> heights_;
    int total_ = 0;
    std::vector<int> last_; ///< Per sum.
};

void add(Row& row, std::vector<int> lies, const Frame& frame) {
    if (lies.empty()) return;
    RowSegment segment;
    int height = 0;
    std::int64_t ticks = 0;
    for (const int i : lies) {
        const Lie& lie = frame.lies[static_cast<std::size_t>(i)];
        segment.width = std::max(segment.width, lie.width);
        height += lie.height;
        ticks += lie.ticks_high;
    }
    segment.lies = std::move(lies);
    row.height = std::max(row.height, height);
    row.ticks_high = std::max(row.ticks_high, ticks);
    row.segments.push_back(std::move(segment));
}

/// Parts a row at the lowest height that loses nothing.
bool part(const Row& row, const Frame& frame, Row& low, Row& high) {
    std::vector<Parting> partings;
    std::size_t tallest = 0;
    for (const RowSegment& segment : row.segments) {
        partings.emplace_back(segment.lies, frame);
        if (partings.back().total() > partings[tallest].total()) tallest = partings.size() - 1;
    }
    for (int y = 1; y < row.height; ++y) {
        if (!partings[tallest].reaches(y)) continue;
        const bool parts = std::all_of(partings.begin(), partings.end(), [&](const Parting& parting) {
            return parting.below(y) >= parting.total() - (row.height - y);
        });
        if (!parts) continue;
        low = {};
        high = {};
        for (const Parting& parting : partings) {
            auto [below, above] = parting.at(parting.below(y));
            add(low, std::move(below), frame);
            add(high, std::move(above), frame);
        }
        if (low.ticks_high + high.ticks_high <= row.ticks_high)
            return true; // Rounded sizes may add up to more.
    }
    return false;
}

} // namespace

std::vector<RowTimes> split_low(const std::vector<RowTimes>& rows, const Frame& frame) {
    std::vector<RowTimes> done, open = rows;
    while (!open.empty()) {
        const RowTimes one = std::move(open.back());
        open.pop_back();
        Row low, high;
        if (frame.stacks && part(one.row, frame, low, high)) {
            open.push_back({std::move(high), one.times});
            open.push_back({std::move(low), one.times});
            continue;
        }
        done.push_back(one);
    }
    return done;
}

} // namespace motley::cutting
