#pragma once
/// All the lists that follow from a placed top: counts, cutting, buying, finishing, other sizes.

#include <vector>

#include "cutting/buying.h"
#include "cutting/counts.h"
#include "cutting/fabric_cuts.h"
#include "cutting/finishing.h"
#include "cutting/other_sizes.h"
#include "document/document.h"
#include "layout/layout.h"

namespace motley::pipeline {

struct Lists {
    std::vector<cutting::FabricCount> counts;
    cutting::Cutting cutting;
    cutting::FinishingPlan finishing;
    cutting::BuyingList buying;
};

Lists lists_of(const layout::Layout& layout);

/// `counts.csv`, `cutting.csv`, `buying.csv`.
std::vector<document::Output> list_files(const layout::Layout& layout, const Lists& lists);

/// Fault (Cause::input) at the plan's cloth, naming every fabric and piece that the cloth is too narrow for:
/// better said before the search than after it.
void refuse_narrow_cloth(const layout::Plan& plan, const std::vector<palette::Fabric>& fabrics);

} // namespace motley::pipeline
