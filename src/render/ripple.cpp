#include "render/ripple.h"

#include <array>
#include <cmath>
#include <vector>

#include "fault/fault.h"
#include "render/chance.h"

namespace motley::render {

namespace {

/// Weights of the four knots around a place `t` of [0, 1) past the second.
std::array<float, 4> weights(float t) {
    const float s = 1 - t;
    return {s * s * s / 6, (4 - 6 * t * t + 3 * t * t * t) / 6, (4 - 6 * s * s + 3 * s * s * s) / 6,
            t * t * t / 6};
}

/// Knots are uniform in [-1, 1], standard deviation 1/sqrt 3; the spline's weights bring that to 0.277 in the
/// plane on average.
constexpr float to_unit_deviation = 3.6f;

} // namespace

Ripple::Ripple(std::uint64_t seed, double across, double down) : seed_(seed), across_(across), down_(down) {
    expects(across > 0 && down > 0);
}

float Ripple::knot(std::int64_t column, std::int64_t row) const {
    const auto place =
        (static_cast<std::uint64_t>(row) << 32) ^ (static_cast<std::uint64_t>(column) & 0xffffffffu);
    return 2 * share(scrambled(seed_, place)) - 1;
}

void Ripple::add_row(double x0, double y, float amplitude, std::span<float> out) const {
    const double v = y / down_;
    const auto row = static_cast<std::int64_t>(std::floor(v));
    const std::array<float, 4> down = weights(static_cast<float>(v - std::floor(v)));
    const auto first = static_cast<std::int64_t>(std::floor(x0 / across_));
    const double beyond = x0 + static_cast<double>(out.size());
    const auto count = static_cast<std::size_t>(std::floor(beyond / across_) - std::floor(x0 / across_)) + 4;
    std::vector<float> knots(count);
    for (std::size_t k = 0; k < count; ++k) {
        const std::int64_t column = first + static_cast<std::int64_t>(k) - 1;
        for (std::size_t r = 0; r < 4; ++r)
            knots[k] += down[r] * knot(column, row + static_cast<std::int64_t>(r) - 1);
        knots[k] *= amplitude * to_unit_deviation;
    }
    // One cubic between each two knots.
    const auto size = static_cast<int>(out.size());
    int at = 0;
    for (std::size_t k = 0; at < size; ++k) {
        const double begin = (static_cast<double>(first) + static_cast<double>(k)) * across_ - x0;
        const int end = k + 4 < count ? std::min(size, static_cast<int>(std::ceil(begin + across_))) : size;
        const float *knot = &knots[k], step = static_cast<float>(1 / across_);
        const float flat = (knot[0] + 4 * knot[1] + knot[2]) / 6, slope = (knot[2] - knot[0]) / 2,
                    bend = (knot[0] - 2 * knot[1] + knot[2]) / 2,
                    twist = (knot[3] - knot[0] + 3 * (knot[1] - knot[2])) / 6;
        const auto start = static_cast<float>((at - begin) / across_);
        float* to = out.data() + at;
        for (int i = 0; i < end - at; ++i) {
            const float t = start + static_cast<float>(i) * step;
            to[i] += flat + t * (slope + t * (bend + t * twist));
        }
        at = std::max(at, end);
    }
}

float Ripple::at(double x, double y) const {
    float height = 0;
    add_row(x, y, 1, {&height, 1});
    return height;
}

} // namespace motley::render
