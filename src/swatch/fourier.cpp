#include "swatch/fourier.h"

#include <array>
#include <cmath>
#include <utility>

namespace motley::swatch {
namespace {

constexpr std::size_t side = Waves::side;

/// cos and sin of 2 pi k / side for the first half turn, from square roots and products alone: those are the
/// same everywhere, the library's sine is not.
struct Circle {
    std::array<double, side / 2> cosine{}, sine{};

    Circle() {
        cosine[0] = 1;
        double c = 0, s = 1; // A quarter turn, then half of it, and so on; every angle is a sum of such.
        for (std::size_t step = side / 4; step > 0; step /= 2) {
            for (std::size_t known = 0; known < side / 2; known += 2 * step) {
                cosine[known + step] = cosine[known] * c - sine[known] * s;
                sine[known + step] = sine[known] * c + cosine[known] * s;
            }
            const double half = std::sqrt((1 + c) / 2);
            s /= 2 * half;
            c = half;
        }
    }
};

/// out[a] = one + other, out[b] = (one - other) * (c - i s), whole rows at a time.
#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
void butterfly(const float* __restrict one_re, const float* __restrict one_im,
               const float* __restrict other_re, const float* __restrict other_im, float* __restrict sum_re,
               float* __restrict sum_im, float* __restrict rest_re, float* __restrict rest_im, float c,
               float s) {
    for (std::size_t x = 0; x < side; ++x) {
        sum_re[x] = one_re[x] + other_re[x];
        sum_im[x] = one_im[x] + other_im[x];
        const float re = one_re[x] - other_re[x], im = one_im[x] - other_im[x];
        rest_re[x] = re * c + im * s;
        rest_im[x] = im * c - re * s;
    }
}

/// Along the columns.
void pass(Waves& waves, Waves& spare) {
    static const Circle circle;
    std::size_t stride = 1;
    for (std::size_t n = side; n > 1; n /= 2, stride *= 2) {
        for (std::size_t p = 0; p < n / 2; ++p) {
            const auto c = static_cast<float>(circle.cosine[p * stride]),
                       s = static_cast<float>(circle.sine[p * stride]);
            for (std::size_t q = 0; q < stride; ++q) {
                const std::size_t one = (q + stride * p) * side, other = (q + stride * (p + n / 2)) * side;
                const std::size_t sum = (q + stride * 2 * p) * side, rest = (q + stride * (2 * p + 1)) * side;
                butterfly(&waves.re[one], &waves.im[one], &waves.re[other], &waves.im[other], &spare.re[sum],
                          &spare.im[sum], &spare.re[rest], &spare.im[rest], c, s);
            }
        }
        std::swap(waves, spare);
    }
}

void transpose(std::vector<float>& square) {
    constexpr std::size_t block = 16;
    for (std::size_t top = 0; top < side; top += block)
        for (std::size_t left = 0; left <= top; left += block)
            for (std::size_t y = top; y < top + block; ++y)
                for (std::size_t x = left; x < left + block && x < y; ++x)
                    std::swap(square[y * side + x], square[x * side + y]);
}

} // namespace

void transform(Waves& waves) {
    Waves spare;
    pass(waves, spare);
    transpose(waves.re);
    transpose(waves.im);
    pass(waves, spare);
}

} // namespace motley::swatch
