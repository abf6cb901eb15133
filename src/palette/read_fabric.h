#pragma once
/// Names and fabrics out of their JSON. Private to this folder.

#include "palette/palette.h"

namespace motley::palette {

/// A name for people: 1 to 200 bytes, no control characters.
std::string read_name(const document::Node& node);

/// Checks everything that one fabric can show by itself; throws at the first thing wrong (unknown keys come
/// all together).
Fabric read_fabric(const document::Node& node, measure::System measure);

} // namespace motley::palette
