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
    const double end = x0 + static_cast<double>(out.size());
    const auto count = static_cast<std::size_t>(std::floor(end / across_) - std::floor(x0 / across_)) + 4;
    std::vector<float> knots(count);
    for (std::size_t k = 0; k < count; ++k) {
        const std::int64_t column = first + static_cast<std::int64_t>(k) - 1;
        for (std::size_t r = 0; r < 4; ++r)
            knots[k] += down[r] * knot(column, row + static_cast<std::int64_t>(r) - 1);
        knots[k] *= amplitude * to_unit_deviation;
    }
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double u = (x0 + static_cast<double>(i)) / across_ - static_cast<double>(first);
        const auto k = static_cast<std::size_t>(u);
        const std::array<float, 4> w = weights(static_cast<float>(u - static_cast<double>(k)));
        out[i] += w[0] * knots[k] + w[1] * knots[k + 1] + w[2] * knots[k + 2] + w[3] * knots[k + 3];
    }
}

float Ripple::at(double x, double y) const {
    float height = 0;
    add_row(x, y, 1, {&height, 1});
    return height;
}

} // namespace motley::render
