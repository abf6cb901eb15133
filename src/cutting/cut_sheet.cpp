#include "cutting/cut_sheet.h"

#include <algorithm>

#include "cutting/knapsack.h"

namespace motley::cutting {

namespace {

/// The best pile of strips, each counted as often as one likes.
struct Pile {
    std::int64_t value = 0;
    std::vector<int> heights; ///< Tallest first.
};

Pile best_pile(const Frame& frame, const StripTable& table, int height, Work& work) {
    const std::size_t size = static_cast<std::size_t>(height) + 1;
    std::vector<std::int64_t> best(size);
    std::vector<int> last(size, 0);
    std::vector<std::pair<int, std::int64_t>> strips;
    std::int64_t before = 0;
    for (const int high : table.heights()) {
        if (high > height) break;
        const std::int64_t value = table.most(high, frame.width, work);
        if (value <= before) continue; // A lower strip is worth as much.
        before = value;
        strips.emplace_back(high, value);
    }
    for (std::size_t h = 1; h < size; ++h) {
        best[h] = best[h - 1];
        for (const auto& [high, value] : strips) {
            if (static_cast<std::size_t>(high) > h) break;
            const std::int64_t here = best[h - static_cast<std::size_t>(high)] + value;
            if (here <= best[h]) continue;
            best[h] = here;
            last[h] = high;
        }
    }
    work.spend(static_cast<std::int64_t>(size * strips.size()));
    Pile pile{best.back(), {}};
    for (std::size_t h = size - 1; h > 0;) {
        if (last[h] == 0) {
            --h;
            continue;
        }
        pile.heights.push_back(last[h]);
        h -= static_cast<std::size_t>(last[h]);
    }
    std::sort(pile.heights.rbegin(), pile.heights.rend());
    return pile;
}

} // namespace

std::int64_t most_of_sheet(const Frame& frame, const std::vector<std::int64_t>& values,
                           const std::vector<int>& left, Work& work) {
    StripTable table(frame);
    table.fill(values, left, frame.height, work);
    return best_pile(frame, table, frame.height, work).value;
}

std::vector<int> sheet_counts(const Frame& frame, const std::vector<std::int64_t>& values,
                              const std::vector<int>& left, Work& work) {
    StripTable table(frame);
    table.fill(values, left, frame.height, work);
    std::vector<int> counts(values.size());
    for (const int height : best_pile(frame, table, frame.height, work).heights) {
        const std::vector<int> more = counted(table.relaxed(height, frame.width, work), frame, values.size());
        for (std::size_t k = 0; k < counts.size(); ++k) counts[k] += more[k];
    }
    return counts;
}

std::vector<Row> fill_sheet(const Frame& frame, const std::vector<std::int64_t>& values,
                            std::vector<int> left, Work& work) {
    std::vector<Row> rows;
    StripTable table(frame);
    for (int height = frame.height; height > 0;) {
        table.fill(values, left, height, work);
        const Pile pile = best_pile(frame, table, height, work);
        if (pile.heights.empty()) break;
        const std::size_t before = rows.size();
        bool short_of_pieces = false;
        for (const int high : pile.heights) { // As planned, until a kind runs out.
            const Row planned = table.relaxed(high, frame.width, work);
            const std::vector<int> counts = counted(planned, frame, left.size());
            for (std::size_t k = 0; k < left.size(); ++k)
                short_of_pieces = short_of_pieces || counts[k] > left[k];
            if (short_of_pieces) break;
            for (std::size_t k = 0; k < left.size(); ++k) left[k] -= counts[k];
            height -= planned.height;
            rows.push_back(planned);
        }
        if (!short_of_pieces) break;
        if (rows.size() == before) {
            const Row row = table.cut(pile.heights.front(), frame.width, work);
            const std::vector<int> counts = counted(row, frame, left.size());
            for (std::size_t k = 0; k < left.size(); ++k) left[k] -= counts[k];
            height -= row.height;
            rows.push_back(row);
        }
    }
    return rows;
}

} // namespace motley::cutting
