#pragma once
/// Finds out, for a text that is not JSON, what the person who typed it most likely did. Private to this
/// folder.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace motley::document {

/// "line 3, column 12", both from 1, columns in characters.
std::string place_in(std::string_view text, std::size_t offset);

/// What a person would change at `offset`, the first byte that cannot be right; `open` are the offsets of the
/// brackets that are never closed, outermost first.
std::string likely_mistake(std::string_view text, std::size_t offset, const std::vector<std::size_t>& open);

} // namespace motley::document
