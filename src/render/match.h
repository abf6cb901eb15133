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

/// Sum of squared differences of two rows of equal length.
std::int64_t difference(std::span<const std::int16_t> one, std::span<const std::int16_t> other);

}  // namespace motley::render
