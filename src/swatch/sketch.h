#pragma once
/// A cloth in few pixels, for looking at the order of its print.

#include <vector>

#include "swatch/cloth.h"

namespace motley::swatch {

/// At most `most` pixels to a side: averages of OKLab (a and b doubled) over twice
/// two such pixels, less the mean of the cloth.
struct Sketch {
    static constexpr int most = 160;
    int width = 0, height = 0;
    double scale = 1; ///< Pixels of the cloth for one of the sketch.
    std::vector<float> l, a, b;

    /// Mean square of the colours' distance from their mean.
    double contrast() const;
};

/// Hidden pixels take the mean.
Sketch sketch(const Cloth& cloth);

} // namespace motley::swatch
