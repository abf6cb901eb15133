#include "colour/difference.h"

#include <cmath>
#include <numbers>

namespace motley::colour {
namespace {

constexpr double radians = std::numbers::pi / 180.0;

double seventh_power_ratio(double chroma) {
    const double cube = chroma * chroma * chroma;
    const double power = cube * cube * chroma;
    return std::sqrt(power / (power + 6103515625.0)); // 25^7
}

double mean_hue(double h1, double h2) {
    // Opposite hues computed in floating point land on either side of 180 by chance: the tolerance keeps the
    // published branch (and with it the symmetry) for them.
    if (std::abs(h1 - h2) <= 180.0 + 1e-9) return (h1 + h2) / 2.0;
    return h1 + h2 < 360.0 ? (h1 + h2 + 360.0) / 2.0 : (h1 + h2 - 360.0) / 2.0;
}

double hue_step(double h1, double h2) {
    const double step = h2 - h1;
    if (std::abs(step) <= 180.0 + 1e-9) return step;
    return step > 0.0 ? step - 360.0 : step + 360.0;
}

} // namespace

double ciede2000(Lab one, Lab other) {
    const double g = 0.5 * (1.0 - seventh_power_ratio((chroma(one) + chroma(other)) / 2.0));
    one.a *= 1.0 + g;
    other.a *= 1.0 + g;
    const double c1 = chroma(one), c2 = chroma(other);
    const double h1 = hue(one), h2 = hue(other);
    const bool grey = c1 * c2 == 0.0; // A grey has no hue: the other's hue counts.

    const double delta_l = other.l - one.l;
    const double delta_c = c2 - c1;
    const double delta_h = grey ? 0.0 : 2.0 * std::sqrt(c1 * c2) * std::sin(hue_step(h1, h2) / 2.0 * radians);

    const double l = (one.l + other.l) / 2.0;
    const double c = (c1 + c2) / 2.0;
    const double h = grey ? h1 + h2 : mean_hue(h1, h2);

    const double t = 1.0 - 0.17 * std::cos((h - 30.0) * radians) + 0.24 * std::cos(2.0 * h * radians) +
                     0.32 * std::cos((3.0 * h + 6.0) * radians) - 0.20 * std::cos((4.0 * h - 63.0) * radians);
    const double from_middle = (l - 50.0) * (l - 50.0);
    const double s_l = 1.0 + 0.015 * from_middle / std::sqrt(20.0 + from_middle);
    const double s_c = 1.0 + 0.045 * c;
    const double s_h = 1.0 + 0.015 * c * t;
    const double blue = (h - 275.0) / 25.0;
    const double turn = 30.0 * std::exp(-blue * blue);
    const double r_t = -std::sin(2.0 * turn * radians) * 2.0 * seventh_power_ratio(c);

    const double light = delta_l / s_l, vivid = delta_c / s_c, hued = delta_h / s_h;
    return std::sqrt(std::fmax(0.0, light * light + vivid * vivid + hued * hued + r_t * vivid * hued));
}

} // namespace motley::colour
