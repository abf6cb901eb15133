#include "render/join.h"

#include <algorithm>

namespace motley::render {

Join least_cut(const Overlap& overlap) {
    const auto across = static_cast<std::size_t>(overlap.across);
    const auto along = static_cast<std::size_t>(overlap.along);
    std::vector<float> total = overlap.cost;
    for (std::size_t row = 1; row < along; ++row) {
        const float* above = &total[(row - 1) * across];
        for (std::size_t i = 0; i < across; ++i) {
            float least = above[i];
            if (i > 0) least = std::min(least, above[i - 1]);
            if (i + 1 < across) least = std::min(least, above[i + 1]);
            total[row * across + i] += least;
        }
    }
    Join join{std::vector<int>(along), 0};
    std::size_t from = 0, to = across;
    for (std::size_t row = along; row-- > 0;) {
        const float* line = &total[row * across];
        const auto at = static_cast<std::size_t>(std::min_element(line + from, line + to) - line);
        if (row + 1 == along) join.cost = static_cast<double>(line[at]);
        join.at[row] = static_cast<int>(at);
        from = at > 0 ? at - 1 : 0;
        to = std::min(at + 2, across);
    }
    return join;
}

}  // namespace motley::render
