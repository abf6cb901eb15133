#pragma once
/// How a cloth repeats: where to lay the next copy of what a photo shows of it.

#include "photo/photo.h"
#include "render/beside.h"

namespace motley::render {

/// Copies lie at i * across + j * down. Of a `stacked` cloth the copies of a column lie straight one below
/// the other and the next column may be dropped; of any other the copies of a row lie straight side by side
/// and the next row may be shifted.
struct Repeat {
    Step across, down;
    bool stacked = true;
    int fade_across = 0, fade_down = 0; ///< How wide the copies must melt into each other, pixels; 0 where a
                                        ///< cut does.
};

/// Judged by what the cut shows, by whether the whole overlap agrees (a check or stripe seen more than once
/// goes on in step), by whether the photo's colours keep their shares, and by how much of the photo is shown:
/// at least half of each side, and as much as the others allow. A join is no steeper than the steepest edge
/// of the photo: a cloth without edges melts into its next copy. Expects at least 6 x 6 pixels.
Repeat repeat_of(const photo::LinearImage& cloth);

} // namespace motley::render
