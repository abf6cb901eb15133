#pragma once
/// Opens a picture file as upright pixels in a known colour space, or says clearly why it cannot.
///
/// In: the bytes of a JPEG, PNG (8 and 16 bit, alpha, palette, grey), WebP, HEIC or AVIF file; the kind is
/// told from the bytes, never from the name. Out: an upright picture in linear light, sRGB primaries, D65,
/// reduced in linear light to the detail asked for, with the exact mean of all its pixels.
///
/// Words: *stored* is as the file has it, *upright* is after the orientation mark was applied.
///
/// Colour: an embedded ICC profile, a coded mark (HEIC, AVIF, PNG's cICP), or PNG's gamma and primaries are
/// honoured; without any of them the picture is sRGB. A profile that is damaged or made for another kind of
/// picture is a Fault, because nobody can say then what the colours are; only a grey PNG with a profile
/// libpng rejects is read as sRGB. A damaged EXIF block means upright.
///
/// Threads: no state is shared; any number of photos may be read at once. Memory: baseline JPEG and PNG
/// without interlacing are read row by row; progressive JPEG, interlaced PNG, WebP, HEIC are held whole.
///
/// Faults (Cause::input, `where` = the name given): empty, unknown kind, truncated or damaged, larger than
/// the limit, moving, transparent everywhere, coded for HDR screens, CMYK without a profile. A file cut off
/// at any point is a Fault, never a picture with a grey lower part.

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "colour/space.h"

namespace motley::photo {

enum class Format : std::uint8_t { jpeg, png, webp, heif };

std::string_view name(Format format); ///< "JPEG", "PNG", "WebP", "HEIC/AVIF".

/// What may be opened at all; checked against the header before any pixel is decoded.
struct Limits {
    std::int64_t pixels = 100'000'000;
};

/// What the header says.
struct Header {
    Format format = Format::jpeg;
    int width = 0, height = 0; ///< Upright, pixels.
    int orientation = 1;       ///< The mark, 1 to 8; 1 where the format itself turns the picture (HEIC).
    std::string profile; ///< Description of the embedded colour profile; empty when none (read as sRGB).
};

/// A picture in linear light: sRGB primaries, three floats per pixel, rows from the top, no padding.
/// Values outside [0, 1] are colours outside sRGB.
struct LinearImage {
    int width = 0, height = 0;
    std::vector<float> pixels; ///< 3 * width * height.
};

/// A photo, read.
struct Reading {
    Header header;
    colour::LinearRgb mean; ///< Exact over every pixel, weighted by alpha: what lies under a transparent
                            ///< pixel does not count.
    double opaque = 1.0;    ///< Share of the picture that is not transparent, (0, 1].
    LinearImage picture;    ///< Upright; box averages of whole pixels, longest side at most the detail asked
                            ///< for. Transparent areas carry the mean.
};

/// The header alone, from the same checks as `read`. Cheap.
Header header(std::span<const std::byte> bytes, std::string_view where, const Limits& limits = {});

/// The photo. `detail` is the longest side of the reduced picture in pixels, [16, 8192]; photos smaller than
/// that are not enlarged.
Reading read(std::span<const std::byte> bytes, std::string_view where, int detail = 1024,
             const Limits& limits = {});

/// An 8-bit picture to be written: 1 (grey) or 3 (sRGB) channels, rows from the top, no padding.
struct Raster {
    int width = 0, height = 0, channels = 3;
    std::vector<std::uint8_t> pixels; ///< channels * width * height.
};

/// A PNG file, marked as sRGB. The same raster gives the same bytes. `pixels_per_inch` > 0 is recorded as the
/// physical size.
std::vector<std::byte> encode_png(const Raster& raster, double pixels_per_inch = 0);

} // namespace motley::photo
