#pragma once
/// The hand of the sewer: where the top really lies, a hair off the ruled lines.

#include <cstdint>
#include <span>

#include "render/ripple.h"
#include "render/scale.h"

namespace motley::render {

/// A smooth drift of the whole plane: seams wander, and whatever meets on paper still meets.
class Hand {
public:
    /// `sway` is how far a seam may be off, pixels; 0 rules every line. `pace` is how fast it wanders,
    /// pixels.
    Hand(std::uint64_t seed, double sway, double pace);

    static Hand steady() { return Hand(0, 0, 1); }
    /// As a careful quilter sews: within 1/32 in and 1.5 pixels.
    static Hand careful(std::uint64_t seed, const Scale& scale);

    /// How far what is seen in the pixels (x0 + i, y) lies to the right of and below them on paper.
    void drift(int x0, int y, std::span<float> right, std::span<float> below) const;
    /// The farthest anything is off.
    double reach() const;

private:
    Ripple right_, below_;
    double sway_;
};

} // namespace motley::render
