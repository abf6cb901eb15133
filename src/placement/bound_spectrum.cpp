#include "placement/bound_spectrum.h"

#include <cmath>

namespace motley::placement {

namespace {

double* row(Square& m, int i) {
    return &m.numbers[static_cast<std::size_t>(i * m.size)];
}
const double* row(const Square& m, int i) {
    return &m.numbers[static_cast<std::size_t>(i * m.size)];
}

void turn_rows(Square& m, int i, int j, double c, double s) {
    double* a = row(m, i);
    double* b = row(m, j);
    for (int k = 0; k < m.size; ++k) {
        const double x = a[k], y = b[k];
        a[k] = c * x - s * y;
        b[k] = s * x + c * y;
    }
}

void turn_columns(Square& m, int i, int j, double c, double s) {
    for (int k = 0; k < m.size; ++k) {
        const double x = m.at(k, i), y = m.at(k, j);
        m.at(k, i) = c * x - s * y;
        m.at(k, j) = s * x + c * y;
    }
}

/// left * right', each given by rows.
Square rows_by_rows(const Square& left, const Square& right) {
    Square out(left.size);
    for (int i = 0; i < left.size; ++i)
        for (int j = 0; j < left.size; ++j) {
            const double *a = row(left, i), *b = row(right, j);
            double sum = 0;
            for (int k = 0; k < left.size; ++k) sum += a[k] * b[k];
            out.at(i, j) = sum;
        }
    return out;
}

/// Turns the axes until the matrix, seen along them, is diagonal.
void straighten(Square& matrix, Square& axes) {
    double whole = 0;
    for (const double x : matrix.numbers) whole += x * x;
    constexpr int most_sweeps = 12;
    constexpr double exact = 1e-12; // Of squares.
    for (int sweep = 0; sweep < most_sweeps; ++sweep) {
        double off = 0;
        for (int i = 0; i < matrix.size; ++i)
            for (int j = 0; j < i; ++j) off += matrix.at(i, j) * matrix.at(i, j);
        if (!(off > exact * whole)) return;
        const double small = off * 1e-3 / (matrix.size * matrix.size);
        for (int i = 0; i < matrix.size; ++i)
            for (int j = i + 1; j < matrix.size; ++j) {
                const double apart = matrix.at(i, j);
                if (!(apart * apart > small)) continue;
                const double theta = (matrix.at(j, j) - matrix.at(i, i)) / (2 * apart);
                const double t = (theta >= 0 ? 1.0 : -1.0) / (std::abs(theta) + std::sqrt(theta * theta + 1));
                const double c = 1 / std::sqrt(t * t + 1), s = t * c;
                turn_rows(matrix, i, j, c, s);
                turn_columns(matrix, i, j, c, s);
                turn_rows(axes, i, j, c, s);
            }
    }
}

} // namespace

Spectrum::Spectrum(int size) : axes_(size), values_(static_cast<std::size_t>(size)) {
    for (int i = 0; i < size; ++i) axes_.at(i, i) = 1;
}

void Spectrum::follow(const Square& matrix) {
    Square seen = rows_by_rows(axes_, rows_by_rows(axes_, matrix)); // The matrix is its own transpose.
    straighten(seen, axes_);
    for (int i = 0; i < matrix.size; ++i) values_[static_cast<std::size_t>(i)] = seen.at(i, i);
}

Square Spectrum::part_below_zero() const {
    Square out(axes_.size);
    for (int k = 0; k < axes_.size; ++k) {
        const double value = values_[static_cast<std::size_t>(k)];
        if (!(value < 0)) continue;
        const double* axis = row(axes_, k);
        for (int i = 0; i < axes_.size; ++i) {
            const double scaled = value * axis[i];
            double* to = row(out, i);
            for (int j = 0; j < axes_.size; ++j) to[j] += scaled * axis[j];
        }
    }
    return out;
}

} // namespace motley::placement
