#pragma once
/// What a blurred edge between two colours looks like.

#include <array>

#include "swatch/tally.h"

namespace motley::swatch {

/// The colours between two dyes. Light mixes linearly, so they lie on a curve in OKLab; a photo that was
/// blurred or scaled after its coding has them on the straight line instead. Both are known here.
class Mixture {
public:
    Mixture(const Tone& one, const Tone& other);

    /// How far a colour is from the nearest mixture, and the share of `other` in that, [0, 1].
    struct Fit {
        float distance = 0, share = 0;
    };
    Fit fit(const Tone& tone) const;

private:
    static constexpr std::size_t steps = 6;
    std::array<Tone, steps + 1> curve_;
    std::array<float, steps + 1> share_;
};

} // namespace motley::swatch
