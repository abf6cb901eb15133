#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/cloth.h"
#include "render/crew.h"
#include "render/hang.h"
#include "render/patchwork.h"
#include "render/relief.h"
#include "render/tone.h"

namespace motley::render {

namespace {

/// How much of a soft-edged strip from 0 to `length`, its edges `soft` pixels wide, lies at `at`.
float within(double at, double length, double soft) {
    const auto rise = [soft](double x) {
        const double u = std::clamp(x / soft + 0.5, 0.0, 1.0);
        return u * u * (3 - 2 * u);
    };
    return static_cast<float>(rise(at) * rise(length - at));
}

/// What is left of the wall's light at a place beside the top: a wide soft shadow below right, a close one at
/// the edge.
struct Shadow {
    double width = 0, height = 0, unit = 0;

    float light(double x, double y) const {
        const double far = unit * 0.5, wide = unit * 1.7;
        const float soft = within(x - far, width, wide) * within(y - far, height, wide);
        const float close =
            within(x - unit * 0.1, width, unit * 0.3) * within(y - unit * 0.12, height, unit * 0.3);
        return (1 - 0.26f * soft) * (1 - 0.30f * close);
    }
};

/// How much of a pixel the top covers, its outer edge as cut.
float cover(const Grid& grid, const Hand& hand, int x, int y) {
    const auto inside = [](float depth) { return std::clamp(depth, 0.0f, 1.0f); };
    if (x > 2 && y > 2 && x < grid.width() - 3 && y < grid.height() - 3) return 1;
    return inside(static_cast<float>(x + 1) - hand.column_seam(0, 0, y)) *
           inside(static_cast<float>(grid.width() - x) + hand.column_seam(grid.columns, 0, y)) *
           inside(static_cast<float>(y + 1) - hand.row_seam(0, x)) *
           inside(static_cast<float>(grid.height() - y) + hand.row_seam(grid.rows, x));
}

} // namespace

Bolts unroll_to_hang(std::span<const layout::Layout> layouts, const std::vector<Cloth>& cloths,
                     const Grid& grid, int threads) {
    return unroll(layouts, cloths, grid, Hand::careful(0, grid).reach(), threads);
}

photo::Raster hang(const layout::Layout& layout, const Grid& grid, const Bolts& bolts, int margin,
                   int threads) {
    const Hand hand = Hand::careful(layout.seed, grid);
    const int beyond = hand.reach();
    const Patchwork patchwork(layout, grid, bolts, hand);
    const Relief relief(layout, grid, hand, beyond);
    const int width = grid.width() + 2 * margin, height = grid.height() + 2 * margin;
    photo::Raster picture{
        width, height, 3,
        std::vector<std::uint8_t>(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3)};
    const Shadow shadow{static_cast<double>(grid.width()), static_cast<double>(grid.height()),
                        0.022 * std::max(grid.width(), grid.height())};
    const Tones& tone = tones();
    constexpr int band = 24;
    share_out(threads, (height + band - 1) / band, [&](int part) {
        const int from = part * band, to = std::min(from + band, height);
        const int first = std::max(from - margin, -beyond),
                  last = std::min(to - margin, grid.height() + beyond);
        const auto across = static_cast<std::size_t>(grid.width() + 2 * beyond);
        std::vector<float> cloth(across * 3),
            light(last > first ? static_cast<std::size_t>(last - first) * across : 0);
        if (last > first) relief.rows(first, last - first, light);
        for (int line = from; line < to; ++line) {
            const int y = line - margin;
            const bool top = y >= first && y < last;
            if (top) patchwork.row(y, cloth);
            const float* lit = top ? &light[static_cast<std::size_t>(y - first) * across] : nullptr;
            std::uint8_t* out =
                &picture.pixels[static_cast<std::size_t>(line) * static_cast<std::size_t>(width) * 3];
            for (int x = -margin; x < width - margin; ++x) {
                const bool on = top && x >= -beyond && x < grid.width() + beyond;
                const float covered = on ? cover(grid, hand, x, y) : 0.0f;
                const float on_wall = covered < 1 ? shadow.light(x + 0.5, y + 0.5) * (1 - covered) : 0.0f;
                for (std::size_t c = 0; c < 3; ++c) {
                    float value = wall_light[c] * on_wall;
                    if (covered > 0) {
                        const auto i = static_cast<std::size_t>(x + beyond);
                        value += covered * lit[i] * cloth[i * 3 + c];
                    }
                    *out++ = tone.code(value);
                }
            }
        }
    });
    return picture;
}

double pixels_per_inch(const layout::Layout& layout, const Options& options) {
    return make_grid(layout, options.longest_side).ppi;
}

int detail_needed(const layout::Plan& plan, measure::Length width, double shape, const Options& options) {
    const double across = width.in_inches() * make_grid(plan, options.longest_side).ppi;
    return static_cast<int>(std::clamp(2 * across * std::max(1.0, shape), 64.0, 4096.0));
}

photo::Raster draw_preview(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                           const Options& options) {
    const Grid grid = make_grid(layout, options.longest_side);
    const int margin = std::max(8, std::max(grid.width(), grid.height()) / 20);
    return hang(layout, grid, unroll_to_hang({&layout, 1}, cloths, grid, options.threads), margin,
                options.threads);
}

} // namespace motley::render
