#pragma once
/// One item's turn in a knapsack. Private to this folder.

#include <algorithm>
#include <cstdint>
#include <span>
#include <vector>

namespace motley::cutting {

/// `best[c]` is the most that fits into capacity c, never falling; lets in up to `most` items of this size
/// and value. Expects size > 0.
inline void let_in(std::span<std::int64_t> best, int size, std::int64_t value, int most) {
    const int capacity = static_cast<int>(best.size()) - 1;
    const auto at = [&](int c) -> std::int64_t& { return best[static_cast<std::size_t>(c)]; };
    if (static_cast<std::int64_t>(most) * size >= capacity - size + 1) { // As good as without limit.
        for (int c = size; c <= capacity; ++c) at(c) = std::max(at(c), at(c - size) + value);
        return;
    }
    if (most == 1) {
        for (int c = capacity; c >= size; --c) at(c) = std::max(at(c), at(c - size) + value);
        return;
    }
    // Capacities that differ by whole items: the best of the last `most` + 1 of them, less what each item is
    // worth, in a queue that falls.
    struct Start {
        int items;
        std::int64_t value;
    };
    std::vector<Start> queue(static_cast<std::size_t>(capacity / size + 1));
    for (int first = 0; first < size && first <= capacity; ++first) {
        std::size_t front = 0, back = 0;
        for (int items = 0, c = first; c <= capacity; ++items, c += size) {
            const std::int64_t start = at(c) - items * value;
            while (back > front && queue[back - 1].value <= start) --back;
            queue[back++] = {items, start};
            while (queue[front].items < items - most) ++front;
            at(c) = queue[front].value + items * value;
        }
    }
}

} // namespace motley::cutting
