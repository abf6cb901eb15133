#pragma once
/// Smooth chance over a plane: the unevenness of things made by hand.

#include <cstdint>
#include <span>

namespace motley::render {

/// A cubic B-spline through random heights on a grid: twice differentiable, mean 0, standard deviation
/// about 1.
class Ripple {
public:
    /// `across` and `down` are the grid's steps: about half a wave length. Expects both > 0.
    Ripple(std::uint64_t seed, double across, double down);

    /// Adds amplitude * height at (x0 + i, y) to out[i].
    void add_row(double x0, double y, float amplitude, std::span<float> out) const;

    /// The height at one place.
    float at(double x, double y) const;

private:
    float knot(std::int64_t column, std::int64_t row) const;

    std::uint64_t seed_;
    double across_, down_;
};

} // namespace motley::render
