#pragma once
/// The little that reading and complaining needs to know of UTF-8. Private to this folder.

#include <cstddef>
#include <string_view>

namespace motley::document {

/// Bytes of the character that starts `text` (1 to 4), or 0 when it is not well-formed UTF-8 (RFC 3629: no
/// surrogates, no overlong forms, nothing above U+10FFFF) or `text` is empty.
std::size_t character_size(std::string_view text);

/// Offset of the first byte that is not well-formed, or npos.
std::size_t first_malformed(std::string_view text);

} // namespace motley::document
