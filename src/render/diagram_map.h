#pragma once
/// Maps of the top: every patch with the letter of its fabric, the greys of their values, the sides to which
/// seams are pressed. Vector drawings; a top too large for one page comes on several. Words: a *sheet* is the
/// part of the top that one page shows. Figures draw from their source: it must last as long.

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "layout/top.h"
#include "render/block.h"

namespace motley::render {

/// What maps of one top share.
struct MapSource {
    const layout::Layout& layout;
    const layout::Top& top;
    const assembly::Assembly& assembly;
};

/// A part of the top, inches, and how large it is drawn.
struct MapSheet {
    unit::Box part;
    double scale = 0;         ///< Points to an inch.
    int across = 0, down = 0; ///< Which sheet, from 0.
    int sheets_across = 1, sheets_down = 1;
};

/// As few sheets of `width` x `height` points as show nearly every patch with a letter of at least `letter`
/// points.
std::vector<MapSheet> map_sheets(const MapSource& source, double width, double height, double letter);
/// The same for a map whose arrows need so many points of each seam between neighbours.
std::vector<MapSheet> seam_sheets(const MapSource& source, double width, double height, double arrow);

Figure draw_letters(const MapSource& source, const MapSheet& sheet, double letter, const std::string& alt);
/// Arrows lie on the seams and point to the side on which the allowances lie; those that point to the lighter
/// fabric are filled in the accent, joints that do not nest are ringed.
Figure draw_pressing(const MapSource& source, const MapSheet& sheet, const std::string& alt);
/// The whole top in the greys of its fabrics, nothing written.
Figure draw_greys(const MapSource& source, double width, double height, const std::string& alt);

/// Patches of the sheet that are too small for a letter of that size.
int unlettered(const MapSource& source, const MapSheet& sheet, double letter);

} // namespace motley::render
