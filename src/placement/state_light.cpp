// What `State` keeps of lightness: window sums, and what a change of light brings.

#include <algorithm>

#include "placement/state.h"

namespace motley::placement {

namespace {

constexpr int window = 4;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// [k][step + window - 1] of n lines: how many windows lie over line k and the one `step` further.
std::vector<std::int32_t> overlaps(int n) {
    std::vector<std::int32_t> out;
    for (int k = 0; k < n; ++k)
        for (int step = 1 - window; step < window; ++step) {
            const int other = k + step;
            const int first = std::max(0, std::max(k, other) - window + 1);
            const int last = std::min({n - window, k, other});
            out.push_back(other < 0 || other >= n ? 0 : std::max(0, last - first + 1));
        }
    return out;
}

} // namespace

void State::count_light() {
    std::fill(light_.begin(), light_.end(), 0);
    std::int64_t total = 0;
    for (int patch = 0; patch < model_.patches; ++patch) {
        const int cell = patch / model_.places;
        const std::int64_t light = model_.light(patch % model_.places, pose(cell), fabric(patch));
        light_[at(cell)] += light;
        total += light;
    }
    if (!watch_.value) return;
    tally_.light = total;
    if (model_.has_aim()) {
        for (int cell = 0; cell < model_.cells; ++cell) {
            const std::int64_t off = light_[at(cell)] - model_.aim(cell);
            tally_.value += off * off;
        }
        return;
    }
    const layout::Board& board = model_.brief.board;
    base_ = (total * board.window_units() + board.units() / 2) / board.units();
    windows_.assign(at(model_.cells), 0);
    around_.assign(at(model_.cells), 0);
    for (int cell = 0; cell < model_.cells; ++cell)
        line_.push_back({cell / model_.columns, cell % model_.columns});
    if (board.full()) {
        rows_over_ = overlaps(model_.rows);
        columns_over_ = overlaps(model_.columns);
    } else {
        const int across = model_.columns + 1;
        windows_above_.assign(at((model_.rows + 1) * across), 0);
        for (int r = 0; r < model_.rows; ++r)
            for (int c = 0; c < model_.columns; ++c)
                windows_above_[at((r + 1) * across + c + 1)] =
                    windows_above_[at(r * across + c + 1)] + windows_above_[at((r + 1) * across + c)] -
                    windows_above_[at(r * across + c)] + board.window_counts(r * model_.columns + c);
    }
    for (int first = 0; first < model_.cells; ++first) {
        if (!board.window_counts(first)) continue;
        std::int64_t sum = -base_;
        for (int i = 0; i < window; ++i)
            for (int j = 0; j < window; ++j) sum += light_[at(first + i * model_.columns + j)];
        windows_[at(first)] = sum;
        tally_.value += sum * sum;
        tally_.windows += sum;
        for (int i = 0; i < window; ++i)
            for (int j = 0; j < window; ++j) around_[at(first + i * model_.columns + j)] += sum;
    }
}

/// Windows that count whose first cells lie in these rows and columns, ends included.
std::int64_t State::windows_in(int top, int left, int bottom, int right) const {
    if (bottom < top || right < left) return 0;
    if (windows_above_.empty()) return std::int64_t{bottom - top + 1} * (right - left + 1);
    const int across = model_.columns + 1;
    return windows_above_[at((bottom + 1) * across + right + 1)] -
           windows_above_[at(top * across + right + 1)] - windows_above_[at((bottom + 1) * across + left)] +
           windows_above_[at(top * across + left)];
}

/// Windows that lie over both cells.
std::int64_t State::windows_over(int a, int b) const {
    const int r = line_[at(a)].row, s = line_[at(b)].row, c = line_[at(a)].column, d = line_[at(b)].column;
    if (!rows_over_.empty()) {
        const unsigned down = static_cast<unsigned>(s - r + window - 1);
        const unsigned right = static_cast<unsigned>(d - c + window - 1);
        if (down > 2 * window - 2 || right > 2 * window - 2) return 0;
        return rows_over_[at(r) * (2 * window - 1) + down] * columns_over_[at(c) * (2 * window - 1) + right];
    }
    return windows_in(std::max(0, std::max(r, s) - window + 1), std::max(0, std::max(c, d) - window + 1),
                      std::min({model_.rows - window, r, s}), std::min({model_.columns - window, c, d}));
}

/// Adds what changing the light of two cells (or of one, twice) brings.
void State::add_value_step(Tally& gain, int a, std::int64_t by_a, int b, std::int64_t by_b) const {
    if (a == b) by_a += by_b, by_b = 0;
    gain.light += by_a + by_b;
    if (model_.has_aim()) {
        const auto step = [&](int cell, std::int64_t by) {
            return by * (by + 2 * (light_[at(cell)] - model_.aim(cell)));
        };
        gain.value += step(a, by_a) + (by_b == 0 ? 0 : step(b, by_b));
        return;
    }
    const std::int64_t over_a = windows_over(a, a);
    gain.value += by_a * (2 * around_[at(a)] + by_a * over_a);
    gain.windows += by_a * over_a;
    if (by_b == 0) return;
    const std::int64_t over_b = windows_over(b, b);
    gain.value += by_b * (2 * around_[at(b)] + by_b * over_b) + 2 * by_a * by_b * windows_over(a, b);
    gain.windows += by_b * over_b;
}

void State::shift_light(int cell, std::int64_t by) {
    if (!watch_.value || by == 0) return;
    add_value_step(tally_, cell, by, cell, 0);
    light_[at(cell)] += by;
    if (model_.has_aim()) return;
    shift_windows(cell, by);
}

void State::shift_windows(int cell, std::int64_t by) {
    const int r = cell / model_.columns, c = cell % model_.columns;
    const int first_row = std::max(0, r - window + 1), last_row = std::min(model_.rows - window, r);
    const int first_column = std::max(0, c - window + 1), last_column = std::min(model_.columns - window, c);
    for (int i = first_row; i <= last_row; ++i)
        for (int j = first_column; j <= last_column; ++j) windows_[at(i * model_.columns + j)] += by;
    for (int i = first_row; i < last_row + window; ++i)
        for (int j = first_column; j < last_column + window; ++j)
            around_[at(i * model_.columns + j)] +=
                by * windows_in(std::max(first_row, i - window + 1), std::max(first_column, j - window + 1),
                                std::min(last_row, i), std::min(last_column, j));
}

Tally State::light_gain(int i, int j) const {
    Tally gain;
    if (!watch_.value) return gain;
    const int f = fabric(i), g = fabric(j);
    if (model_.places == 1) {
        const std::int64_t by = model_.light(0, pose(i), g) - model_.light(0, pose(i), f);
        add_value_step(gain, i, by, j, -by);
        return gain;
    }
    const int p = i % model_.places, q = j % model_.places;
    const int a = i / model_.places, b = j / model_.places;
    add_value_step(gain, a, model_.light(p, pose(a), g) - model_.light(p, pose(a), f), b,
                   model_.light(q, pose(b), f) - model_.light(q, pose(b), g));
    return gain;
}

} // namespace motley::placement
