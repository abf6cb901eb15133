#pragma once
/// The plan again in other sizes: units across and down chosen anew, counts shared out anew, cut and bought
/// anew from the model.

#include <vector>

#include "cutting/other_sizes.h"
#include "layout/layout.h"

namespace motley::pipeline {

/// First the plan's own size, then each that the plan asks for: as many units as bring the top nearest to
/// the size wanted, and over the whole mattress. Cloth on hand is not counted: others start from nothing.
/// Numbers of one fabric grow and shrink with the units; pins stay out.
std::vector<cutting::SizeRow> other_sizes(const layout::Layout& layout);

} // namespace motley::pipeline
