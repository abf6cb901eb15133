#include "cutting/cut_patterns.h"

#include <algorithm>
#include <map>

#include "cutting/knapsack.h"

namespace motley::cutting {

namespace {

constexpr std::size_t most_patterns = 40'000;

/// Walks over rows of segments, widest first, each segment over stacks of lies; both cut short where even the
/// best completion would lack too much.
class Listing {
public:
    Listing(const Frame& frame, const std::vector<int>& asked, const std::vector<std::int64_t>& values,
            std::int64_t gap, Work& work)
        : frame_(frame), values_(values), gap_(gap), work_(work), left_(asked), counts_(asked.size()) {}

    StripPatterns run(int height) {
        std::vector<std::int64_t> reached(static_cast<std::size_t>(height) + 1);
        for (const Lie& lie : frame_.lies) {
            if (lie.height > height) continue;
            if (frame_.stacks)
                let_in(reached, lie.height, lie.height, left_[static_cast<std::size_t>(lie.kind)]);
            else
                reached[static_cast<std::size_t>(lie.height)] = lie.height;
        }
        for (height_ = 1; height_ <= height && !gave_up(); ++height_)
            if (reached[static_cast<std::size_t>(height_)] == height_) at_height();
        found_.all = !gave_up();
        return std::move(found_);
    }

private:
    bool gave_up() const { return work_.spent() || found_.patterns.size() > most_patterns; }

    void at_height() {
        fill_stacks();
        fill_rows();
        needed_ = static_cast<std::int64_t>(height_) * value_scale - gap_;
        if (row_best(frame_.widths.size(), frame_.width) < needed_) return;
        row_.segments.clear();
        add_segment(frame_.width, 0, frame_.lies.size(), {});
    }

    /// The most that a stack of the first lies can be worth, by height.
    void fill_stacks() {
        const std::size_t size = static_cast<std::size_t>(height_) + 1;
        stacks_.assign((frame_.lies.size() + 1) * size, 0);
        for (std::size_t i = 0; i < frame_.lies.size(); ++i) {
            const std::span<std::int64_t> best(stacks_.data() + (i + 1) * size, size);
            std::copy_n(stacks_.data() + i * size, size, best.begin());
            const Lie& lie = frame_.lies[i];
            const std::size_t kind = static_cast<std::size_t>(lie.kind);
            if (lie.height > height_ || left_[kind] == 0) continue;
            if (frame_.stacks)
                let_in(best, lie.height, values_[kind], left_[kind]);
            else
                for (std::size_t h = static_cast<std::size_t>(lie.height); h < size; ++h)
                    best[h] = std::max(best[h], values_[kind]);
        }
        work_.spend(static_cast<std::int64_t>(stacks_.size()));
    }
    std::int64_t stack_best(std::size_t lies, int height) const {
        return stacks_[lies * (static_cast<std::size_t>(height_) + 1) + static_cast<std::size_t>(height)];
    }

    /// The most that a row of the first widths can be worth, by length; here each as often as one likes.
    void fill_rows() {
        const std::size_t size = static_cast<std::size_t>(frame_.width) + 1;
        rows_.assign((frame_.widths.size() + 1) * size, 0);
        for (std::size_t c = 0; c < frame_.widths.size(); ++c) {
            const std::span<std::int64_t> best(rows_.data() + (c + 1) * size, size);
            std::copy_n(rows_.data() + c * size, size, best.begin());
            let_in(best, frame_.widths[c], stack_best(static_cast<std::size_t>(frame_.ends[c]), height_),
                   frame_.width);
        }
        work_.spend(static_cast<std::int64_t>(rows_.size()));
    }
    std::int64_t row_best(std::size_t classes, int length) const {
        return rows_[classes * (static_cast<std::size_t>(frame_.width) + 1) +
                     static_cast<std::size_t>(length)];
    }

    /// One more segment, not before `last` in the order of stacks, or the end of the row.
    void add_segment(int length, std::int64_t value, std::size_t lies, const std::vector<int>& last) {
        if (gave_up()) return;
        work_.spend(20);
        if (value >= needed_) record(value);
        for (std::size_t c = frame_.widths.size(); c-- > 0;) {
            const std::size_t end = static_cast<std::size_t>(frame_.ends[c]);
            const std::size_t begin = c == 0 ? 0 : static_cast<std::size_t>(frame_.ends[c - 1]);
            if (begin >= lies || frame_.widths[c] > length) continue;
            const int rest = length - frame_.widths[c];
            // What the stack must be worth if all that follows is as good as can be.
            const std::int64_t enough = needed_ - value - row_best(c + 1, rest);
            if (stack_best(end, height_) < enough) continue;
            stack_.clear();
            add_to_stack(end, begin, height_, 0, {length, value, enough, &last});
        }
    }

    struct Place {
        int length;
        std::int64_t value, enough;
        const std::vector<int>* last;
    };

    /// Lies from the last to the first; the first one taken must be of the segment's width (index at least
    /// `begin`).
    void add_to_stack(std::size_t lies, std::size_t begin, int height, std::int64_t worth,
                      const Place& place) {
        if (gave_up()) return;
        work_.spend(5);
        if (!stack_.empty() && worth >= place.enough) end_stack(worth, place);
        if (!frame_.stacks && !stack_.empty()) return;
        for (std::size_t i = lies; i-- > (stack_.empty() ? begin : 0);) {
            const Lie& lie = frame_.lies[i];
            if (worth + stack_best(i + 1, height) < place.enough) return;
            int& left = left_[static_cast<std::size_t>(lie.kind)];
            if (lie.height > height || left == 0) continue;
            --left;
            ++counts_[static_cast<std::size_t>(lie.kind)];
            stack_.push_back(static_cast<int>(i));
            add_to_stack(i + 1, begin, height - lie.height,
                         worth + values_[static_cast<std::size_t>(lie.kind)], place);
            stack_.pop_back();
            --counts_[static_cast<std::size_t>(lie.kind)];
            ++left;
        }
    }

    void end_stack(std::int64_t worth, const Place& place) {
        if (!place.last->empty() && *place.last < stack_) return; // Rows in one order only: falling.
        const std::vector<int> kept = stack_;
        const int width = frame_.lies[static_cast<std::size_t>(kept.front())].width;
        row_.segments.push_back({width, kept});
        add_segment(place.length - width, place.value + worth, static_cast<std::size_t>(kept.front()) + 1,
                    kept);
        row_.segments.pop_back();
        stack_ = kept;
    }

    void record(std::int64_t value) {
        const auto [at, fresh] = known_.try_emplace(counts_, found_.patterns.size());
        if (!fresh) return; // Seen at a lower height, or in another order.
        Row row = row_;
        row.height = 0;
        for (const RowSegment& segment : row.segments) {
            int high = 0;
            std::int64_t ticks = 0;
            for (const int i : segment.lies) {
                high += frame_.lies[static_cast<std::size_t>(i)].height;
                ticks += frame_.lies[static_cast<std::size_t>(i)].ticks_high;
            }
            row.height = std::max(row.height, high);
            row.ticks_high = std::max(row.ticks_high, ticks);
        }
        if (row.segments.empty()) {
            known_.erase(at);
            return;
        }
        found_.patterns.push_back(
            {counts_, static_cast<std::int64_t>(row.height) * value_scale - value, std::move(row)});
    }

    const Frame& frame_;
    const std::vector<std::int64_t>& values_;
    std::int64_t gap_;
    Work& work_;
    std::vector<int> left_, counts_;
    int height_ = 0;
    std::int64_t needed_ = 0;
    std::vector<std::int64_t> stacks_, rows_;
    std::vector<int> stack_; ///< Lies, falling.
    Row row_;
    std::map<std::vector<int>, std::size_t> known_;
    StripPatterns found_;
};

} // namespace

StripPatterns list_patterns(const Frame& frame, const std::vector<int>& asked,
                            const std::vector<std::int64_t>& values, int height, std::int64_t gap,
                            Work& work) {
    return Listing(frame, asked, values, gap, work).run(height);
}

} // namespace motley::cutting
