#include "render/patchwork.h"

#include <algorithm>

#include "fault/fault.h"
#include "render/cloth.h"

namespace motley::render {

namespace {

/// How much of pixel `at` lies beyond a seam `off` past the line at `line`.
float beyond(int at, int line, float off) {
    return std::clamp(static_cast<float>(at + 1 - line) - off, 0.0f, 1.0f);
}

} // namespace

Patchwork::Patchwork(const layout::Layout& layout, const Grid& grid, const Bolts& bolts, const Hand& hand)
    : layout_(layout), grid_(grid), bolts_(bolts), hand_(hand), cuts_(cut_out(layout, grid, bolts)) {
    expects(hand.reach() <= bolts.margin);
    if (grid.patches > 1) coverages_ = coverages(form_of(layout), grid.cell);
}

/// Pixels [from, to) of one unit's row y, all three in the unit's own pixels and within `margin` around it.
void Patchwork::unit_row(int row, int column, int y, int from, int to, float* out) const {
    const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(grid_.columns) +
                      static_cast<std::size_t>(column);
    const int turn = layout_.assignment.turns[cell];
    const Texel start = unturned(from, y, turn, grid_.cell);
    const Texel next = unturned(from + 1, y, turn, grid_.cell);
    const int step_u = next.u - start.u, step_v = next.v - start.v;
    const auto patches = static_cast<std::size_t>(grid_.patches);
    for (std::size_t p = 0; p < patches; ++p) {
        const std::size_t patch = cell * patches + p;
        const photo::LinearImage& cloth = bolts_.cloth[palette::index(layout_.assignment.patches[patch])];
        const Cut cut = cuts_[patch];
        const float* in = pixel(cloth, cut.x + start.u, cut.y + start.v);
        const std::ptrdiff_t step = 3 * (static_cast<std::ptrdiff_t>(step_v) * cloth.width + step_u);
        float* at = out;
        if (patches == 1) {
            for (int x = from; x < to; ++x, at += 3, in += step) std::copy_n(in, 3, at);
            continue;
        }
        int u = start.u, v = start.v;
        for (int x = from; x < to; ++x, at += 3, in += step, u += step_u, v += step_v) {
            const int inside_u = std::clamp(u, 0, grid_.cell - 1),
                      inside_v = std::clamp(v, 0, grid_.cell - 1);
            const float covered =
                coverages_[p][static_cast<std::size_t>(inside_v) * static_cast<std::size_t>(grid_.cell) +
                              static_cast<std::size_t>(inside_u)];
            if (covered == 0) continue;
            for (int c = 0; c < 3; ++c) at[c] += covered * in[c];
        }
    }
}

/// Row y (in the strip's own pixels) of one row of units, its column seams as sewn.
void Patchwork::strip(int row, int y, std::span<float> out) const {
    const int margin = bolts_.margin, cell = grid_.cell;
    std::fill(out.begin(), out.end(), 0.0f);
    for (int column = 0; column < grid_.columns; ++column) {
        const int from = column == 0 ? -margin : 0;
        const int to = column == grid_.columns - 1 ? cell + margin : cell;
        unit_row(row, column, y, from, to, &out[static_cast<std::size_t>(column * cell + from + margin) * 3]);
    }
    const int reach = hand_.reach();
    if (reach == 0) return;
    std::vector<float> before(static_cast<std::size_t>(reach) * 6), after(before.size());
    for (int column = 1; column < grid_.columns; ++column) {
        const float off = hand_.column_seam(column, row, y + 0.5);
        std::fill(before.begin(), before.end(), 0.0f);
        std::fill(after.begin(), after.end(), 0.0f);
        unit_row(row, column - 1, y, cell - reach, cell + reach, before.data());
        unit_row(row, column, y, -reach, reach, after.data());
        float* at = &out[static_cast<std::size_t>(column * cell - reach + margin) * 3];
        for (int x = -reach; x < reach; ++x) {
            const float share = beyond(x, 0, off);
            const auto i = static_cast<std::size_t>(x + reach) * 3;
            for (std::size_t c = 0; c < 3; ++c, ++at)
                *at = before[i + c] + share * (after[i + c] - before[i + c]);
        }
    }
}

void Patchwork::row(int y, std::span<float> out) const {
    const int cell = grid_.cell, reach = hand_.reach();
    const int row = std::clamp(y < 0 ? 0 : y / cell, 0, grid_.rows - 1);
    strip(row, y - row * cell, out);
    const int seam = y - row * cell < cell / 2 ? row : row + 1; // The nearer one.
    if (seam <= 0 || seam >= grid_.rows || y < seam * cell - reach || y >= seam * cell + reach) return;
    const bool under = row == seam; // This strip lies under the seam, the other above it.
    const int other = under ? row - 1 : row + 1;
    std::vector<float> across(out.size());
    strip(other, y - other * cell, across);
    const auto pixels = static_cast<int>(out.size() / 3);
    for (int x = 0; x < pixels; ++x) {
        const float low = beyond(y, seam * cell, hand_.row_seam(seam, x - bolts_.margin + 0.5));
        const float mine = under ? low : 1 - low;
        for (std::size_t c = 0; c < 3; ++c) {
            const std::size_t i = static_cast<std::size_t>(x) * 3 + c;
            out[i] = across[i] + mine * (out[i] - across[i]);
        }
    }
}

} // namespace motley::render
