#pragma once
/// Whether a print has an up and a down.

#include "swatch/sketch.h"

namespace motley::swatch {

/// For many small triangles of places (x, x + s, x + t) the mean of f(x) f(x + s) f(x + t), less the same of
/// the triangle turned by half a turn: of a cloth that looks no different head down all these are 0 but for
/// chance, and chance differs from one part of the cloth to the next. (Of two places, f(x) f(x + s) is the
/// same head down.)
struct Upright {
    double agreement =
        0; ///< Mean correlation of the differences between sixteen parts of the cloth, [-1/15, 1].
    double strength = 0; ///< Their size over that of the products themselves, [0, 1].
};

Upright upright_of(const Sketch& sketch);

} // namespace motley::swatch
