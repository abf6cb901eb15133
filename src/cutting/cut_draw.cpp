#include "cutting/cut_draw.h"

#include <algorithm>

namespace motley::cutting {

namespace {

/// What a look at a lie costs, in steps of work.
constexpr std::int64_t look = 5;

} // namespace

RowDraw::RowDraw(const Frame& frame, std::size_t kinds) : frame_(&frame), lowest_(kinds) {
    for (const Lie& one : frame.lies) {
        std::int64_t& low = lowest_[static_cast<std::size_t>(one.kind)];
        if (low == 0 || one.ticks_high < low) low = one.ticks_high;
    }
}

std::int64_t RowDraw::pick_height(std::int64_t room, Start start, Chance& chance) const {
    const auto one = [&] { return lie(present_[chance.below(present_.size())]).ticks_high; };
    const std::size_t way = chance.below(16);
    if (start == Start::needed && way < 10) {
        std::int64_t tallest = 0;
        for (const int i : present_)
            tallest = std::max(tallest, lowest_[static_cast<std::size_t>(lie(i).kind)]);
        return std::min(tallest, room);
    }
    if (way < (start == Start::needed ? 13U : 8U)) return one();
    if (start == Start::any && way < 11) return room;
    const std::int64_t first = one();
    const std::int64_t both = first + (frame_->stacks ? one() : 0);
    return both <= room ? both : first;
}

/// The lie whose stack comes next, or -1.
int RowDraw::pick_stack(const std::vector<int>& left, std::int64_t length, std::int64_t height,
                        const Taste& taste, Chance& chance, Work& work) const {
    int best = -1;
    double most = -1;
    for (const int i : present_) {
        const Lie& one = lie(i);
        const std::int64_t there = left[static_cast<std::size_t>(one.kind)];
        if (there == 0 || one.ticks_wide > length || one.ticks_high > height) continue;
        const std::int64_t stack = frame_->stacks ? std::min(there, height / one.ticks_high) : 1;
        const double score =
            static_cast<double>(stack * one.ticks_high) / static_cast<double>(height) +
            taste.noise * chance.share() +
            taste.wide * static_cast<double>(one.ticks_wide) / static_cast<double>(frame_->ticks_wide);
        if (score <= most) continue;
        most = score;
        best = i;
    }
    work.spend(look * static_cast<std::int64_t>(present_.size() + 1));
    return best;
}

/// The largest piece that still fits on top of a stack, or -1.
int RowDraw::pick_above(const std::vector<int>& left, std::int64_t width, std::int64_t height,
                        Work& work) const {
    int best = -1;
    std::int64_t most = 0;
    for (const int i : present_) {
        const Lie& one = lie(i);
        if (left[static_cast<std::size_t>(one.kind)] == 0 || one.ticks_wide > width ||
            one.ticks_high > height || one.ticks_wide * one.ticks_high <= most)
            continue;
        most = one.ticks_wide * one.ticks_high;
        best = i;
    }
    work.spend(static_cast<std::int64_t>(present_.size() + 1));
    return best;
}

Row RowDraw::draw(std::vector<int>& left, std::int64_t room, Start start, const Taste& taste, Chance& chance,
                  Work& work) {
    Row row;
    present_.clear();
    for (std::size_t i = 0; i < frame_->lies.size(); ++i) {
        const Lie& one = frame_->lies[i];
        if (left[static_cast<std::size_t>(one.kind)] > 0 && one.ticks_high <= room)
            present_.push_back(static_cast<int>(i));
    }
    work.spend(static_cast<std::int64_t>(frame_->lies.size()));
    if (present_.empty()) return row;
    const std::int64_t height = pick_height(room, start, chance);
    std::int64_t length = frame_->ticks_wide;
    for (;;) {
        const int first = pick_stack(left, length, height, taste, chance, work);
        if (first < 0) return row;
        RowSegment segment;
        segment.width = lie(first).width;
        const std::int64_t width = lie(first).ticks_wide;
        std::int64_t stacked = 0;
        int stacked_units = 0;
        for (int i = first; i >= 0;) {
            int& there = left[static_cast<std::size_t>(lie(i).kind)];
            const std::int64_t fits = (height - stacked) / lie(i).ticks_high;
            const int times = frame_->stacks ? static_cast<int>(std::min<std::int64_t>(there, fits)) : 1;
            segment.lies.insert(segment.lies.end(), static_cast<std::size_t>(times), i);
            there -= times;
            stacked += times * lie(i).ticks_high;
            stacked_units += times * lie(i).height;
            i = frame_->stacks ? pick_above(left, width, height - stacked, work) : -1;
        }
        length -= width;
        row.height = std::max(row.height, stacked_units);
        row.ticks_high = std::max(row.ticks_high, stacked);
        row.segments.push_back(std::move(segment));
    }
}

} // namespace motley::cutting
