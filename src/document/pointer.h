#pragma once
/// JSON pointers (RFC 6901) as they stand in messages. Private to this folder.

#include <cstddef>
#include <string>
#include <string_view>

namespace motley::document {

/// One reference token: ~ and / escaped, as the standard has it.
std::string escaped_for_pointer(std::string_view key);

/// Longest pointer shown in a message, in characters.
inline constexpr std::size_t longest_pointer = 200;

} // namespace motley::document
