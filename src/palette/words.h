#pragma once
/// The words of palette.json for closed sets, in the order of their enumerators. Private to this folder.

#include <string>
#include <vector>

namespace motley::palette {

inline const std::vector<std::string> value_words = {"light", "medium", "dark"};
inline const std::vector<std::string> piece_words = {"strip", "square", "scrap", "fat quarter", "yardage"};
inline const std::vector<std::string> from_words = {"typed", "photo"};
inline const std::vector<std::string> stripe_words = {"none", "along", "across", "aslant", "both"};
inline const std::vector<std::string> by_words = {"card", "paper", "background", "edge to edge"};
inline const std::vector<std::string> measure_words = {"inch", "metric"};

} // namespace motley::palette
