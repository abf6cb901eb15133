#include "photo/matrix.h"

#include <cmath>

#include "fault/fault.h"

namespace motley::photo {

namespace {

constexpr Triple icc_white{0.9642, 1.0, 0.8249};

double determinant(const Matrix& m) {
    return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
           m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
           m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

Triple xyz_of(double x, double y) {
    return {x / y, 1.0, (1.0 - x - y) / y};
}

/// The linearised Bradford cone responses (ICC.1:2010, annex E).
constexpr Matrix bradford{Triple{0.8951, 0.2664, -0.1614}, Triple{-0.7502, 1.7135, 0.0367},
                          Triple{0.0389, -0.0685, 1.0296}};

Matrix adaptation(const Triple& from, const Triple& to) {
    const Triple a = apply(bradford, from);
    const Triple b = apply(bradford, to);
    const Matrix scale{Triple{b[0] / a[0], 0, 0}, Triple{0, b[1] / a[1], 0}, Triple{0, 0, b[2] / a[2]}};
    return multiply(inverse(bradford), multiply(scale, bradford));
}

Matrix columns_of(const Chromaticities& p) {
    const Triple red = xyz_of(p.red_x, p.red_y);
    const Triple green = xyz_of(p.green_x, p.green_y);
    const Triple blue = xyz_of(p.blue_x, p.blue_y);
    Matrix columns{};
    for (std::size_t i = 0; i < 3; ++i) columns[i] = {red[i], green[i], blue[i]};
    return columns;
}

Matrix srgb_from_xyz() {
    return inverse(xyz_from(srgb_primaries));
}

} // namespace

Triple apply(const Matrix& matrix, const Triple& vector) {
    Triple out{};
    for (std::size_t i = 0; i < 3; ++i) {
        out[i] = matrix[i][0] * vector[0] + matrix[i][1] * vector[1] + matrix[i][2] * vector[2];
    }
    return out;
}

Matrix multiply(const Matrix& left, const Matrix& right) {
    Matrix out{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            out[i][j] = left[i][0] * right[0][j] + left[i][1] * right[1][j] + left[i][2] * right[2][j];
        }
    }
    return out;
}

bool invertible(const Matrix& matrix) {
    const double size = determinant(matrix);
    return std::isfinite(size) && std::abs(size) > 1e-6;
}

Matrix inverse(const Matrix& m) {
    const double d = determinant(m);
    expects(std::abs(d) > 0);
    const auto minor = [&](std::size_t r0, std::size_t r1, std::size_t c0, std::size_t c1) {
        return (m[r0][c0] * m[r1][c1] - m[r0][c1] * m[r1][c0]) / d;
    };
    return {Triple{minor(1, 2, 1, 2), minor(0, 2, 2, 1), minor(0, 1, 1, 2)},
            Triple{minor(1, 2, 2, 0), minor(0, 2, 0, 2), minor(0, 1, 2, 0)},
            Triple{minor(1, 2, 0, 1), minor(0, 2, 1, 0), minor(0, 1, 0, 1)}};
}

Matrix xyz_from(const Chromaticities& primaries) {
    const Matrix columns = columns_of(primaries);
    const Triple scale = apply(inverse(columns), xyz_of(primaries.white_x, primaries.white_y));
    Matrix out = columns;
    for (Triple& row : out) {
        for (std::size_t j = 0; j < 3; ++j) row[j] *= scale[j];
    }
    return out;
}

bool usable(const Chromaticities& p) {
    for (const double y : {p.red_y, p.green_y, p.blue_y, p.white_y}) {
        if (!(y > 1e-3 && y <= 1.0)) return false;
    }
    for (const double x : {p.red_x, p.green_x, p.blue_x, p.white_x}) {
        if (!(x >= 0.0 && x <= 1.0)) return false;
    }
    if (!invertible(columns_of(p))) return false;
    const Triple cones = apply(bradford, xyz_of(p.white_x, p.white_y));
    return cones[0] > 1e-3 && cones[1] > 1e-3 && cones[2] > 1e-3;
}

Matrix linear_srgb_from(const Chromaticities& primaries) {
    const Triple from = xyz_of(primaries.white_x, primaries.white_y);
    const Triple to = xyz_of(srgb_primaries.white_x, srgb_primaries.white_y);
    return multiply(srgb_from_xyz(), multiply(adaptation(from, to), xyz_from(primaries)));
}

Matrix linear_srgb_from_icc_xyz() {
    const Triple to = xyz_of(srgb_primaries.white_x, srgb_primaries.white_y);
    return multiply(srgb_from_xyz(), adaptation(icc_white, to));
}

} // namespace motley::photo
