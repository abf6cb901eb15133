#pragma once
/// Maps that come on several pages. Private to this folder.

#include <functional>
#include <vector>

#include "handout/part.h"

namespace motley::handout {

/// One below the other, each with the words that say which part of the top it shows.
void put_sheets(const Writer& writer, const std::vector<render::MapSheet>& sheets,
                const std::function<render::Figure(const render::MapSheet&)>& draw);

} // namespace motley::handout
