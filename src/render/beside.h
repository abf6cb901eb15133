#pragma once
/// How well a cloth goes on beside a copy of itself: one copy at the left, the next one laid over its right
/// edge and joined along the cut of least difference.

#include <cstdint>
#include <vector>

#include "render/dyes.h"
#include "render/match.h"

namespace motley::render {

/// From one copy of a cloth to the next, pixels.
struct Step {
    int x = 0, y = 0;
    bool operator==(const Step&) const = default;
};

/// Each 0 at best and about 1 for places that have nothing to do with each other.
struct Fit {
    double join = 0;    ///< Root mean square difference along the cut, over what two places of the cloth
                        ///< differ by.
    double overlap = 0; ///< The same, squared, over the whole overlap: low only in step with the print.
    double drift = 0;   ///< Share of the dyes' areas that the copies together show wrongly, [0, 1].
};

/// The cloth seen coarse to fine. Level l is reduced 2^l times.
class Beside {
public:
    Beside(std::vector<Codes> levels, Dyes coarse_dyes, double contrast);

    int top() const { return static_cast<int>(levels_.size()) - 1; }
    int width(int level) const { return levels_[static_cast<std::size_t>(level)].width; }
    int height(int level) const { return levels_[static_cast<std::size_t>(level)].height; }

    /// Expects 0 < step.x < width and |step.y| < height.
    double overlap(int level, Step step) const;
    double join(int level, Step step) const;
    /// At the coarsest level; `drift` is known there only.
    Fit fit(Step step) const;

private:
    Line line(int level, int x, int y) const;
    std::vector<int> cut(int level, Step step, double* cost) const;
    double drift(Step step, const std::vector<int>& cut) const;

    std::vector<Codes> levels_;
    std::vector<std::vector<float>> outlines_; ///< By level.
    double contrast_;                          ///< Mean squared difference of two places taken at random.
    std::vector<int> before_;                  ///< [dye][y][x] places of a dye left of x in row y.
    std::vector<int> all_;                     ///< [dye] places in all.
};

} // namespace motley::render
