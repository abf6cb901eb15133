#pragma once
/// Cutting diagrams: the strips of one fabric to scale, the pieces in them marked with small letters, what is
/// left over hatched. Equal strips are drawn once. Figures draw from what they were made from: it must last
/// as long.

#include <string>
#include <vector>

#include "cutting/cut_plan.h"
#include "render/block.h"

namespace motley::render {

/// "a" to "z", then "a2": the pieces of one cut list.
std::string piece_letter(int piece);

/// Strips with the same cuts that follow each other.
struct EqualStrips {
    const cutting::Strip* strip = nullptr;
    int count = 1;
};
std::vector<EqualStrips> equal_strips(const std::vector<cutting::Strip>& strips);
bool equally_cut(const cutting::SheetCuts& a, const cutting::SheetCuts& b);

/// Strips across the yardage, in cutting order, the first at the top. `width` in points.
Figure draw_strips(const cutting::CutList& list, const std::vector<cutting::Strip>& strips, double width,
                   double type_size);

/// One piece of stock with the cuts made in it, at the scale at which the usable width fills `width`.
Figure draw_sheet(const cutting::CutList& list, const cutting::SheetCuts& cuts, double width,
                  double type_size);

} // namespace motley::render
