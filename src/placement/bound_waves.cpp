#include "placement/bound_waves.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// A table by row step and column step, or by wave down and wave across.
struct Sheet {
    Sheet(int d, int a) : down(d), across(a), numbers(at(d) * at(a)) {}
    double* row(int r) { return &numbers[at(r * across)]; }
    const double* row(int r) const { return &numbers[at(r * across)]; }
    double& operator()(int r, int c) { return numbers[at(r * across + c)]; }
    double operator()(int r, int c) const { return numbers[at(r * across + c)]; }

    int down, across;
    std::vector<double> numbers;
};

/// cos(pi k / n) by its power series: libraries' cosines differ in the last bit.
double cosine(int k, int n) {
    k %= 2 * n;
    if (k > n) k = 2 * n - k;
    const bool behind = 2 * k > n;
    if (behind) k = n - k;
    constexpr double pi = 3.14159265358979323846;
    const double angle = pi * k / n;
    double sum = 1, term = 1;
    for (int i = 1; i < 28; i += 2) sum += term *= -angle * angle / (i * (i + 1));
    return behind ? -sum : sum;
}

/// [wave][step], steps 0 to n.
Sheet cosines(int waves, int n) {
    Sheet out(waves, n + 1);
    for (int w = 0; w < waves; ++w)
        for (int x = 0; x <= n; ++x) out(w, x) = cosine(w * x % (2 * n), n);
    return out;
}

Sheet mirrored(const Sheet& sheet) {
    Sheet out(sheet.across, sheet.down);
    for (int r = 0; r < sheet.down; ++r)
        for (int c = 0; c < sheet.across; ++c) out(c, r) = sheet(r, c);
    return out;
}

/// How often a step, or a wave, stands for itself and its opposite on a ring of 2 n.
double copies(int x, int n) {
    return x == 0 || x == n ? 1 : 2;
}

/// to = left * right
void multiply(const Sheet& left, const Sheet& right, Sheet& to) {
    std::fill(to.numbers.begin(), to.numbers.end(), 0.0);
    for (int i = 0; i < left.down; ++i)
        for (int k = 0; k < left.across; ++k) {
            const double factor = left(i, k);
            const double* from = right.row(k);
            double* sum = to.row(i);
            for (int j = 0; j < right.across; ++j) sum[j] += factor * from[j];
        }
}

/// The waves of a ring of 2 rows by 2 columns, of which only even ones count; the shortest are left out.
class Ring {
public:
    Ring(int columns, int rows, int waves_across, int waves_down)
        : to_down_(cosines(waves_down, rows)),
          from_down_(mirrored(to_down_)),
          from_across_(cosines(waves_across, columns)),
          to_across_(mirrored(from_across_)),
          half_to_(rows + 1, waves_across),
          half_from_(waves_down, columns + 1) {
        const double all = 4.0 * rows * columns;
        for (int w = 0; w < waves_down; ++w)
            for (int x = 0; x <= rows; ++x) {
                to_down_(w, x) *= copies(x, rows);
                from_down_(x, w) *= copies(w, rows) / all;
            }
        for (int w = 0; w < waves_across; ++w)
            for (int x = 0; x <= columns; ++x) {
                to_across_(x, w) *= copies(x, columns);
                from_across_(w, x) *= copies(w, columns);
            }
    }

    void to_waves(const Sheet& steps, Sheet& waves) {
        multiply(steps, to_across_, half_to_);
        multiply(to_down_, half_to_, waves);
    }
    void from_waves(const Sheet& waves, Sheet& steps) {
        multiply(waves, from_across_, half_from_);
        multiply(from_down_, half_from_, steps);
    }

private:
    Sheet to_down_, from_down_, from_across_, to_across_, half_to_, half_from_;
};

int waves_for(double uses, int along, int across) {
    // As many as bound_kernel.cpp's modes, in a quarter of an ellipse.
    constexpr double for_each_use = 11;
    const double modes = std::max(24.0, for_each_use * uses);
    return std::min(along + 1, 2 + static_cast<int>(1.13 * std::sqrt(modes * along / across)));
}

/// As the kernel's search, with pairs counted by their steps: `h` is (pairs of a step) * (Y - even).
class Search {
public:
    Search(const Gaps& gaps, const Group& group)
        : gaps_(gaps),
          group_(group),
          columns_(gaps.columns),
          rows_(gaps.rows),
          uses_(static_cast<double>(group.cells) / group.fabrics),
          even_(uses_ / gaps.cells()),
          step_(stiffness * even_ / gaps.cells()),
          excess_(group.squares / group.cells * gaps.cells() - uses_ * gaps.cells()),
          ring_(columns_, rows_, waves_for(uses_, columns_, rows_), waves_for(uses_, rows_, columns_)),
          z_(rows_ + 1, columns_ + 1),
          u_(z_),
          sum_(z_),
          waves_(waves_for(uses_, rows_, columns_), waves_for(uses_, columns_, rows_)) {}

    void round() {
        for (int r = 0; r <= rows_; ++r)
            for (int c = 0; c <= columns_; ++c) {
                const double fits = fitting(r, c);
                sum_(r, c) = over * fits + (1 - over) * z_(r, c) + u_(r, c);
            }
        ring_.to_waves(sum_, waves_);
        waves_(0, 0) += lift_;
        const double lifted = std::max(0.0, waves_(0, 0));
        for (double& wave : waves_.numbers) wave = std::min(wave, 0.0);
        waves_(0, 0) -= lift_;
        used_lift_ = lift_;
        lift_ -= lifted - excess_;
        ring_.from_waves(waves_, u_);
        for (std::size_t k = 0; k < z_.numbers.size(); ++k) z_.numbers[k] = sum_.numbers[k] - u_.numbers[k];
    }

    Prices prices() const {
        const double mu = -2 * step_ * used_lift_ / (4.0 * rows_ * columns_); // Of J.
        Sheet kernel(rows_, columns_);                                        // G + mu J, semidefinite.
        std::vector<double> over_pull;
        for (int r = 0; r < rows_; ++r)
            for (int c = 0; c < columns_; ++c) {
                const double g = -2 * step_ * u_(r, c);
                kernel(r, c) = g + mu;
                const std::size_t gap = gaps_.index(r, c);
                if (gap == 0 || gaps_.barred[gap] || g <= gaps_.pull[gap]) continue;
                over_pull.insert(over_pull.end(), (r == 0 ? 1u : 2u) * (c == 0 ? 1u : 2u),
                                 g - gaps_.pull[gap]);
            }
        std::sort(over_pull.begin(), over_pull.end(), std::greater<>());
        over_pull.resize(std::min(over_pull.size(), at(std::max(0, group_.most - 1))));
        double own = kernel(0, 0) - mu;
        for (const double excess : over_pull) own += excess;
        Prices out{sums_over_cells(kernel), 0};
        double all = 0;
        for (double& sum : out.by_cell) {
            all += sum;
            sum = even_ * sum - own / 2;
        }
        const double share = static_cast<double>(group_.cells) / gaps_.cells();
        const double cells = gaps_.cells();
        out.fixed =
            -(share * even_ * all + mu * group_.squares) / 2 - rounding * std::abs(mu) * cells * cells;
        return out;
    }

private:
    static constexpr double stiffness = 2, over = 1.7, rounding = 1e-14; // As in bound_kernel.cpp.

    double pairs(int r, int c) const { return static_cast<double>(rows_ - r) * (columns_ - c); }

    double fitting(int r, int c) const {
        const double many = pairs(r, c);
        if (many == 0) return 0;
        const std::size_t gap = gaps_.index(r, c);
        if (gap == 0) return many * (1 - even_);
        if (gaps_.barred[gap]) return -many * even_;
        return std::max(z_(r, c) - u_(r, c) - gaps_.pull[gap] / (2 * step_), -many * even_);
    }

    /// Row sums of the kernel as a matrix over the cells.
    std::vector<double> sums_over_cells(const Sheet& kernel) const {
        // Over the columns first: from column c, steps reach c to the left and columns - 1 - c to the right.
        Sheet half(rows_, columns_);
        std::vector<double> until(at(std::max(rows_, columns_)));
        for (int r = 0; r < rows_; ++r) {
            double sum = 0;
            for (int c = 0; c < columns_; ++c) until[at(c)] = sum += kernel(r, c);
            for (int c = 0; c < columns_; ++c)
                half(r, c) = until[at(c)] + until[at(columns_ - 1 - c)] - kernel(r, 0);
        }
        std::vector<double> out(at(gaps_.cells()));
        for (int c = 0; c < columns_; ++c) {
            double sum = 0;
            for (int r = 0; r < rows_; ++r) until[at(r)] = sum += half(r, c);
            for (int r = 0; r < rows_; ++r)
                out[at(r * columns_ + c)] = until[at(r)] + until[at(rows_ - 1 - r)] - half(0, c);
        }
        return out;
    }

    const Gaps& gaps_;
    const Group& group_;
    int columns_, rows_;
    double uses_, even_, step_, excess_; // As in bound_kernel.cpp.
    Ring ring_;
    Sheet z_, u_, sum_, waves_;
    double lift_ = 0, used_lift_ = 0;
};

} // namespace

Prices wave_prices(const Gaps& gaps, const Group& group, int rounds) {
    constexpr int look_every = 10;
    Search search(gaps, group);
    Prices best;
    double best_worth = -1e300;
    for (int done = 1; done <= rounds; ++done) {
        search.round();
        if (done != rounds && (done % look_every != 0 || done < rounds / 2)) continue;
        Prices found = search.prices();
        double worth = found.fixed;
        for (const double price : found.by_cell) worth += price * group.cells / gaps.cells();
        if (worth <= best_worth) continue;
        best_worth = worth;
        best = std::move(found);
    }
    return best;
}

} // namespace motley::placement
