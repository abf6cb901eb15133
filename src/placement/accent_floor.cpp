#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <vector>

#include "fault/fault.h"
#include "placement/accent.h"

namespace motley::placement {

namespace {

std::int64_t by_lightest_partners(const Ground& ground, int uses) {
    std::vector<std::int64_t> pushes;
    for (int cell = 0; cell < ground.cells(); ++cell) {
        std::vector<std::int32_t> row(ground.row(cell), ground.row(cell) + ground.cells());
        row.erase(row.begin() + cell);
        std::ranges::sort(row);
        pushes.push_back(std::accumulate(row.begin(), row.begin() + (uses - 1), std::int64_t{0}));
    }
    std::ranges::sort(pushes);
    return std::accumulate(pushes.begin(), pushes.begin() + uses, std::int64_t{0});
}

/// cos(2 pi k / n) for k in [0, n).
std::vector<double> cosines(int n) {
    std::vector<double> cosine;
    for (int k = 0; k < n; ++k) cosine.push_back(std::cos(2 * std::numbers::pi * k / n));
    return cosine;
}

/// The least eigenvalue but that of the constant pattern. Weights are the same for a step and its mirror
/// images, so that only cosines are left of the transform.
double least_eigenvalue(const Ground& ground) {
    const int rows = ground.rows(), columns = ground.columns();
    const std::vector<double> down = cosines(rows), right = cosines(columns);
    double least = 0;
    bool first = true;
    for (int k = 0; k < rows; ++k)
        for (int l = 0; l < columns; ++l) {
            if (k == 0 && l == 0) continue;
            double sum = 0;
            for (int i = 0; i < rows; ++i)
                for (int j = 0; j < columns; ++j)
                    sum += ground.weight(0, i * columns + j) * down[static_cast<std::size_t>(i * k % rows)] *
                           right[static_cast<std::size_t>(j * l % columns)];
            if (first || sum < least) least = sum;
            first = false;
        }
    return least;
}

std::int64_t by_eigenvalues(const Ground& ground, int uses) {
    const double n = ground.cells(), u = uses;
    const double bound = ground.whole(0) * (u * u / n) + least_eigenvalue(ground) * (u * (n - u) / n);
    // Doubles keep some 15 digits of sums of at most 4096 weights; 9 are trusted.
    return static_cast<std::int64_t>(std::floor(bound - 1e-9 * ground.whole(0) * u));
}

} // namespace

std::int64_t least_cost(const Ground& ground, int uses) {
    expects(uses >= 0 && uses <= ground.cells());
    if (uses < 2) return 0;
    std::int64_t bound = by_lightest_partners(ground, uses);
    if (ground.edges_meet()) bound = std::max(bound, by_eigenvalues(ground, uses));
    return bound + (bound & 1); // Every pair counts twice.
}

} // namespace motley::placement
