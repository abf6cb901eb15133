#pragma once
/// The one shape that each pixel of a map shows.

#include <span>
#include <vector>

#include "render/bands.h"
#include "render/draft.h"

namespace motley::render {

/// A line between two shapes takes from each row (a flat one: column) of pixels as many whole ones as lie to
/// each side of it, the fraction going by turns one way or the other (by the golden section, so that areas
/// come out right however lines and pixels fall; where the line runs through the middle of the pixel, to the
/// two sides alternately). May be read from several threads.
class Owners {
public:
    /// A pixel that a seam runs through could as well be another shape's.
    struct Doubt {
        int x = 0, other = 0;
        double depth = 0; ///< Of the pixel's middle in the other shape, (-1/2, ...).
    };

    explicit Owners(const Draft& draft);

    /// Numbers of shapes for row y, [0, scale().height), one for each of scale().width pixels.
    /// `doubts`, where not null, gets those of the row, from left to right.
    void row(int y, std::span<int> out, std::vector<Doubt>* doubts = nullptr) const;

private:
    const Draft& draft_;
    Bands bands_;
};

} // namespace motley::render
