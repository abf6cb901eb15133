#pragma once
/// The chunks of a PNG file as they lie in it, for what libpng does not tell. Internal to `photo`.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "photo/decoder.h"
#include "photo/profile.h"

namespace motley::photo {

struct PngChunks {
    std::int64_t width = 0, height = 0; ///< Unchecked.
    std::span<const std::byte> exif;    ///< Empty when there is none.
    std::optional<Coding> coding;       ///< The cICP chunk (PNG, third edition).
    bool profile = false;               ///< There is an iCCP chunk.
};

/// Walks from chunk to chunk; reads no pixel and checks no checksum. Faults when the file ends before its
/// IEND chunk does.
PngChunks png_chunks(const Source& source);

} // namespace motley::photo
