#include "swatch/print.h"

#include <cmath>

#include "swatch/checks.h"
#include "swatch/order.h"
#include "swatch/upright.h"

namespace motley::swatch {
namespace {

using Stripes = palette::Print::Stripes;

constexpr double least_contrast = 0.007; // Of OKLab: the weave of a solid stays below.
constexpr double straight = 10;          // Degrees that stripes may lean.
// How far the parts of a cloth must agree that it has an up and a down, and how plain that must be: measured
// on painted cloth. Figures tossed freely stay below 0.17; upright ones that sway by 24 degrees reach 0.2 to
// 0.8.
constexpr double agreement = 0.19, strength = 0.033;
// Where a print repeats every part shows the same, so that little things agree, too: a star's fifth point.
constexpr double ordered_agreement = 0.6, ordered_strength = 0.045;

/// Degrees clockwise from the cloth's length, (-90, 90].
double lean_of(Move band) {
    constexpr double degrees = 57.295779513082320877;
    const double lean = std::atan2(-band.x, band.y) * degrees;
    return lean <= -90 ? lean + 180 : lean;
}

Stripes stripes_of(double lean) {
    if (std::abs(lean) <= straight) return Stripes::along;
    return std::abs(lean) >= 90 - straight ? Stripes::across : Stripes::aslant;
}

} // namespace

palette::Print print_of(const Cloth& cloth, measure::Length width) {
    palette::Print print;
    print.sure = 1;
    const Sketch small = sketch(cloth);
    if (small.width == 0 || std::sqrt(small.contrast()) < least_contrast) return print;
    const Order order = find_order(Echo(small));
    print.sure = order.sure;
    const double inch = width.in_inches() * small.scale / cloth.width;
    for (const Move& step : order.steps) print.repeat.push_back({step.x * inch, step.y * inch});
    if (order.band) {
        print.lean = lean_of(*order.band);
        print.stripes = stripes_of(print.lean);
    } else if (order.steps.size() == 2 && is_checked(small, order.steps[0], order.steps[1])) {
        print.stripes = Stripes::both;
    }
    if (print.stripes == Stripes::none) {
        const Upright upright = upright_of(small);
        const bool ordered = !order.steps.empty();
        print.one_way = upright.agreement >= (ordered ? ordered_agreement : agreement) &&
                        upright.strength >= (ordered ? ordered_strength : strength);
    }
    return rounded(std::move(print));
}

} // namespace motley::swatch
