#pragma once
/// The printed handout: all that a quilter or a class needs at the cutting table, the machine and the iron.
/// In: a placed top and everything computed from it. Out: a PDF. The same material gives the same bytes.
/// Words: a *part* is a chapter of the handout, one source file each.

#include <cstddef>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "cutting/buying.h"
#include "cutting/counts.h"
#include "cutting/fabric_cuts.h"
#include "cutting/finishing.h"
#include "cutting/other_sizes.h"
#include "layout/layout.h"
#include "photo/photo.h"
#include "unit/sewn.h"

namespace motley::handout {

/// The units that a border is pieced from, with their steps.
struct BorderUnits {
    int border = 0; ///< From the inside out.
    int units = 0;  ///< That it takes.
    unit::Sewn sewn;
    std::string recipe;
};

/// All of one top.
struct Material {
    const layout::Layout& layout;
    const std::vector<cutting::FabricCount>& counts;
    const cutting::Cutting& cutting;
    const cutting::BuyingList& buying;
    const cutting::FinishingPlan& finishing;
    const assembly::Assembly& assembly;
    const std::vector<cutting::SizeRow>& sizes; ///< May be empty.
    const unit::Sewn& sewn;                     ///< The plan's recipe with its steps, at the sizes one cuts.
    std::string recipe;                         ///< Its name for people: "half-square triangle".
    const photo::Raster& preview;
    std::string version;                        ///< "0.1.0"
    std::vector<BorderUnits> border_units = {}; ///< Of every border that is pieced from units.
};

/// Paper and size of print are the plan's. Expects everything to be of the same top.
std::vector<std::byte> make_handout(const Material& material);

} // namespace motley::handout
