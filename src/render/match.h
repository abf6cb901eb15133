#pragma once
/// How well one place of a cloth continues another: sums of squared differences in whole numbers, coarse
/// first, then fine.

#include <cstdint>
#include <span>
#include <vector>

#include "photo/photo.h"

namespace motley::render {

/// Square root of linear light in steps of 1/511, three to a pixel: near enough to how the eye grades light,
/// and exact to add up.
struct Codes {
    int width = 0, height = 0;
    std::vector<std::int16_t> values;

    const std::int16_t* at(int x, int y) const {
        return &values[(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                        static_cast<std::size_t>(x)) *
                       3];
    }
};

Codes codes_of(const photo::LinearImage& image, int left, int top, int width, int height);

/// Half the size, each the mean of four; an odd last row or column is dropped.
Codes halved(const Codes& fine);

/// The picture and its halves: level l is reduced 2^l times.
std::vector<Codes> pyramid(Codes finest, int levels);

/// The same picture with rows for columns.
Codes transposed(const Codes& codes);

/// Sum of squared differences of two rows of equal length.
std::int64_t difference(std::span<const std::int16_t> one, std::span<const std::int16_t> other);

/// Mean squared difference of two places taken at random; at least 1.
double contrast_of(const Codes& codes);

/// How steep the picture is at each place, over what goes unnoticed: a join there hides in an outline.
std::vector<float> outlines(const Codes& codes);

/// A row of a picture with its outlines.
struct Line {
    const std::int16_t* codes;
    const float* outlines;
};

/// Appends what a cut through each of `count` places of a row would show: the squared difference, the less
/// the more outline there is.
void compare(Line one, Line other, int count, std::vector<float>& out);

} // namespace motley::render
