#pragma once
/// The cut of least difference between two overlapping blocks of cloth.

#include <vector>

namespace motley::render {

/// Differences over an overlap, [row * across + column]; the cut runs from the first row to the last, at most
/// one column aside a row.
struct Overlap {
    int across = 0, along = 0;
    std::vector<float> cost;
};

struct Join {
    std::vector<int> at; ///< The column of the cut in each row.
    double cost = 0;     ///< The differences along it, a place reached aslant counted sqrt(2) times.
};

/// Adds a little towards the edges, so that of cuts as good as each other the middle one is taken; and the
/// least difference there is, which no cut avoids, so that a cut that cannot gain anything runs straight.
void lean_to_middle(Overlap& overlap);

Join least_cut(const Overlap& overlap);

} // namespace motley::render
