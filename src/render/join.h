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
    std::vector<int> at;  ///< The column of the cut in each row.
    double cost = 0;      ///< The sum of the differences along it.
};

Join least_cut(const Overlap& overlap);

}  // namespace motley::render
