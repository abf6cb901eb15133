#pragma once
/// The order of sewing, from single units to the finished top, with what everything measures on the way.

#include <string>
#include <vector>

#include "assembly/rows.h"

namespace motley::assembly {

struct AssemblyStep {
    enum class Stage { units, rows, joined, border, done };
    int number = 0; ///< From 1.
    Stage stage = Stage::units;
    int border = -1;                   ///< Stage::border: which, from the inside out.
    std::string title;                 ///< "Border 1: the sides"
    std::string text;                  ///< A few sentences.
    std::string outcome;               ///< "The top should now measure 66 1/2 in x 78 1/2 in."; may be empty.
    std::vector<std::string> cautions; ///< About stretching edges; belongs where the act happens.
    /// Of what the step makes, allowances included; rows of different lengths: zero, see Row.
    measure::Length raw_width, raw_height;
};

std::vector<AssemblyStep> steps_of(const layout::Layout& layout, const Rows& rows);

} // namespace motley::assembly
