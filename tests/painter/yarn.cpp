// The yarns of a plain weave: over one, under one. sin(pi u) sin(pi v), u and v counted in threads, is
// positive where the warp lies on top and negative where the weft does; its square is the roundness of each
// yarn. Both are free of sharp edges, so that pixels coarser than a thread show no false pattern.
#include <algorithm>
#include <array>
#include <cmath>

#include "painter/canvas.h"

namespace motley::painter {
namespace {

/// sin(pi t), from a table: two for every pixel are needed.
class HalfTurns {
public:
    HalfTurns() {
        for (std::size_t k = 0; k < size; ++k)
            table_[k] = static_cast<float>(std::sin(2 * pi * static_cast<double>(k) / size));
    }
    float sine(float halves) const {
        const auto k = static_cast<std::int32_t>(halves * (size / 2) + 0.5F);
        return table_[static_cast<std::size_t>(k) & (size - 1)];
    }

private:
    static constexpr std::size_t size = 4096;
    std::array<float, size> table_;
};

/// How much lighter or darker each yarn is along its way: spinning is never even, and a few yarns are thick.
class Yarns {
public:
    static constexpr double pace = 0.35; // Inches between one thickness and the next.

    Yarns(std::uint64_t seed, int count, double way)
        : knots_(static_cast<std::size_t>(way / pace) + 3),
          shades_(static_cast<std::size_t>(count) * knots_) {
        for (std::size_t yarn = 0; yarn < static_cast<std::size_t>(count); ++yarn) {
            Chance chance(mixed(seed, yarn));
            const double own = chance.around(0, 0.5), rough = chance.odds(0.04) ? 2.2 : 0.8;
            for (std::size_t k = 0; k < knots_; ++k) {
                shades_[yarn * knots_ + k] = static_cast<float>(own + chance.around(0, rough));
            }
        }
    }

    float shade(int yarn, float along) const {
        const auto k = static_cast<std::size_t>(along);
        const float* shades = shades_.data() + static_cast<std::size_t>(yarn) * knots_ + k;
        return shades[0] + (along - static_cast<float>(k)) * (shades[1] - shades[0]);
    }

private:
    std::size_t knots_;
    std::vector<float> shades_;
};

} // namespace

void Canvas::weave(const Weave& weave) {
    static const HalfTurns turns;
    const double threads = weave.threads;
    const auto crossing = static_cast<float>(crossing_seen(threads, pixels_per_inch_) * weave.relief);
    const auto round =
        static_cast<float>(std::clamp((pixels_per_inch_ / threads - 2.0) / 1.2, 0.0, 1.0) * weave.relief);
    const auto uneven =
        static_cast<float>(0.055 * weave.relief * std::clamp(pixels_per_inch_ / threads / 2.5, 0.3, 1.0));
    constexpr int spare = 4; // Threads beyond each border, because yarns wander.
    const Field wander_u(mixed(seed_, 7), width(), height(), 0.9, 3),
        wander_v(mixed(seed_, 8), width(), height(), 0.9, 3);
    const int across = static_cast<int>(width() * threads) + 2 * spare,
              along = static_cast<int>(height() * threads) + 2 * spare;
    const Yarns warp(mixed(seed_, 9), across, height()), weft(mixed(seed_, 10), along, width());

    const auto columns = static_cast<std::size_t>(picture_.width);
    each_row(picture_.height, [&](int row) {
        std::vector<float> du(columns), dv(columns);
        const double y = (row + 0.5) / pixels_per_inch_, step = 1 / pixels_per_inch_;
        wander_u.row(y, step / 2, step, du);
        wander_v.row(y, step / 2, step, dv);
        const auto down = static_cast<float>(y * threads) + spare,
                   pace_down = static_cast<float>(y / Yarns::pace);
        const auto stride = static_cast<float>(step * threads), pace = static_cast<float>(step / Yarns::pace);
        float* pixels = picture_.pixels.data() + 3 * static_cast<std::size_t>(row) * columns;
        for (std::size_t k = 0; k < columns; ++k, pixels += 3) {
            const float place = static_cast<float>(k) + 0.5F;
            const float u = place * stride + spare + 1.4F * du[k], v = down + 1.4F * dv[k];
            const float over = turns.sine(u) * turns.sine(v);
            const int i = std::clamp(static_cast<int>(u), 0, across - 1),
                      j = std::clamp(static_cast<int>(v), 0, along - 1);
            const float lean = 0.5F + 0.5F * over; // How much of the warp is seen here.
            const float yarn = lean * warp.shade(i, pace_down) + (1 - lean) * weft.shade(j, place * pace);
            const float light =
                1 + 0.16F * round * (over * over - 0.25F) + 0.05F * crossing * over + uneven * yarn;
            for (std::size_t c = 0; c < 3; ++c) pixels[c] *= light;
        }
    });
}

} // namespace motley::painter
