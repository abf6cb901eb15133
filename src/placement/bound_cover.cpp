#include "placement/bound_cover.h"

#include <algorithm>

namespace motley::placement {

double least_cover(const std::vector<Prices>& prices, const std::vector<Group>& groups) {
    std::vector<double> discount(groups.size(), 0), gap;
    const std::size_t cells = prices.front().by_cell.size();
    const auto cheapest = [&](std::size_t cell, std::size_t except) {
        double least = 1e300;
        for (std::size_t g = 0; g < groups.size(); ++g)
            if (g != except) least = std::min(least, prices[g].by_cell[cell] - discount[g]);
        return least;
    };
    constexpr int passes = 20;
    for (int pass = 0; pass < passes && groups.size() > 1; ++pass)
        for (std::size_t g = 0; g < groups.size(); ++g) {
            gap.clear();
            for (std::size_t cell = 0; cell < cells; ++cell)
                gap.push_back(prices[g].by_cell[cell] - cheapest(cell, g));
            const auto last = gap.begin() + (groups[g].cells - 1);
            std::nth_element(gap.begin(), last, gap.end());
            discount[g] = *last;
        }
    double sum = 0;
    for (std::size_t cell = 0; cell < cells; ++cell) sum += cheapest(cell, groups.size());
    for (std::size_t g = 0; g < groups.size(); ++g) sum += discount[g] * groups[g].cells + prices[g].fixed;
    return sum;
}

Cover::Cover(std::vector<Group> groups, std::vector<int> weight)
    : groups_(std::move(groups)), weight_(std::move(weight)), toll_(groups_.size(), 0) {
    double cells = 0;
    for (const int w : weight_) cells += w;
    for (const Group& group : groups_) shares_.emplace_back(weight_.size(), group.cells / cells);
}

void Cover::settle(const std::vector<std::vector<double>>& wanted, const std::vector<double>& stiffness) {
    if (groups_.size() < 2) return;
    constexpr int sweeps = 4, halvings = 40;
    double cells = 0;
    for (const int w : weight_) cells += w;
    for (int sweep = 0; sweep < sweeps; ++sweep) {
        std::vector<double> given(groups_.size(), 0);
        for (std::size_t i = 0; i < weight_.size(); ++i) {
            // The price of the place, which all pay: where the shares add up to 1.
            const auto sum = [&](double price) {
                double all = 0;
                for (std::size_t g = 0; g < groups_.size(); ++g)
                    all += std::max(0.0, wanted[g][i] - (price + toll_[g]) / stiffness[g]);
                return all;
            };
            double low = 1e300, high = -1e300;
            for (std::size_t g = 0; g < groups_.size(); ++g) {
                low = std::min(low, (wanted[g][i] - 1) * stiffness[g] - toll_[g]);
                high = std::max(high, wanted[g][i] * stiffness[g] - toll_[g]);
            }
            for (int k = 0; k < halvings; ++k) {
                const double middle = (low + high) / 2;
                (sum(middle) > 1 ? low : high) = middle;
            }
            for (std::size_t g = 0; g < groups_.size(); ++g) {
                shares_[g][i] = std::max(0.0, wanted[g][i] - (low + toll_[g]) / stiffness[g]);
                given[g] += weight_[i] * shares_[g][i];
            }
        }
        for (std::size_t g = 0; g < groups_.size(); ++g)
            toll_[g] += stiffness[g] * (given[g] - groups_[g].cells) / cells;
    }
}

} // namespace motley::placement
