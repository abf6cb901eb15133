#pragma once
/// Words set in type by Pango. Private to this folder.

#include "render/pen.h"
#include "render/type.h"

namespace motley::render {

/// Set in lines at most `room` points wide; 0: one line. Independent of any surface.
Words set_type(const Text& text, const Type& type, double room = 0);

struct Measure {
    double width = 0, height = 0, baseline = 0; ///< Of all lines; of the first one, from the top.
};
Measure measure_of(PangoLayout* words);

/// As wide as the longest part that does not break.
double least_width(const Text& text, const Type& type);

} // namespace motley::render
