#pragma once
/// Three-by-three matrices between sets of primaries. Internal to `photo`.

#include <array>

namespace motley::photo {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>; ///< Rows.

inline constexpr Matrix identity{Triple{1, 0, 0}, Triple{0, 1, 0}, Triple{0, 0, 1}};

/// CIE xy of the three primaries and of white.
struct Chromaticities {
    double red_x, red_y, green_x, green_y, blue_x, blue_y, white_x, white_y;
};

/// IEC 61966-2-1.
inline constexpr Chromaticities srgb_primaries{0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.3127, 0.3290};

Triple apply(const Matrix& matrix, const Triple& vector);
Matrix multiply(const Matrix& left, const Matrix& right);
/// Expects a matrix that can be inverted; see `invertible`.
Matrix inverse(const Matrix& matrix);
bool invertible(const Matrix& matrix);

/// From light of the given primaries to CIE XYZ in which its own white has Y = 1. Expects `usable`.
Matrix xyz_from(const Chromaticities& primaries);
/// False for primaries on one line, or a y of 0, as damaged files have them.
bool usable(const Chromaticities& primaries);

/// From light of the given primaries to linear sRGB, white to white by Bradford's method. Expects `usable`.
Matrix linear_srgb_from(const Chromaticities& primaries);
/// From XYZ as ICC profiles have it (white D50 = 0.9642, 1, 0.8249; ICC.1:2010, 7.2.16) to linear sRGB.
Matrix linear_srgb_from_icc_xyz();

} // namespace motley::photo
