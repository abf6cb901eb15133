#pragma once
/// Which way up a stored picture is to be seen: the mark of TIFF and EXIF, 1 to 8. Internal to `photo`.

#include <cstddef>
#include <span>

namespace motley::photo {

/// The mark in an EXIF block, with or without its leading "Exif\0\0". 1 when there is none, or none that
/// makes sense: a damaged EXIF block is no reason to refuse a picture.
int orientation_in(std::span<const std::byte> exif);

/// How to turn: mirror first, then swap rows and columns.
struct Turn {
    bool mirror_x = false, mirror_y = false; ///< Of the stored picture.
    bool swap = false;
};

/// Expects 1 to 8.
Turn turn_of(int orientation);

} // namespace motley::photo
