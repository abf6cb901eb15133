#pragma once
/// The hand of the sewer: where the seams really run, a hair off the ruled line.

#include <cstdint>

#include "render/grid.h"
#include "render/ripple.h"

namespace motley::render {

/// Rows are sewn together last, so a seam between rows runs through; seams between columns start anew in
/// every row and need not quite meet.
class Hand {
public:
    /// `sway` is how far a seam may be off, pixels; 0 rules every line. `pace` is how fast it wanders,
    /// pixels.
    Hand(std::uint64_t seed, double sway, double pace);

    static Hand steady() { return Hand(0, 0, 1); }
    /// As a careful quilter sews: within 1/32 in and 1.5 pixels.
    static Hand careful(std::uint64_t seed, const Grid& grid);

    /// How far the seam left of `column` is to the right of its line, in row `row` of the top at pixel row y.
    float column_seam(int column, int row, double y) const;
    /// How far the seam above `row` is below its line, at pixel column x.
    float row_seam(int row, double x) const;
    /// The widest a seam may be off, whole pixels.
    int reach() const;

private:
    float off(double line, double along) const;

    Ripple ripple_;
    double sway_;
    double pace_;
};

} // namespace motley::render
