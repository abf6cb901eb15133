#pragma once
/// Colour spaces as pure mathematics.
/// Units: linear light 1.0 = sRGB white (values outside [0, 1] are colours outside sRGB, and allowed);
/// CIELAB with L* 0 to 100, white point D65. All functions are pure and may be called from any thread.
/// Sources: sRGB transfer and primaries IEC 61966-2-1:1999 (unrounded matrix, white x 0.3127 y 0.3290);
/// CIELAB CIE 15 with e = 216/24389, k = 24389/27; OKLab B. Ottosson 2020.

#include <cstdint>

namespace motley::colour {

/// Linear light, sRGB primaries. Light adds here: averages are taken in this space and in no other.
struct LinearRgb {
    double r = 0, g = 0, b = 0;
};

/// Eight-bit sRGB code values, as in a web colour.
struct Srgb {
    std::uint8_t r = 0, g = 0, b = 0;
    bool operator==(const Srgb&) const = default;
};

/// CIELAB, D65.
struct Lab {
    double l = 0, a = 0, b = 0;
};

/// OKLab: l in [0, 1].
struct Oklab {
    double l = 0, a = 0, b = 0;
};

double decode(double code);  ///< sRGB code value [0, 1] to linear light; odd-symmetric below 0.
double encode(double light); ///< Linear light to sRGB code value; odd-symmetric below 0.

LinearRgb linear(Srgb srgb);
LinearRgb linear(Oklab oklab);
LinearRgb linear(Lab lab);  ///< May lie outside [0, 1].
Srgb srgb(LinearRgb light); ///< Clipped to the sRGB gamut, rounded to nearest.
Lab lab(LinearRgb light);
Oklab oklab(LinearRgb light);

double luminance(LinearRgb light);      ///< CIE Y, white = 1; negative is clipped to 0.
double lightness(LinearRgb light);      ///< L* of the luminance, [0, 100] inside the gamut.
double lightness_of(double luminance);  ///< L* of a CIE Y.
double luminance_of(double lightness);  ///< The inverse.
std::uint8_t grey_of(double lightness); ///< The sRGB grey code value whose L* is nearest.

/// Hue angle in degrees [0, 360) and chroma of a Lab colour.
double hue(Lab lab);
double chroma(Lab lab);

} // namespace motley::colour
