#include "placement/ground.h"

#include <algorithm>
#include <cstdlib>

#include "fault/fault.h"

namespace motley::placement {

Ground::Ground(int columns, int rows, Edges edges, const Weigh& weigh)
    : columns_(columns), rows_(rows), edges_(edges) {
    expects(columns >= 1 && rows >= 1 && columns <= most_cells / rows);
    constexpr std::size_t lane = 16; // Numbers: whole vectors, whatever their width.
    stride_ = (at(cells()) + lane - 1) / lane * lane;
    std::vector<std::int32_t> by_step(at(cells()));
    for (int i = 0; i < rows; ++i)
        for (int j = 0; j < columns; ++j) {
            const bool meet = edges == Edges::meet;
            const int down = meet ? std::min(i, rows - i) : i;
            const int right = meet ? std::min(j, columns - j) : j;
            if (down == 0 && right == 0) continue;
            by_step[at(i * columns + j)] = weigh(down, right);
            expects(by_step[at(i * columns + j)] >= 0);
        }
    weights_.resize(at(cells()) * stride_);
    for (int a = 0; a < cells(); ++a) {
        std::int64_t whole = 0;
        for (int b = 0; b < cells(); ++b) {
            const int down = std::abs(a / columns - b / columns), right = std::abs(a % columns - b % columns);
            const std::int32_t w = by_step[at(down * columns + right)];
            weights_[at(a) * stride_ + at(b)] = w;
            whole += w;
        }
        expects(whole < std::int64_t{1} << 29);
        wholes_.push_back(static_cast<std::int32_t>(whole));
    }
    lay_out_turns();
}

void Ground::lay_out_turns() {
    for (int k = 0; k < (rows_ == columns_ ? 8 : 4); ++k) {
        std::vector<int> to;
        for (int cell = 0; cell < cells(); ++cell) {
            int i = cell / columns_, j = cell % columns_;
            if ((k & 1) != 0) i = rows_ - 1 - i;
            if ((k & 2) != 0) j = columns_ - 1 - j;
            if ((k & 4) != 0) std::swap(i, j);
            to.push_back(i * columns_ + j);
        }
        // Weights know the sizes of steps alone, so mirroring is safe; exchanging rows for columns may not
        // be.
        bool safe = true;
        for (int b = 0; b < cells(); ++b) safe = safe && weight(0, b) == weight(to[0], to[at(b)]);
        if (safe && std::ranges::find(turns_, to) == turns_.end()) turns_.push_back(std::move(to));
    }
}

std::int64_t Ground::cost(std::span<const int> cells) const {
    std::int64_t sum = 0;
    for (const int a : cells)
        for (const int b : cells) sum += weight(a, b);
    return sum;
}

namespace {

/// How often each shift takes a cell of `moved` to one of `still`; the one that does so most often.
struct Shift {
    int down = 0, right = 0, common = -1;
};

Shift best_shift(const Ground& ground, std::span<const int> still, const std::vector<int>& moved) {
    const int columns = ground.columns(), rows = ground.rows(), wide = 2 * columns;
    std::vector<int> hits(static_cast<std::size_t>(2 * rows * wide));
    std::vector<int> from;
    for (const int cell : moved) from.push_back(cell / columns * wide + cell % columns);
    for (const int cell : still) {
        const int to = (cell / columns + rows) * wide + cell % columns + columns;
        for (const int f : from) ++hits[static_cast<std::size_t>(to - f)];
    }
    Shift best;
    for (int i = 0; i < rows; ++i)
        for (int j = 0; j < columns; ++j) {
            const auto hit = [&](int down, int right) {
                return hits[static_cast<std::size_t>(down * wide + right)];
            };
            const int common =
                hit(i, j) + hit(i + rows, j) + hit(i, j + columns) + hit(i + rows, j + columns);
            if (common > best.common) best = {i, j, common};
        }
    return best;
}

} // namespace

Alignment align(const Ground& ground, std::span<const int> still, std::span<const int> moved) {
    std::vector<char> is_still(static_cast<std::size_t>(ground.cells()));
    for (const int cell : still) is_still[static_cast<std::size_t>(cell)] = 1;
    Alignment best;
    best.common = -1;
    for (const std::vector<int>& turn : ground.turns()) {
        std::vector<int> turned;
        Shift shift{0, 0, 0};
        for (const int cell : moved) {
            turned.push_back(turn[static_cast<std::size_t>(cell)]);
            shift.common += is_still[static_cast<std::size_t>(turned.back())];
        }
        if (ground.edges_meet()) shift = best_shift(ground, still, turned);
        if (shift.common <= best.common) continue;
        for (int& cell : turned) cell = ground.shifted(cell, shift.down, shift.right);
        best = {std::move(turned), shift.common};
    }
    return best;
}

} // namespace motley::placement
