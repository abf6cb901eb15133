#pragma once
/// How much of a cloth has which colour: a fine grid over OKLab.

#include <array>
#include <cstdint>
#include <vector>

#include "swatch/cloth.h"

namespace motley::swatch {

/// A colour in OKLab, a and b doubled (`chroma_scale`), or a step between two.
struct Tone {
    float l = 0, a = 0, b = 0;

    Tone operator+(const Tone& other) const { return {l + other.l, a + other.a, b + other.b}; }
    Tone operator-(const Tone& other) const { return {l - other.l, a - other.a, b - other.b}; }
    Tone operator*(float factor) const { return {l * factor, a * factor, b * factor}; }
};

inline float dot(const Tone& one, const Tone& other) {
    return one.l * other.l + one.a * other.a + one.b * other.b;
}
float distance(const Tone& one, const Tone& other);
colour::LinearRgb light_of(const Tone& tone);
Tone tone_of(colour::LinearRgb light);

/// Pixels of nearly one colour.
struct Cell {
    Tone tone;      ///< Their mean.
    float flat = 0; ///< Pixels inside a figure or the ground.
    float edge =
        0; ///< Pixels where the colour changes: mixed by the lens, or too small a figure to have an inside.
    std::array<int, 26> near{}; ///< The cells around it; -1 where there is none.

    float pixels() const { return flat + edge; }
};

struct Tally {
    std::vector<Cell> cells; ///< In an order that depends on the cloth alone.
    float pixels = 0;        ///< All of them.
};

/// Side of a cell.
inline constexpr float cell_side = 0.0125F;

Tally tally(const Cloth& cloth);

} // namespace motley::swatch
