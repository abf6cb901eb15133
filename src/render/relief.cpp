#include "render/relief.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/chance.h"

namespace motley::render {

namespace {

// Widths in inches; a patchwork seam is a thread's breadth, the cloth rises from it over its allowance
// (common practice: 1/4 in).
constexpr double narrow_reach = 0.055;
constexpr double broad_reach = 0.26;
constexpr double allowance = 0.25;
constexpr double allowance_end = 0.36;

constexpr float narrow_depth = 0.0035f, broad_depth = 0.012f, allowance_lift = 0.0022f;
constexpr float narrow_shadow = 0.34f, broad_shadow = 0.10f;
constexpr float tilt = 2.1f; ///< How strongly light answers to slope.

/// A soft hump: 1 in the middle, 0 from `reach` on.
float hump(double distance, double reach) {
    const double u = distance / reach;
    const double v = 1 - u * u;
    return v <= 0 ? 0.0f : static_cast<float>(v * v * v);
}

/// A hump no narrower than the pixels can show, and shallower for it.
float hump_in_pixels(double distance, double reach) {
    constexpr double least = 1.25;
    if (reach >= least) return hump(distance, reach);
    return hump(distance, least) * static_cast<float>(reach / least);
}

/// 1 over the seam allowance, falling to 0 past its raw edge.
float over_allowance(double inches) {
    const double u = std::clamp((inches - allowance) / (allowance_end - allowance), 0.0, 1.0);
    return static_cast<float>(1 - u * u * (3 - 2 * u));
}

} // namespace

Relief::Relief(const layout::Layout& layout, const Grid& grid, const Hand& hand, int margin)
    : layout_(layout),
      grid_(grid),
      hand_(hand),
      margin_(margin),
      reach_(std::max(2.0, allowance_end * grid.ppi)),
      firm_(scrambled(layout.seed, 31), std::max(2.0, 0.35 * grid.ppi), std::max(2.0, 0.35 * grid.ppi)),
      pucker_(scrambled(layout.seed, 32), std::max(2.0, 0.55 * grid.ppi), std::max(2.0, 0.55 * grid.ppi)),
      drape_(scrambled(layout.seed, 33), std::max(2.0, 3.1 * grid.ppi), std::max(2.0, 3.1 * grid.ppi)) {
    const unit::Form& recipe = form_of(layout);
    const std::vector<std::uint8_t> owner = owners(recipe, grid.cell);
    const int last = grid.cell - 1, half = grid.cell / 2;
    const std::array<std::array<int, 2>, 4> middles{{{half, 0}, {last, half}, {half, last}, {0, half}}};
    for (int turn = 0; turn < 4; ++turn) {
        const auto t = static_cast<std::size_t>(turn);
        for (std::size_t side = 0; side < 4; ++side) {
            const Texel at = unturned(middles[side][0], middles[side][1], turn, grid.cell);
            edge_[t][side] = owner[static_cast<std::size_t>(at.v) * static_cast<std::size_t>(grid.cell) +
                                   static_cast<std::size_t>(at.u)];
        }
        for (std::size_t p = 0; p < recipe.patches.size(); ++p) {
            const std::vector<unit::Point>& outline = recipe.patches[p].outline;
            for (std::size_t i = 0; i < outline.size(); ++i) {
                const unit::Point a = outline[i], b = outline[(i + 1) % outline.size()];
                for (std::size_t q = p + 1; q < recipe.patches.size(); ++q) {
                    const std::vector<unit::Point>& other = recipe.patches[q].outline;
                    for (std::size_t k = 0; k < other.size(); ++k) {
                        const unit::Point c = other[k], d = other[(k + 1) % other.size()];
                        if (c.x != b.x || c.y != b.y || d.x != a.x || d.y != a.y) continue;
                        const unit::Point from = unit::turned(a, turn), to = unit::turned(b, turn);
                        inner_[t].push_back({{from.x * grid.cell, from.y * grid.cell},
                                             {to.x * grid.cell, to.y * grid.cell},
                                             static_cast<int>(p),
                                             static_cast<int>(q)});
                    }
                }
            }
        }
    }
    for (int seam = 0; seam <= grid.rows; ++seam) {
        std::vector<float> offsets;
        for (int x = -margin; x < grid.width() + margin; ++x) offsets.push_back(hand.row_seam(seam, x + 0.5));
        offsets_.push_back(std::move(offsets));
    }
}

std::size_t Relief::patch_at(int row, int column, int side) const {
    const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(grid_.columns) +
                      static_cast<std::size_t>(column);
    const int turn = layout_.assignment.turns[cell] & 3;
    return cell * static_cast<std::size_t>(grid_.patches) +
           static_cast<std::size_t>(edge_[static_cast<std::size_t>(turn)][static_cast<std::size_t>(side)]);
}

/// Seams are pressed to the darker fabric (common practice), or to the first where they are alike.
bool Relief::darker(std::size_t patch, std::size_t than) const {
    const auto lightness = [&](std::size_t i) {
        return layout_.fabrics[palette::index(layout_.assignment.patches[i])].colour->lab.l;
    };
    const double mine = lightness(patch), other = lightness(than);
    return mine != other ? mine < other : patch < than;
}

void Relief::press(Form& form, std::size_t i, double distance, bool under, float firm) const {
    const double far = std::abs(distance);
    form.narrow[i] *= 1 - firm * hump_in_pixels(far, narrow_reach * grid_.ppi);
    form.broad[i] *= 1 - firm * hump_in_pixels(far, broad_reach * grid_.ppi);
    if (under) form.lifted[i] *= 1 - over_allowance(far / grid_.ppi);
}

void Relief::column_seams(int row, int y, Form& form) const {
    for (int column = 0; column <= grid_.columns; ++column) {
        const double line = column * grid_.cell +
                            static_cast<double>(hand_.column_seam(column, row, y - row * grid_.cell + 0.5));
        const bool outer = column == 0 || column == grid_.columns;
        bool pressed_left = false;
        if (!outer) pressed_left = darker(patch_at(row, column - 1, 1), patch_at(row, column, 3));
        const float firm = (outer ? 0.4f : 0.85f) + 0.12f * firm_.at(column * 37.0 * grid_.ppi, y);
        const int from = std::max(-margin_, static_cast<int>(line - reach_));
        const int to = std::min(grid_.width() + margin_, static_cast<int>(line + reach_) + 1);
        for (int x = from; x < to; ++x) {
            const double distance = x + 0.5 - line;
            press(form, static_cast<std::size_t>(x + margin_), distance,
                  !outer && (distance < 0) == pressed_left, firm);
        }
    }
}

void Relief::row_seams(int row, int y, Form& form) const {
    std::vector<float> firm(form.height.size());
    for (int seam = row; seam <= row + 1; ++seam) {
        if (std::abs(y + 0.5 - seam * grid_.cell) > reach_ + hand_.reach()) continue;
        const bool outer = seam == 0 || seam == grid_.rows;
        std::fill(firm.begin(), firm.end(), outer ? 0.4f : 0.85f);
        firm_.add_row(-margin_, seam * 41.0 * grid_.ppi, 0.12f, firm);
        for (std::size_t i = 0; i < firm.size(); ++i) {
            const double distance = y + 0.5 - seam * grid_.cell -
                                    static_cast<double>(offsets_[static_cast<std::size_t>(seam)][i]);
            bool under = false;
            if (!outer) {
                const int column =
                    std::clamp((static_cast<int>(i) - margin_) / grid_.cell, 0, grid_.columns - 1);
                under = (distance < 0) == darker(patch_at(seam - 1, column, 2), patch_at(seam, column, 0));
            }
            press(form, i, distance, under, firm[i]);
        }
    }
}

void Relief::inner_seams(int row, int y, Form& form) const {
    const double local = y - row * grid_.cell + 0.5;
    for (int column = 0; column < grid_.columns; ++column) {
        const auto cell = static_cast<std::size_t>(row) * static_cast<std::size_t>(grid_.columns) +
                          static_cast<std::size_t>(column);
        for (const Inner& seam : inner_[layout_.assignment.turns[cell] & 3]) {
            const double dx = seam.to.x - seam.from.x, dy = seam.to.y - seam.from.y;
            const double length = std::sqrt(dx * dx + dy * dy);
            const std::size_t first = cell * static_cast<std::size_t>(grid_.patches);
            const bool right_under = darker(first + static_cast<std::size_t>(seam.right),
                                            first + static_cast<std::size_t>(seam.left));
            const float firm = 0.85f + 0.12f * firm_.at(column * 37.0 * grid_.ppi, y + 7.0 * grid_.ppi);
            int from = 0, to = grid_.cell;
            if (dy != 0) {
                const double middle = seam.from.x + (local - seam.from.y) * dx / dy;
                const double wide = reach_ * length / std::abs(dy);
                from = std::clamp(static_cast<int>(middle - wide), 0, grid_.cell);
                to = std::clamp(static_cast<int>(middle + wide) + 1, 0, grid_.cell);
            }
            for (int x = from; x < to; ++x) {
                const double px = x + 0.5 - seam.from.x, py = local - seam.from.y;
                const double along = (px * dx + py * dy) / length;
                const double past = along < 0 ? -along : std::max(0.0, along - length);
                const double aside =
                    (px * dy - py * dx) / length; // Negative to the right of the walk, seen with y down.
                const double distance = std::sqrt(aside * aside + past * past);
                if (distance > reach_) continue;
                press(form, static_cast<std::size_t>(column * grid_.cell + x + margin_), distance,
                      (aside < 0) == right_under, firm);
            }
        }
    }
}

void Relief::form(int y, Form& form) const {
    const auto count = static_cast<std::size_t>(grid_.width() + 2 * margin_);
    form.height.assign(count, 0.0f);
    form.narrow.assign(count, 1.0f);
    form.broad.assign(count, 1.0f);
    form.lifted.assign(count, 1.0f);
    const int row = std::clamp(y < 0 ? 0 : y / grid_.cell, 0, grid_.rows - 1);
    column_seams(row, y, form);
    row_seams(row, y, form);
    inner_seams(row, y, form);
    pucker_.add_row(-margin_, y, 0.0022f, form.height);
    drape_.add_row(-margin_, y, 0.020f, form.height);
    for (std::size_t i = 0; i < count; ++i)
        form.height[i] += narrow_depth * form.narrow[i] + broad_depth * form.broad[i] +
                          allowance_lift * (1 - form.lifted[i]);
}

void Relief::rows(int y, int count, std::span<float> light) const {
    std::array<Form, 3> forms; // Rows y - 1, y, y + 1 in turn.
    form(y - 1, forms[0]);
    form(y, forms[1]);
    // Rising towards lower right faces the light. Two pixels of the diagonal are 2 sqrt 2 / ppi inches.
    const auto to_slope = static_cast<float>(grid_.ppi / (2 * std::sqrt(2.0)));
    const std::size_t width = light.size() / static_cast<std::size_t>(count);
    for (int k = 0; k < count; ++k) {
        const auto turn = static_cast<std::size_t>(k);
        const Form &above = forms[turn % 3], &here = forms[(turn + 1) % 3];
        Form& below = forms[(turn + 2) % 3];
        form(y + k + 1, below);
        float* out = &light[turn * width];
        for (std::size_t i = 0; i < width; ++i) {
            const std::size_t before = i > 0 ? i - 1 : i, after = i + 1 < width ? i + 1 : i;
            const float slope = (below.height[after] - above.height[before]) * to_slope;
            const float open = 1 - narrow_shadow * (1 - here.narrow[i]) - broad_shadow * (1 - here.broad[i]);
            out[i] = open * (1 + tilt * std::clamp(slope, -0.25f, 0.25f));
        }
    }
}

} // namespace motley::render
