#pragma once
/// The steps of a recipe as line drawings for printed pages: what lies on the table, an arrow, what has
/// become of it, all at one scale. Inputs have tints and numbers (letters are for fabrics there). Figures
/// draw from the step: it must last as long.

#include <vector>

#include "render/block.h"
#include "unit/sewn.h"

namespace motley::render {

/// At most `width` points wide; empty (height 0) for a step without a drawing.
Figure draw_step_lines(const unit::Step& step, double width, double type_size);

/// Tint of an input in those drawings.
Ink step_tint(int input);

/// A strip set: its strips at a common scale, each with its tint and words, and the cuts across.
struct DrawnStrip {
    double width = 0; ///< Inches, as it shows once sewn.
    Ink ink;
    std::string letter;
};
Figure draw_strip_set(const std::vector<DrawnStrip>& strips, double section, int sections_drawn, double width,
                      double most_height, const std::string& alt);

} // namespace motley::render
