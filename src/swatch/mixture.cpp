#include "swatch/mixture.h"

#include <algorithm>
#include <cmath>

namespace motley::swatch {
namespace {

// Squared distance from the segment, and where on it, [0, 1].
struct Foot {
    float square = 0, where = 0;
};

Foot foot(const Tone& tone, const Tone& from, const Tone& to) {
    const Tone along = to - from, out = tone - from;
    const float length = dot(along, along);
    const float where = length > 0 ? std::clamp(dot(out, along) / length, 0.0F, 1.0F) : 0.0F;
    const Tone rest = out - along * where;
    return {dot(rest, rest), where};
}

} // namespace

Mixture::Mixture(const Tone& one, const Tone& other) {
    const colour::LinearRgb from = light_of(one), to = light_of(other);
    const double dark = double{one.l}, step = double{other.l} - dark;
    const double dark_cube = dark * dark * dark, span = std::pow(dark + step, 3.0) - dark_cube;
    for (std::size_t i = 0; i <= steps; ++i) {
        const double even = static_cast<double>(i) / steps;
        // Even steps of lightness, so that the curve's dark end is not skipped over.
        double share = even;
        if (std::abs(step) > 0.05)
            share = std::clamp((std::pow(dark + even * step, 3.0) - dark_cube) / span, 0.0, 1.0);
        curve_[i] = tone_of({from.r + share * (to.r - from.r), from.g + share * (to.g - from.g),
                             from.b + share * (to.b - from.b)});
        share_[i] = static_cast<float>(share);
    }
}

Mixture::Fit Mixture::fit(const Tone& tone) const {
    Foot best = foot(tone, curve_[0], curve_[1]);
    float share = best.where * share_[1];
    for (std::size_t i = 1; i < steps; ++i) {
        const Foot next = foot(tone, curve_[i], curve_[i + 1]);
        if (next.square >= best.square) continue;
        best = next;
        share = share_[i] + next.where * (share_[i + 1] - share_[i]);
    }
    // Light mixes linearly unless the colour is clearly on the straight line.
    const Foot straight = foot(tone, curve_.front(), curve_.back());
    if (straight.square < 0.25F * best.square) return {std::sqrt(straight.square), straight.where};
    return {std::sqrt(best.square), share};
}

} // namespace motley::swatch
