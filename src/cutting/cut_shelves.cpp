#include "cutting/cut_shelves.h"

#include <algorithm>
#include <tuple>

#include "fault/fault.h"

namespace motley::cutting {

namespace {

/// Of each kind the lie that is least high, tallest kinds first.
std::vector<int> lies_by_height(const Frame& frame, std::size_t kinds) {
    std::vector<int> lowest(kinds, -1);
    const auto high = [&](int i) { return frame.lies[static_cast<std::size_t>(i)].ticks_high; };
    for (std::size_t i = 0; i < frame.lies.size(); ++i) {
        int& best = lowest[static_cast<std::size_t>(frame.lies[i].kind)];
        if (best < 0 || high(static_cast<int>(i)) < high(best)) best = static_cast<int>(i);
    }
    std::erase(lowest, -1);
    std::stable_sort(lowest.begin(), lowest.end(), [&](int a, int b) { return high(a) > high(b); });
    return lowest;
}

/// As many stacks of a kind as fit beside what is in the row; gives the length they take.
std::int64_t fill_with(int i, const Frame& frame, std::int64_t length, int& left, Row& row) {
    const Lie& lie = frame.lies[static_cast<std::size_t>(i)];
    const std::int64_t high = frame.stacks ? std::max<std::int64_t>(1, row.ticks_high / lie.ticks_high) : 1;
    std::int64_t taken = 0;
    while (left > 0 && taken + lie.ticks_wide <= length) {
        const int stack = static_cast<int>(std::min<std::int64_t>(high, left));
        row.segments.push_back({lie.width, std::vector<int>(static_cast<std::size_t>(stack), i)});
        row.height = std::max(row.height, stack * lie.height);
        left -= stack;
        taken += lie.ticks_wide;
    }
    return taken;
}

} // namespace

RowPlan shelf_plan(const Frame& frame, std::vector<int> left) {
    RowPlan plan;
    const std::vector<int> order = lies_by_height(frame, left.size());
    for (std::size_t first = 0; first < order.size();) {
        const Lie& tallest = frame.lies[static_cast<std::size_t>(order[first])];
        int& most = left[static_cast<std::size_t>(tallest.kind)];
        if (most == 0) {
            ++first;
            continue;
        }
        Row row{tallest.height, tallest.ticks_high, {}};
        const int before = most;
        std::int64_t length = frame.ticks_wide - fill_with(order[first], frame, frame.ticks_wide, most, row);
        const int alike = most / (before - most); // Full strips of nothing else.
        if (alike > 0) {
            most -= alike * (before - most);
            plan.rows.push_back({row, alike});
            plan.ticks += row.ticks_high * alike;
        }
        for (std::size_t next = first + 1; next < order.size(); ++next) {
            const Lie& lie = frame.lies[static_cast<std::size_t>(order[next])];
            length -= fill_with(order[next], frame, length, left[static_cast<std::size_t>(lie.kind)], row);
        }
        plan.ticks += row.ticks_high;
        plan.rows.push_back({std::move(row), 1});
    }
    expects(std::all_of(left.begin(), left.end(), [](int count) { return count == 0; }));
    return plan;
}

} // namespace motley::cutting
