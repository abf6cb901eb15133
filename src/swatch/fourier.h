#pragma once
/// The discrete Fourier transform of a square picture: sums over all shifts at once.

#include <cstddef>
#include <vector>

namespace motley::swatch {

/// Complex numbers on a square, rows from the top, real and imaginary parts apart.
struct Waves {
    static constexpr std::size_t side = 256;
    std::vector<float> re = std::vector<float>(side * side), im = std::vector<float>(side * side);
};

/// F(k) = sum_x f(x) exp(-2 pi i k x / side) over rows and columns, in place, rows and columns changed
/// places: twice, the second time with re and im exchanged, gives side^2 times the picture as it was (re and
/// im still exchanged). Cooley & Tukey 1965, decimation in frequency in the order of Stockham; the same bits
/// on every processor.
void transform(Waves& waves);

} // namespace motley::swatch
