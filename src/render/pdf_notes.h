#pragma once
/// What cairo does not write into a PDF: the language, and the words that stand for its figures. Private to
/// this folder.

#include <cstddef>
#include <string>
#include <vector>

namespace motley::render {

/// Adds them as an incremental update (ISO 32000-1, 7.5.6): the n-th figure of the structure tree gets the
/// n-th of `alts`. Expects a PDF as cairo writes it.
std::vector<std::byte> with_notes(std::vector<std::byte> pdf, const std::string& language,
                                  const std::vector<std::string>& alts);

} // namespace motley::render
