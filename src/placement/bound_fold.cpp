#include "placement/bound_fold.h"

#include <algorithm>
#include <cmath>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Polynomials over 0 .. n - 1, by rising degree, of length 1 and at right angles to each other (Gram's).
std::vector<std::vector<double>> polynomials(int n) {
    std::vector<std::vector<double>> all;
    for (int degree = 0; degree < n; ++degree) {
        std::vector<double> p(at(n), 1);
        if (degree > 0)
            for (int x = 0; x < n; ++x) p[at(x)] = all.back()[at(x)] * (2.0 * x - (n - 1)) / n;
        for (int again = 0; again < 2; ++again)
            for (const std::vector<double>& q : all) {
                double along = 0;
                for (int x = 0; x < n; ++x) along += p[at(x)] * q[at(x)];
                for (int x = 0; x < n; ++x) p[at(x)] -= along * q[at(x)];
            }
        double length = 0;
        for (const double x : p) length += x * x;
        for (double& x : p) x /= std::sqrt(length);
        // Rounding would let evenness slip.
        const double sign = degree % 2 == 0 ? 1 : -1;
        for (int x = 0; x < n; ++x) p[at(n - 1 - x)] = x == n - 1 - x && sign < 0 ? 0 : sign * p[at(x)];
        all.push_back(std::move(p));
    }
    return all;
}

/// From slabs to the four parts and back: sums with the signs of evenness.
void mix(Fold::Slabs& four) {
    for (std::size_t k = 0; k < four[0].size(); ++k) {
        const double a = four[0][k], b = four[1][k], c = four[2][k], d = four[3][k];
        four[0][k] = (a + b) + (c + d);
        four[1][k] = (a - b) + (c - d);
        four[2][k] = (a + b) - (c + d);
        four[3][k] = (a - b) - (c - d);
    }
}

/// to[0 .. n) += factor * from[0 .. n)
void add_scaled(double* to, const double* from, double factor, int n) {
    for (int k = 0; k < n; ++k) to[k] += factor * from[k];
}

} // namespace

Fold::Fold(int columns, int rows, int modes)
    : columns_(columns), rows_(rows), half_columns_((columns + 1) / 2) {
    const int half_rows = (rows + 1) / 2;
    for (int r = 0; r < half_rows; ++r)
        for (int c = 0; c < half_columns_; ++c)
            weight_.push_back((2 * r == rows - 1 ? 1 : 2) * (2 * c == columns - 1 ? 1 : 2));
    struct Degree {
        double roughness;
        int down, across;
    };
    std::vector<Degree> degrees;
    for (int p = 0; p < rows; ++p)
        for (int q = 0; q < columns; ++q)
            degrees.push_back({(1.0 * p * p) / (rows * rows) + (1.0 * q * q) / (columns * columns), p, q});
    std::stable_sort(degrees.begin(), degrees.end(),
                     [](const Degree& a, const Degree& b) { return a.roughness < b.roughness; });
    degrees.resize(std::min(degrees.size(), at(std::max(1, modes))));
    const auto down = polynomials(rows), across = polynomials(columns);
    for (const Degree& degree : degrees) {
        const std::size_t kind = at(2 * (degree.down % 2) + degree.across % 2);
        ++counts_[kind];
        for (int r = 0; r < half_rows; ++r)
            for (int c = 0; c < half_columns_; ++c)
                modes_[kind].push_back(down[at(degree.down)][at(r)] * across[at(degree.across)][at(c)]);
    }
}

Fold::Slabs Fold::slabs() const {
    Slabs out;
    for (std::vector<double>& slab : out) slab.assign(weight_.size() * weight_.size(), 0);
    return out;
}

Fold::Parts Fold::seen_by_modes(Slabs& matrix) const {
    mix(matrix);
    Parts parts;
    const int n = quarter();
    std::vector<double> half; // P' M, mode by mode.
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        const int count = counts_[kind];
        half.assign(at(count * n), 0);
        for (int i = 0; i < n; ++i)
            for (int k = 0; k < count; ++k)
                add_scaled(&half[at(k * n)], &matrix[kind][at(i * n)],
                           modes_[kind][at(k * n + i)] * weight_[at(i)], n);
        // A pair of orbits is met by each of its mirrorings: four times in the mixed sums.
        parts[kind] = Square(count);
        for (int k = 0; k < count; ++k)
            for (int l = 0; l <= k; ++l) {
                double sum = 0;
                for (int i = 0; i < n; ++i)
                    sum += half[at(k * n + i)] * modes_[kind][at(l * n + i)] * weight_[at(i)];
                parts[kind].at(k, l) = parts[kind].at(l, k) = sum / 4;
            }
    }
    return parts;
}

void Fold::from_modes(const Parts& parts, Slabs& matrix) const {
    const int n = quarter();
    std::vector<double> half; // T P', mode by mode.
    for (std::size_t kind = 0; kind < kinds; ++kind) {
        const int count = counts_[kind];
        half.assign(at(count * n), 0);
        for (int k = 0; k < count; ++k)
            for (int l = 0; l < count; ++l)
                add_scaled(&half[at(k * n)], &modes_[kind][at(l * n)], parts[kind].at(k, l), n);
        std::fill(matrix[kind].begin(), matrix[kind].end(), 0.0);
        for (int i = 0; i < n; ++i)
            for (int k = 0; k < count; ++k)
                add_scaled(&matrix[kind][at(i * n)], &half[at(k * n)], modes_[kind][at(k * n + i)], n);
    }
    mix(matrix);
}

} // namespace motley::placement
