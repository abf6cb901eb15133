#include "render/join.h"

#include <algorithm>
#include <cmath>

namespace motley::render {

void lean_to_middle(Overlap& overlap) {
    constexpr float lean = 16; // Of 3 * 511^2: four steps of 511 at the very edge.
    const float least = *std::min_element(overlap.cost.begin(), overlap.cost.end());
    const float middle = static_cast<float>(overlap.across - 1) / 2;
    float* at = overlap.cost.data();
    for (int row = 0; row < overlap.along; ++row)
        for (int i = 0; i < overlap.across; ++i) {
            const float off = std::abs(static_cast<float>(i) - middle) / std::max(middle, 1.0f);
            *at++ += lean * off * off + least * off;
        }
}

namespace {

/// A step aside is as long as the diagonal.
constexpr float aslant_more = 0.41421356f;

} // namespace

Join least_cut(const Overlap& overlap) {
    const auto across = static_cast<std::size_t>(overlap.across);
    const auto along = static_cast<std::size_t>(overlap.along);
    std::vector<float> total = overlap.cost;
    for (std::size_t row = 1; row < along; ++row) {
        const float* above = &total[(row - 1) * across];
        for (std::size_t i = 0; i < across; ++i) {
            const float here = overlap.cost[row * across + i], aslant = here * aslant_more;
            float least = above[i];
            if (i > 0) least = std::min(least, above[i - 1] + aslant);
            if (i + 1 < across) least = std::min(least, above[i + 1] + aslant);
            total[row * across + i] = here + least;
        }
    }
    Join join{std::vector<int>(along), 0};
    const float* last = &total[(along - 1) * across];
    auto at = static_cast<std::size_t>(std::min_element(last, last + across) - last);
    join.cost = static_cast<double>(last[at]);
    for (std::size_t row = along - 1;; --row) {
        join.at[row] = static_cast<int>(at);
        if (row == 0) return join;
        const float* above = &total[(row - 1) * across];
        const float aslant = overlap.cost[row * across + at] * aslant_more;
        std::size_t best = at;
        float least = above[at];
        for (const std::size_t i : {at - 1, at + 1}) // Below 0 is beyond `across` too.
            if (i < across && above[i] + aslant < least) {
                least = above[i] + aslant;
                best = i;
            }
        at = best;
    }
}

} // namespace motley::render
