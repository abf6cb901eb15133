#include "cutting/cut_master.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::cutting {

namespace {

constexpr double tiny = 1e-9;
constexpr int most_pivots = 4000; // Of one call; falling short only leaves the prices a little worse.

} // namespace

Master::Master(std::vector<double> asked, std::vector<MasterColumn> first)
    : rows_(asked.size()), asked_(std::move(asked)), inverse_(rows_ * rows_), prices_(rows_) {
    expects(first.size() == rows_);
    for (std::size_t r = 0; r < rows_; ++r) columns_.push_back({{{static_cast<int>(r), -1.0}}, 0.0});
    for (std::size_t r = 0; r < rows_; ++r) {
        expects(first[r].entries.size() == 1 && first[r].entries.front().row == static_cast<int>(r));
        inverse(r, r) = 1 / first[r].entries.front().amount;
        amount_.push_back(asked_[r] * inverse(r, r));
        basis_.push_back(rows_ + r);
        columns_.push_back(std::move(first[r]));
    }
    in_basis_.assign(columns_.size(), 0);
    for (const std::size_t column : basis_) in_basis_[column] = 1;
    find_prices();
}

std::size_t Master::add(std::vector<MasterColumn> columns) {
    const std::size_t first = columns_.size() - rows_;
    for (MasterColumn& column : columns) columns_.push_back(std::move(column));
    in_basis_.resize(columns_.size());
    return first;
}

double Master::reduced_cost(const MasterColumn& column) const {
    double cost = column.cost;
    for (const auto& [row, amount] : column.entries) cost -= amount * prices_[static_cast<std::size_t>(row)];
    return cost;
}

double Master::cost() const {
    double sum = 0;
    for (std::size_t r = 0; r < rows_; ++r) sum += columns_[basis_[r]].cost * amount_[r];
    return sum;
}

std::vector<double> Master::amounts() const {
    std::vector<double> amounts(columns_.size() - rows_);
    for (std::size_t r = 0; r < rows_; ++r)
        if (basis_[r] >= rows_) amounts[basis_[r] - rows_] = std::max(0.0, amount_[r]);
    return amounts;
}

void Master::find_prices() {
    std::fill(prices_.begin(), prices_.end(), 0.0);
    for (std::size_t r = 0; r < rows_; ++r) {
        const double cost = columns_[basis_[r]].cost;
        if (cost == 0) continue;
        for (std::size_t c = 0; c < rows_; ++c) prices_[c] += cost * inverse(r, c);
    }
}

bool Master::pivot() {
    std::size_t entering = columns_.size();
    double best = -tiny;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        if (in_basis_[c]) continue;
        const double reduced = reduced_cost(columns_[c]) / (1 + columns_[c].cost);
        if (reduced < best) {
            best = reduced;
            entering = c;
        }
    }
    if (entering == columns_.size()) return false;
    std::vector<double> way(rows_);
    for (const auto& [row, amount] : columns_[entering].entries)
        for (std::size_t r = 0; r < rows_; ++r) way[r] += inverse(r, static_cast<std::size_t>(row)) * amount;
    std::size_t leaving = rows_;
    double step = 0;
    for (std::size_t r = 0; r < rows_; ++r) {
        if (way[r] <= tiny) continue;
        const double limit = std::max(0.0, amount_[r]) / way[r];
        // Ties to the lowest column keep the search from going round in circles.
        if (leaving == rows_ || limit < step - tiny || (limit < step + tiny && basis_[r] < basis_[leaving])) {
            step = limit;
            leaving = r;
        }
    }
    if (leaving == rows_) return false; // Cannot be: costs are not negative. Rounding, then.
    const double scale = 1 / way[leaving];
    for (std::size_t c = 0; c < rows_; ++c) inverse(leaving, c) *= scale;
    amount_[leaving] = step;
    for (std::size_t r = 0; r < rows_; ++r) {
        if (r == leaving || way[r] == 0) continue;
        for (std::size_t c = 0; c < rows_; ++c) inverse(r, c) -= way[r] * inverse(leaving, c);
        amount_[r] -= way[r] * step;
    }
    in_basis_[basis_[leaving]] = 0;
    basis_[leaving] = entering;
    in_basis_[entering] = 1;
    return true;
}

void Master::solve() {
    for (int i = 0; i < most_pivots && pivot(); ++i) find_prices();
    find_prices();
}

} // namespace motley::cutting
