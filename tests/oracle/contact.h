#pragma once
/// Which patches touch, by asking points of the common border whose they are: slow, and obviously right.
/// Plain squares and half-square triangles only, from their definition: at turn 0 the print lies above right
/// of the diagonal that falls from the top left corner, the ground below left; a turn is a quarter turn
/// clockwise.

#include <algorithm>
#include <vector>

#include "layout/contact.h"

namespace oracle {

/// A point of a unit in eighths of its side, x to the right, y down.
struct Eighths {
    int x, y;
};

/// The point of the unturned unit that a clockwise quarter turn brings here: (x, y) -> (8 - y, x) undone.
inline Eighths turned_back(Eighths p, int turn) {
    for (; turn > 0; --turn) p = {p.y, 8 - p.x};
    return p;
}

/// Whether the closed patch holds the point.
inline bool holds(int patches, int patch, int turn, Eighths point) {
    if (patches == 1) return true;
    const Eighths p = turned_back(point, turn);
    return patch == 0 ? p.x >= p.y : p.x <= p.y;
}

/// Two neighbouring units share the points of a border (or one corner); patches that share a point touch at a
/// corner, patches that share three in a row share an edge. (Two could be the two end points of borders cut
/// by a diagonal; on this grid a stretch has at least eight.)
inline motley::layout::Contact contact(int patches, int row_step, int column_step, int p, int t, int q,
                                       int u) {
    using motley::layout::Contact;
    if (std::max(std::abs(row_step), std::abs(column_step)) != 1) return Contact::none;
    int run = 0, longest = 0;
    for (int y = 0; y <= 8; ++y)
        for (int x = 0; x <= 8; ++x) {
            const Eighths there{x - 8 * column_step, y - 8 * row_step};
            if (there.x < 0 || there.x > 8 || there.y < 0 || there.y > 8)
                continue; // Not a point of the other unit.
            const bool both = holds(patches, p, t, {x, y}) && holds(patches, q, u, there);
            run = both ? run + 1 : 0;
            longest = std::max(longest, run);
        }
    return longest >= 3 ? Contact::edge : longest > 0 ? Contact::corner : Contact::none;
}

} // namespace oracle
