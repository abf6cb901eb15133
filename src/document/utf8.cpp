#include "document/utf8.h"

namespace motley::document {

std::size_t character_size(std::string_view text) {
    if (text.empty()) return 0;
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(0);
    if (first < 0x80) return 1;
    const std::size_t size = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || text.size() < size) return 0;
    for (std::size_t i = 1; i < size; ++i)
        if ((byte(i) & 0xC0) != 0x80) return 0;
    const unsigned second = byte(1);
    if ((first == 0xE0 && second < 0xA0) || (first == 0xED && second > 0x9F)) return 0;
    if ((first == 0xF0 && second < 0x90) || (first == 0xF4 && second > 0x8F)) return 0;
    return size;
}

std::size_t first_malformed(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t size = character_size(text.substr(at));
        if (size == 0) return at;
        at += size;
    }
    return std::string_view::npos;
}

} // namespace motley::document
