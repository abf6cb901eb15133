#pragma once
/// Cutting from one sheet of bounded size: strips piled until it is full. Private to this folder.

#include <cstdint>
#include <vector>

#include "cutting/cut_strip.h"

namespace motley::cutting {

/// An upper bound on what one sheet is worth (pieces may be counted oftener than they are left).
std::int64_t most_of_sheet(const Frame& frame, const std::vector<std::int64_t>& values,
                           const std::vector<int>& left, Work& work);

/// How many of each kind stand behind that bound.
std::vector<int> sheet_counts(const Frame& frame, const std::vector<std::int64_t>& values,
                              const std::vector<int>& left, Work& work);

/// Strips for one sheet from what is left, as much value as is found.
std::vector<Row> fill_sheet(const Frame& frame, const std::vector<std::int64_t>& values,
                            std::vector<int> left, Work& work);

} // namespace motley::cutting
