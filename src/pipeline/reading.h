#pragma once
/// From a photo as it was taken to its cloth: read, found in the picture where it does not fill it, evened.

#include <cstddef>
#include <span>
#include <string_view>

#include "measure/length.h"
#include "palette/palette.h"
#include "photo/photo.h"

namespace motley::pipeline {

/// How to read a photo of one fabric.
struct ClothTask {
    int detail = 370; ///< Longest side of the picture wanted, pixels.
    std::int64_t most_pixels = 100'000'000;
    measure::Length photo_width{}; ///< Of the fabric in the photo, as said.
    double true_inch = 1;          ///< Of the card's ruler.
    bool cut_out = false;          ///< Cloth from edge to edge, for sure.
};

struct ClothReading {
    photo::Reading reading; ///< Picture and mean of the cloth alone; the header is the photo's.
    palette::PhotoReading how;
    measure::Length shown; ///< How much cloth the picture shows from left to right.
};

/// Photos that are cloth from edge to edge come out as photo::read gives them, bit by bit.
ClothReading read_cloth(std::span<const std::byte> bytes, std::string_view where, const ClothTask& task);

/// Keeps of a picture what drawing at that scale can show: box averages by a whole factor, never coarser than
/// asked.
photo::LinearImage thinned(photo::LinearImage picture, int longest_side);

} // namespace motley::pipeline
