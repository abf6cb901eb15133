#include "colour/space.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace motley::colour {
namespace {

using Matrix = std::array<std::array<double, 3>, 3>;
using Triple = std::array<double, 3>;

// IEC 61966-2-1 primaries and white, unrounded: rows sum to the white point, so greys keep a = b = 0.
constexpr Matrix xyz_from_rgb = {{{.4123907992659593, .357584339383878, .1804807884018343},
                                  {.2126390058715102, .715168678767756, .0721923153607337},
                                  {.0193308187155918, .119194779794626, .9505321522496607}}};
constexpr Triple white = {.3127 / .3290, 1.0, (1.0 - .3127 - .3290) / .3290};

// Ottosson's OKLab for linear sRGB, with the matrices recomputed to full precision (CSS Color 4).
constexpr Matrix lms_from_rgb = {{{.412221469470763, .5363325372617348, .0514459932675022},
                                  {.2119034958178252, .6806995506452344, .1073969535369406},
                                  {.0883024591900564, .2817188391361215, .6299787016738222}}};
constexpr Matrix oklab_from_roots = {{{.210454268309314, .7936177747023054, -.0040720430116193},
                                      {1.9779985324311684, -2.4285922420485799, .450593709617411},
                                      {.0259040424655478, .7827717124575296, -.8086757549230774}}};

constexpr double epsilon = 216.0 / 24389.0; // CIE 15: below this luminance L* is linear.
constexpr double kappa = 24389.0 / 27.0;
constexpr double degrees = 180.0 / std::numbers::pi;

constexpr Matrix inverse(const Matrix& m) {
    Matrix adjugate{};
    for (std::size_t row = 0; row < 3; ++row)
        for (std::size_t column = 0; column < 3; ++column) {
            const std::size_t r1 = (column + 1) % 3, r2 = (column + 2) % 3;
            const std::size_t c1 = (row + 1) % 3, c2 = (row + 2) % 3;
            adjugate[row][column] = m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1];
        }
    const double determinant = m[0][0] * adjugate[0][0] + m[0][1] * adjugate[1][0] + m[0][2] * adjugate[2][0];
    for (auto& row : adjugate)
        for (double& entry : row) entry /= determinant;
    return adjugate;
}
constexpr Matrix rgb_from_xyz = inverse(xyz_from_rgb);
constexpr Matrix rgb_from_lms = inverse(lms_from_rgb);
constexpr Matrix roots_from_oklab = inverse(oklab_from_roots);

constexpr Triple product(const Matrix& m, const Triple& v) {
    return {m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
            m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
            m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2]};
}

double compress(double t) {
    return t > epsilon ? std::cbrt(t) : (kappa * t + 16.0) / 116.0;
}

double expand(double f) {
    const double cube = f * f * f;
    return cube > epsilon ? cube : (116.0 * f - 16.0) / kappa;
}

// A channel that is no number at all becomes 0 rather than undefined behaviour.
std::uint8_t code_of(double light) {
    if (!(light > 0.0)) return 0;
    return static_cast<std::uint8_t>(std::lround(255.0 * encode(std::min(light, 1.0))));
}

} // namespace

double decode(double code) {
    const double size = std::abs(code);
    const double light = size <= 0.04045 ? size / 12.92 : std::pow((size + 0.055) / 1.055, 2.4);
    return std::copysign(light, code);
}

double encode(double light) {
    const double size = std::abs(light);
    const double code = size <= 0.0031308 ? size * 12.92 : 1.055 * std::pow(size, 1.0 / 2.4) - 0.055;
    return std::copysign(code, light);
}

LinearRgb linear(Srgb srgb) {
    static const std::array<double, 256> table = [] {
        std::array<double, 256> light{};
        for (std::size_t code = 0; code < light.size(); ++code)
            light[code] = decode(static_cast<double>(code) / 255.0);
        return light;
    }();
    return {table[srgb.r], table[srgb.g], table[srgb.b]};
}

LinearRgb linear(Lab lab) {
    const double fy = (lab.l + 16.0) / 116.0;
    const Triple xyz = {white[0] * expand(fy + lab.a / 500.0), white[1] * expand(fy),
                        white[2] * expand(fy - lab.b / 200.0)};
    const Triple rgb = product(rgb_from_xyz, xyz);
    return {rgb[0], rgb[1], rgb[2]};
}

LinearRgb linear(Oklab oklab) {
    Triple lms = product(roots_from_oklab, {oklab.l, oklab.a, oklab.b});
    for (double& cone : lms) cone = cone * cone * cone;
    const Triple rgb = product(rgb_from_lms, lms);
    return {rgb[0], rgb[1], rgb[2]};
}

Srgb srgb(LinearRgb light) {
    return {code_of(light.r), code_of(light.g), code_of(light.b)};
}

Lab lab(LinearRgb light) {
    const Triple xyz = product(xyz_from_rgb, {light.r, light.g, light.b});
    const double fx = compress(xyz[0] / white[0]);
    const double fy = compress(xyz[1] / white[1]);
    const double fz = compress(xyz[2] / white[2]);
    return {116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)};
}

Oklab oklab(LinearRgb light) {
    Triple roots = product(lms_from_rgb, {light.r, light.g, light.b});
    for (double& root : roots) root = std::cbrt(root);
    const Triple result = product(oklab_from_roots, roots);
    return {result[0], result[1], result[2]};
}

double luminance(LinearRgb light) {
    const auto& row = xyz_from_rgb[1];
    return std::max(0.0, row[0] * light.r + row[1] * light.g + row[2] * light.b);
}

double lightness(LinearRgb light) {
    return lightness_of(luminance(light));
}

double lightness_of(double luminance) {
    return 116.0 * compress(luminance) - 16.0;
}

double luminance_of(double lightness) {
    return expand((lightness + 16.0) / 116.0);
}

std::uint8_t grey_of(double lightness) {
    // The code whose luminance is nearest need not be the one whose L* is: try its neighbours.
    const double exact = 255.0 * encode(std::clamp(luminance_of(lightness), 0.0, 1.0));
    const double below = std::clamp(std::floor(exact), 0.0, 254.0);
    const double low = lightness_of(decode(below / 255.0));
    const double high = lightness_of(decode((below + 1.0) / 255.0));
    return static_cast<std::uint8_t>(lightness - low <= high - lightness ? below : below + 1.0);
}

double hue(Lab lab) {
    if (lab.a == 0.0 && lab.b == 0.0) return 0.0;
    const double angle = std::atan2(lab.b, lab.a) * degrees;
    // A tiny negative angle plus 360 rounds to 360 itself, which is outside the promised range.
    const double turned = angle < 0.0 ? angle + 360.0 : angle;
    return turned < 360.0 ? turned : 0.0;
}

double chroma(Lab lab) {
    return std::hypot(lab.a, lab.b);
}

} // namespace motley::colour
