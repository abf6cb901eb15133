#include "cutting/cut_strip.h"

#include <algorithm>

#include "cutting/knapsack.h"
#include "fault/fault.h"

namespace motley::cutting {

std::vector<int> counted(const Row& row, const Frame& frame, std::size_t kinds) {
    std::vector<int> counts(kinds);
    for (const RowSegment& segment : row.segments)
        for (const int lie : segment.lies)
            ++counts[static_cast<std::size_t>(frame.lies[static_cast<std::size_t>(lie)].kind)];
    return counts;
}

void StripTable::fill(const std::vector<std::int64_t>& values, const std::vector<int>& left, int height,
                      Work& work) {
    expects(height >= 0 && height <= frame_->height);
    values_ = values;
    left_ = left;
    height_ = height;
    fill_stacks(work);
    find_heights();
}

void StripTable::fill_stacks(Work& work) {
    const std::size_t size = static_cast<std::size_t>(height_) + 1;
    stacks_.resize(size * frame_->lies.size());
    for (std::size_t i = 0; i < frame_->lies.size(); ++i) {
        const std::span<std::int64_t> best(stacks_.data() + i * size, size);
        if (i == 0)
            std::fill(best.begin(), best.end(), 0);
        else
            std::copy_n(stacks_.data() + (i - 1) * size, size, best.begin());
        const Lie& lie = frame_->lies[i];
        const std::size_t kind = static_cast<std::size_t>(lie.kind);
        if (lie.height > height_ || left_[kind] == 0 || values_[kind] == 0) continue;
        if (frame_->stacks)
            let_in(best, lie.height, values_[kind], left_[kind]);
        else
            for (std::size_t h = static_cast<std::size_t>(lie.height); h < size; ++h)
                best[h] = std::max(best[h], values_[kind]);
    }
    work.spend(static_cast<std::int64_t>(size * frame_->lies.size()));
}

void StripTable::find_heights() {
    // Worth nothing is still a piece to be cut, so heights are found from the pieces and not from the values.
    std::vector<std::int64_t> reached(static_cast<std::size_t>(height_) + 1);
    heights_.clear();
    for (const Lie& lie : frame_->lies) {
        if (lie.height > height_ || left_[static_cast<std::size_t>(lie.kind)] == 0) continue;
        if (frame_->stacks)
            let_in(reached, lie.height, lie.height, left_[static_cast<std::size_t>(lie.kind)]);
        else
            reached[static_cast<std::size_t>(lie.height)] = lie.height;
    }
    for (int h = 1; h <= height_; ++h)
        if (reached[static_cast<std::size_t>(h)] == h) heights_.push_back(h);
}

std::vector<StripTable::Item> StripTable::items(int height) const {
    std::vector<Item> found;
    std::int64_t before = 0;
    for (std::size_t c = 0; c < frame_->widths.size(); ++c) {
        const std::size_t end = static_cast<std::size_t>(frame_->ends[c]);
        std::int64_t most = 0;
        const std::size_t begin = c == 0 ? 0 : static_cast<std::size_t>(frame_->ends[c - 1]);
        for (std::size_t i = begin; i < end; ++i)
            if (frame_->lies[i].height <= height)
                most += left_[static_cast<std::size_t>(frame_->lies[i].kind)];
        const std::int64_t value = stack_value(end - 1, height);
        if (value > before) found.push_back({frame_->widths[c], static_cast<int>(c), 0, value});
        before = value;
        // A segment of this width holds a piece of it; where that is worth no more than in a narrower one, it
        // counts as one of those.
        if (!found.empty())
            found.back().most =
                static_cast<int>(std::min<std::int64_t>(found.back().most + most, frame_->width));
    }
    return found;
}

std::int64_t StripTable::quick(int height, int length) const {
    std::int64_t most = 0, before = 0;
    for (std::size_t c = 0; c < frame_->widths.size(); ++c) {
        const std::int64_t value = stack_value(static_cast<std::size_t>(frame_->ends[c]) - 1, height);
        if (value > before) most = std::max(most, value * length / frame_->widths[c] + 1);
        before = value;
    }
    return most;
}

std::int64_t StripTable::most(int height, int length, Work& work) const {
    const std::vector<Item> rows = items(height);
    row_.assign(static_cast<std::size_t>(length) + 1, 0);
    for (const Item& item : rows)
        if (item.width <= length) let_in(row_, item.width, item.value, item.most);
    work.spend(static_cast<std::int64_t>(rows.size() + 1) * length);
    return row_.back();
}

std::vector<int> StripTable::stack(int lie_class, int height) const {
    std::vector<int> lies;
    for (std::size_t i = static_cast<std::size_t>(frame_->ends[static_cast<std::size_t>(lie_class)]);
         i-- > 0 && height > 0;) {
        const Lie& lie = frame_->lies[i];
        const std::size_t kind = static_cast<std::size_t>(lie.kind);
        const std::int64_t wanted = stack_value(i, height);
        const auto before = [&](int h) { return i == 0 ? 0 : stack_value(i - 1, h); };
        if (before(height) == wanted) continue;
        if (!frame_->stacks) return {static_cast<int>(i)};
        for (int n = 1; n <= left_[kind] && n * lie.height <= height; ++n) {
            if (before(height - n * lie.height) + n * values_[kind] != wanted) continue;
            lies.insert(lies.end(), static_cast<std::size_t>(n), static_cast<int>(i));
            height -= n * lie.height;
            break;
        }
    }
    return lies;
}

std::vector<RowSegment> StripTable::segments(int height, int length, Work& work) const {
    const std::vector<Item> rows = items(height);
    const std::size_t size = static_cast<std::size_t>(length) + 1;
    std::vector<std::int64_t> best((rows.size() + 1) * size, 0);
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::copy_n(best.begin() + static_cast<std::ptrdiff_t>(r * size), size,
                    best.begin() + static_cast<std::ptrdiff_t>((r + 1) * size));
        if (rows[r].width <= length)
            let_in({best.data() + (r + 1) * size, size}, rows[r].width, rows[r].value, rows[r].most);
    }
    work.spend(static_cast<std::int64_t>((rows.size() + 1) * size));
    std::vector<RowSegment> found;
    int at = length;
    for (std::size_t r = rows.size(); r-- > 0;) {
        const auto value = [&](std::size_t row, int x) {
            return best[row * size + static_cast<std::size_t>(x)];
        };
        if (value(r, at) == value(r + 1, at)) continue;
        for (int n = 1; n <= rows[r].most && n * rows[r].width <= at; ++n) {
            if (value(r, at - n * rows[r].width) + n * rows[r].value != value(r + 1, at)) continue;
            const RowSegment segment{rows[r].width, stack(rows[r].lie_class, height)};
            found.insert(found.end(), static_cast<std::size_t>(n), segment);
            at -= n * rows[r].width;
            break;
        }
    }
    return found;
}

namespace {

/// Widths and height as the pieces make them.
void measure_row(Row& row, const Frame& frame) {
    row.height = 0;
    row.ticks_high = 0;
    for (RowSegment& segment : row.segments) {
        int width = 0, height = 0;
        std::int64_t ticks = 0;
        for (const int i : segment.lies) {
            const Lie& lie = frame.lies[static_cast<std::size_t>(i)];
            width = std::max(width, lie.width);
            height += lie.height;
            ticks += lie.ticks_high;
        }
        segment.width = width;
        row.height = std::max(row.height, height);
        row.ticks_high = std::max(row.ticks_high, ticks);
    }
}

} // namespace

Row StripTable::relaxed(int height, int length, Work& work) const {
    Row row;
    row.segments = segments(height, length, work);
    measure_row(row, *frame_);
    return row;
}

Row StripTable::cut(int height, int length, Work& work) const {
    Row row;
    StripTable rest(*frame_); // Filled only once pieces have run out.
    const StripTable* table = this;
    std::vector<int> left = left_;
    while (length > 0) {
        bool short_of_pieces = false;
        const std::vector<RowSegment> next = table->segments(height, length, work);
        if (next.empty()) break;
        for (const RowSegment& planned : next) {
            RowSegment segment;
            for (const int i : planned.lies) {
                int& of_kind = left[static_cast<std::size_t>(frame_->lies[static_cast<std::size_t>(i)].kind)];
                if (of_kind == 0) {
                    short_of_pieces = true;
                    continue;
                }
                --of_kind;
                segment.lies.push_back(i);
            }
            const bool whole = segment.lies.size() == planned.lies.size();
            if (!whole && !row.segments.empty() && &planned != &next.front()) { // Planned anew with the rest.
                for (const int i : segment.lies)
                    ++left[static_cast<std::size_t>(frame_->lies[static_cast<std::size_t>(i)].kind)];
                break;
            }
            if (segment.lies.empty()) break;
            for (const int i : segment.lies)
                segment.width = std::max(segment.width, frame_->lies[static_cast<std::size_t>(i)].width);
            length -= segment.width;
            row.segments.push_back(std::move(segment));
            if (!whole) break;
        }
        if (!short_of_pieces) break;
        rest.fill(values_, left, height, work);
        table = &rest;
    }
    measure_row(row, *frame_);
    return row;
}

} // namespace motley::cutting
