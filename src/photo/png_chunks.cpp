#include "photo/png_chunks.h"

#include <string_view>

namespace motley::photo {

namespace {

std::uint32_t number_at(std::span<const std::byte> bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < 4; ++i) number = number << 8 | std::to_integer<std::uint32_t>(bytes[at + i]);
    return number;
}

} // namespace

PngChunks png_chunks(const Source& source) {
    constexpr std::size_t signature = 8;
    constexpr std::size_t frame = 12; // Length, name and checksum of a chunk.
    PngChunks out;
    std::size_t at = signature;
    for (bool first = true;; first = false) {
        if (source.bytes.size() < at + frame) source.refuse_cut();
        const std::size_t length = number_at(source.bytes, at);
        const std::string_view name(reinterpret_cast<const char*>(source.bytes.data()) + at + 4, 4);
        if (first && (name != "IHDR" || length != 13)) source.refuse_damaged("the PNG file has no header");
        if (length > source.bytes.size() - at - frame) source.refuse_cut();
        const std::span<const std::byte> data = source.bytes.subspan(at + 8, length);
        if (first) {
            out.width = number_at(data, 0);
            out.height = number_at(data, 4);
        }
        if (name == "eXIf" && out.exif.empty()) out.exif = data;
        if (name == "iCCP") out.profile = true;
        if (name == "cICP" && length == 4) {
            out.coding = Coding{std::to_integer<int>(data[0]), std::to_integer<int>(data[1])};
        }
        if (name == "IEND") return out;
        at += frame + length;
    }
}

} // namespace motley::photo
