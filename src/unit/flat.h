#pragma once
/// Sewn cloth lying flat, right side up, as pressed: what shows, and the seam allowances folded underneath.
/// Private to this folder. Units: inches.

#include <utility>
#include <vector>

#include "unit/action.h"
#include "unit/plane.h"

namespace motley::unit {

/// A convex bit of a cut piece.
struct Scrap {
    Polygon outline;
    int input = 0; ///< Index of the input, and which of its pieces.
    int piece = 0;
    Motion to_cloth; ///< To the piece's own coordinates. Mirrors only underneath, and in the top of a stack.
    bool hidden = false;
};

struct Flat {
    std::vector<Scrap> scraps;
    std::vector<Segment> seams; ///< That show; the last sewn comes last.
};

Flat moved(Flat flat, const Motion& motion);
Flat right_of(const Flat& flat, const Line& line); ///< Cut along the line, what is to its right.

double showing(const Flat& flat);
double allowances(const Flat& flat);

Box box(const Flat& flat); ///< Around what shows. Expects that something does.

/// The stretch of cloth that ends at a side of the box, clockwise on the screen.
Segment edge(const Flat& flat, Side side);
Segment edge(const Box& box, Side side);

/// A guide of a box, across all of it. Edges run clockwise.
Segment guide(const Box& box, Guide along);

/// `first` and `others` as they lie opened along `seam`: first to its right, the others to its left,
/// everything beyond it folded under. Where two of the others lie over each other the later one goes
/// underneath.
Flat opened(const Flat& first, const std::vector<Flat>& others, const Line& seam, Press press);

/// The visible parts of one piece that lie as they grew, put together where that makes a convex whole.
std::vector<Scrap> patches(const Flat& flat);

} // namespace motley::unit
