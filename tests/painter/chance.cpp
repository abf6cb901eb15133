#include "painter/chance.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "fault/fault.h"

namespace motley::painter {

std::uint64_t scramble(std::uint64_t number) {
    number += 0x9e3779b97f4a7c15ULL;
    number = (number ^ (number >> 30)) * 0xbf58476d1ce4e5b9ULL;
    number = (number ^ (number >> 27)) * 0x94d049bb133111ebULL;
    return number ^ (number >> 31);
}

std::uint64_t mixed(std::uint64_t seed, std::uint64_t salt) {
    return scramble(scramble(seed) ^ (salt * 0xd1342543de82ef95ULL));
}

std::uint64_t Chance::next() {
    return scramble(state_++);
}

double Chance::unit() {
    return static_cast<double>(next() >> 11) * 0x1.0p-53;
}

double Chance::between(double low, double high) {
    return low + (high - low) * unit();
}

double Chance::around(double mean, double spread) {
    return mean + spread * (2.0 / 3.0 * (unit() + unit() + unit()) - 1.0);
}

int Chance::below(int count) {
    expects(count >= 1);
    return std::min(count - 1, static_cast<int>(unit() * count));
}

namespace {

constexpr double diagonal = 0.70710678118654752;
constexpr double steep = 0.92387953251128674;
constexpr double flat = 0.38268343236508978;
constexpr std::array<std::array<double, 2>, 16> slopes{{{1, 0},
                                                        {steep, flat},
                                                        {diagonal, diagonal},
                                                        {flat, steep},
                                                        {0, 1},
                                                        {-flat, steep},
                                                        {-diagonal, diagonal},
                                                        {-steep, flat},
                                                        {-1, 0},
                                                        {-steep, -flat},
                                                        {-diagonal, -diagonal},
                                                        {-flat, -steep},
                                                        {0, -1},
                                                        {flat, -steep},
                                                        {diagonal, -diagonal},
                                                        {steep, -flat}}};

double corner(std::uint64_t seed, std::int64_t i, std::int64_t j, double dx, double dy) {
    const std::uint64_t place = static_cast<std::uint64_t>(i) * 0x9e3779b97f4a7c15ULL ^
                                static_cast<std::uint64_t>(j) * 0xc2b2ae3d27d4eb4fULL;
    const auto& slope = slopes[scramble(seed ^ place) >> 60];
    return slope[0] * dx + slope[1] * dy;
}

double fade(double t) {
    return t * t * t * (t * (t * 6 - 15) + 10);
}

} // namespace

double noise(std::uint64_t seed, double x, double y) {
    // floor() without a call: the compiler may not assume the instruction for it.
    const auto i = static_cast<std::int64_t>(x) - (x < 0 ? 1 : 0),
               j = static_cast<std::int64_t>(y) - (y < 0 ? 1 : 0);
    const double left = static_cast<double>(i), top = static_cast<double>(j);
    const double dx = x - left, dy = y - top, u = fade(dx), v = fade(dy);
    const double above = std::lerp(corner(seed, i, j, dx, dy), corner(seed, i + 1, j, dx - 1, dy), u);
    const double below =
        std::lerp(corner(seed, i, j + 1, dx, dy - 1), corner(seed, i + 1, j + 1, dx - 1, dy - 1), u);
    return 1.5 * std::lerp(above, below, v);
}

Field::Field(std::uint64_t seed, double width, double height, double feature, int octaves)
    : spacing_(feature / (5.0 * std::ldexp(1.0, octaves - 1))),
      columns_(static_cast<int>(std::ceil(width / spacing_)) + 2),
      rows_(static_cast<int>(std::ceil(height / spacing_)) + 2),
      nodes_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {
    const double total = 2.0 - std::ldexp(1.0, 1 - octaves);
    for (int octave = 0; octave < octaves; ++octave) {
        const double finer = std::ldexp(1.0, octave) * spacing_ / feature,
                     share = std::ldexp(1.0, -octave) / total;
        const std::uint64_t own = mixed(seed, static_cast<std::uint64_t>(octave));
        std::size_t node = 0;
        for (int j = 0; j < rows_; ++j) {
            for (int i = 0; i < columns_; ++i)
                nodes_[node++] += static_cast<float>(share * noise(own, i * finer, j * finer));
        }
    }
}

double Field::at(double x, double y) const {
    float value = 0;
    row(y, x, 0, {&value, 1});
    return value;
}

void Field::row(double y, double x0, double step, std::span<float> out) const {
    const double down = std::clamp(y / spacing_, 0.0, rows_ - 1.001);
    const auto j = static_cast<std::size_t>(down);
    const auto v = static_cast<float>(down - static_cast<double>(j));
    const float* above = nodes_.data() + j * static_cast<std::size_t>(columns_);
    const float* below = above + columns_;
    const auto last = static_cast<float>(columns_ - 1.001);
    const auto first = static_cast<float>(x0 / spacing_), stride = static_cast<float>(step / spacing_);
    for (std::size_t k = 0; k < out.size(); ++k) {
        const float along = std::clamp(first + stride * static_cast<float>(k), 0.0F, last);
        const auto i = static_cast<std::size_t>(along);
        const float u = along - static_cast<float>(i);
        const float upper = above[i] + u * (above[i + 1] - above[i]);
        const float lower = below[i] + u * (below[i + 1] - below[i]);
        out[k] = upper + v * (lower - upper);
    }
}

} // namespace motley::painter
