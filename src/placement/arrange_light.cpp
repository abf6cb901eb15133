#include "placement/arrange_light.h"

#include <algorithm>
#include <cmath>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

LightMap::LightMap(const layout::Brief& brief) : columns(brief.columns), rows(brief.rows) {
    for (const double l : brief.aim) aim.push_back(static_cast<std::int32_t>(std::floor(l * steps + 0.5)));
    const bool wide = columns >= window && rows >= window && brief.board.units() > brief.board.window_units();
    counts_.assign(at(brief.cells()), 0);
    if (wide && aim.empty())
        for (int first = 0; first < brief.cells(); ++first) {
            counts_[at(first)] = brief.board.window_counts(first);
            windows += counts_[at(first)];
        }
    above_left_.assign(at((columns + 1) * (rows + 1)), 0);
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c)
            above_left_[at((r + 1) * (columns + 1) + c + 1)] =
                counts_[at(r * columns + c)] + above_left_[at(r * (columns + 1) + c + 1)] +
                above_left_[at((r + 1) * (columns + 1) + c)] - above_left_[at(r * (columns + 1) + c)];
}

int LightMap::over(int a, int b) const {
    const int ra = a / columns, ca = a % columns, rb = b / columns, cb = b % columns;
    const int top = std::max(0, std::max(ra, rb) - window + 1), bottom = std::min(ra, rb) + 1;
    const int left = std::max(0, std::max(ca, cb) - window + 1), right = std::min(ca, cb) + 1;
    if (top >= bottom || left >= right) return 0;
    const int line = columns + 1;
    return above_left_[at(bottom * line + right)] - above_left_[at(top * line + right)] -
           above_left_[at(bottom * line + left)] + above_left_[at(top * line + left)];
}

Light::Light(const LightMap& map, std::vector<std::int32_t> light, std::int64_t base)
    : map_(map), light_(std::move(light)), around_(light_.size(), 0) {
    const int cells = map.columns * map.rows;
    for (int cell = 0; cell < cells; ++cell) {
        tally_.light += of(cell);
        if (map.aim.empty()) continue;
        const std::int64_t off = of(cell) - map.aim[at(cell)];
        tally_.squares += off * off;
    }
    for (int first = 0; first < cells; ++first) {
        if (!map.counts(first)) continue;
        std::int64_t sum = -base;
        for (int i = 0; i < LightMap::window; ++i)
            for (int j = 0; j < LightMap::window; ++j) sum += of(first + i * map.columns + j);
        tally_.squares += sum * sum;
        tally_.windows += sum;
        for (int i = 0; i < LightMap::window; ++i)
            for (int j = 0; j < LightMap::window; ++j) around_[at(first + i * map.columns + j)] += sum;
    }
}

LightTally Light::gain(int a, std::int64_t by_a, int b, std::int64_t by_b) const {
    LightTally gain;
    gain.light = by_a + by_b;
    const auto one = [&](int cell, std::int64_t by) {
        if (!map_.aim.empty()) {
            gain.squares += by * (2 * (of(cell) - map_.aim[at(cell)]) + by);
            return;
        }
        const std::int64_t windows = map_.over(cell, cell);
        gain.squares += by * (2 * around_[at(cell)] + by * windows);
        gain.windows += by * windows;
    };
    if (by_a != 0) one(a, by_a);
    if (b < 0 || by_b == 0) return gain;
    one(b, by_b);
    if (map_.aim.empty()) gain.squares += 2 * by_a * by_b * map_.over(a, b);
    return gain;
}

void Light::shift(int cell, std::int64_t by) {
    if (by == 0) return;
    const LightTally step = gain(cell, by, -1, 0);
    tally_.squares += step.squares;
    tally_.windows += step.windows;
    tally_.light += step.light;
    light_[at(cell)] += static_cast<std::int32_t>(by);
    if (map_.windows == 0) return;
    constexpr int near = LightMap::window - 1;
    const int r = cell / map_.columns, c = cell % map_.columns;
    for (int i = std::max(0, r - near); i <= std::min(map_.rows - 1, r + near); ++i)
        for (int j = std::max(0, c - near); j <= std::min(map_.columns - 1, c + near); ++j)
            around_[at(i * map_.columns + j)] += by * map_.over(cell, i * map_.columns + j);
}

} // namespace motley::placement
