#pragma once
/// Symmetric matrices and what they do along their own axes, in plain arithmetic: the same bits everywhere.

#include <vector>

namespace motley::placement {

/// A square of numbers, row by row.
struct Square {
    explicit Square(int n = 0)
        : size(n), numbers(static_cast<std::size_t>(n) * static_cast<std::size_t>(n)) {}
    double& at(int i, int j) { return numbers[static_cast<std::size_t>(i * size + j)]; }
    double at(int i, int j) const { return numbers[static_cast<std::size_t>(i * size + j)]; }

    int size;
    std::vector<double> numbers;
};

/// The axes of a symmetric matrix that changes little by little: each call starts from the axes of the one
/// before. Jacobi's rotations (Golub & Van Loan, Matrix Computations, 8.5).
class Spectrum {
public:
    explicit Spectrum(int size);

    void follow(const Square& matrix);

    /// Sum over the negative values of value * axis axis'. Below zero by the way it is built, however exact
    /// the axes are.
    Square part_below_zero() const;

private:
    Square axes_; // Rows.
    std::vector<double> values_;
};

} // namespace motley::placement
