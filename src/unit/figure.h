#pragma once
/// A thing on the table as a figure to be drawn. Private to this folder.

#include <string>
#include <vector>

#include "measure/length.h"
#include "unit/stack.h"
#include "unit/step.h"

namespace motley::unit {

Figure figure(const std::string& name, const Flat& flat, measure::System measure);
Figure figure(const std::string& name, const Stack& stack, measure::System measure);

/// Adds it, or counts it as a further copy where one that looks the same is there.
void add(std::vector<Figure>& figures, Figure figure);

} // namespace motley::unit
