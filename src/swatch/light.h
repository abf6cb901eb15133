#pragma once
/// Uneven light: found from the cloth itself and taken out of it.

#include <array>

#include "swatch/cloth.h"

namespace motley::swatch {

/// A smooth field of light, as the logarithm of what it does to OKLab: OKLab is homogeneous, so twice the
/// light multiplies L, a and b alike by the cube root of two. A polynomial of third degree without constant
/// term in u, v, which run from -1 to 1 across the picture.
struct Light {
    static constexpr std::size_t terms = 9;
    std::array<double, terms> weights{}; ///< Of u, v, u^2, uv, v^2, u^3, u^2 v, u v^2, v^3.

    static std::array<double, terms> powers(double u, double v);
    double at(double u, double v) const;
};

/// The light in which pairs of places agree best, first of near ones (up to three seventy-seconds of the
/// picture), then of far ones (up to eleven): pairs of one colour differ by the light alone, pairs of two
/// colours are outliers of either sign, which Geman-McClure weights leave without a say. Even light when
/// there are too few pairs.
Light find_light(const Cloth& cloth);

/// The cloth as it would look under even light of the same mean strength.
void even_out(Cloth& cloth, const Light& light);

} // namespace motley::swatch
