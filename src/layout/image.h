#pragma once
/// Mirror images and turned images of a unit: which turn of it looks like its image. Private to this folder.

#include <vector>

#include "layout/setting.h"
#include "unit/form.h"

namespace motley::layout {

/// A symmetry about the middle: (x, y) -> (xx x + xy y, yx x + yy y).
struct Image {
    int xx, xy, yx, yy;

    unit::Point operator()(unit::Point p) const { return {xx * p.x + xy * p.y, yx * p.x + yy * p.y}; }
};

/// All but the identity. A lattice on point stands on its corner: left to right on the wall is across its
/// diagonal.
std::vector<Image> images_of(Symmetry symmetry, bool on_point);

/// How a unit looks after an image: turned so, with its patches in each other's places.
struct Seen {
    int turn = 0;
    std::vector<int> patch; ///< By patch: the one that lies there now.
};

using Ways = std::vector<std::vector<Seen>>; ///< [turn]: all turns that look like the image of that one.

/// Empty when no turn of the unit looks like its image.
Ways ways_to_see(const unit::Form& form, Image image);

} // namespace motley::layout
