#pragma once
/// What light and camera did to colours, from things in the picture whose colour is known. Internal to
/// `scene`.

#include <array>
#include <cstddef>
#include <vector>

#include "scene/view.h"

namespace motley::scene {

/// Something whose colour is known.
struct Known {
    Point at;               ///< In the picture, [-1, 1] each way.
    Rgb seen{};             ///< Linear sRGB as the file says.
    double reflectance = 1; ///< Grey; plain paper is 1.
    double weight = 1;
};

/// seen = tone(light(place) * reflectance), channel by channel: the logarithm of the light is a polynomial of
/// third degree over the picture, one for each channel; the tone curve is one for all three, the logarithm of
/// its inverse being log(seen) + a cubic spline over the sRGB code value.
class Light {
public:
    static constexpr std::size_t terms = 10; ///< 1, u, v, u^2, uv, v^2, u^3, u^2 v, u v^2, v^3.
    static constexpr std::size_t knots = 9;

    Rgb reflectance(const Rgb& seen, const Point& at) const; ///< Plain paper is 1.
    Rgb field(const Point& at) const;                        ///< Light on plain paper, after the tone curve.
    double straightened(double seen) const;                  ///< The tone curve taken out of one channel.

    std::array<std::array<double, terms>, 3> field_terms{};
    std::array<double, knots> tone{}; ///< All 0: no tone curve.
    void tabulate();                  ///< To be called when `tone` was set.
    double spread = 0;                ///< What is left unexplained of the logarithms, robustly.

    static std::array<double, terms> powers(const Point& at);

private:
    std::vector<double> gain_; ///< What light is multiplied by, over its square root in even steps; empty: 1.
};

struct LightTask {
    int degree = 2;               ///< Of the field, [0, 3].
    bool tone = false;            ///< Look for a tone curve; needs greys.
    const Light* start = nullptr; ///< What the light is like, roughly; must outlive the call.
};

/// In least squares with Geman-McClure weights, what is darker than the rest weighing less still: a shadow
/// over a part of the paper has no say. Expects ten or more known colours.
Light find_light(const std::vector<Known>& known, const LightTask& task);

} // namespace motley::scene
