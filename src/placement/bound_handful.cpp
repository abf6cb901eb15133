#include "placement/bound_handful.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <utility>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

constexpr double never = 1e9; // Of a barred pair.

double total(const Prices& prices) {
    double sum = prices.fixed;
    for (const double price : prices.by_cell) sum += price;
    return sum;
}

class Choice {
public:
    Choice(const Gaps& gaps, const std::vector<double>& price, int uses, std::int64_t& steps)
        : uses_(uses), cells_(gaps.cells()), steps_(steps), open_(at(uses)) {
        order(gaps);
        for (const int a : order_)
            for (const int b : order_) {
                const std::size_t gap = gaps.index(std::abs(a / gaps.columns - b / gaps.columns),
                                                   std::abs(a % gaps.columns - b % gaps.columns));
                pull_.push_back(gaps.barred[gap] ? never : gaps.pull[gap]);
            }
        for (int k = 0; k < cells_; ++k) open_[0].push_back({-price[at(order_[at(k)])], k});
        farthest_ = never;
        for (std::size_t gap = 1; gap < gaps.pull.size(); ++gap)
            if (!gaps.barred[gap]) farthest_ = std::min(farthest_, gaps.pull[gap]);
    }

    std::optional<double> least() {
        for (const int first : firsts_) greedy(first);
        for (const int first : firsts_) {
            if (steps_ < 0) return std::nullopt;
            go_on(0, first, at(first) + 1, open_[0][at(first)].cost);
        }
        if (steps_ < 0 || best_ >= never / 2) return std::nullopt;
        return best_;
    }
    /// The same for the sets that hold a cell, for each cell. Empty when the steps do not suffice.
    std::vector<double> least_with_each() {
        std::vector<double> out(at(cells_));
        for (std::size_t f = 0; f < firsts_.size(); ++f) {
            const int first = firsts_[f];
            best_ = never;
            greedy(first);
            const double own = std::exchange(open_[0][at(first)].cost, never);
            go_on(0, first, 0, own);
            open_[0][at(first)].cost = own;
            if (steps_ < 0 || best_ >= never / 2) return {};
            const int end = f + 1 < firsts_.size() ? firsts_[f + 1] : cells_;
            for (int k = first; k < end; ++k) out[at(order_[at(k)])] = best_;
        }
        return out;
    }

private:
    /// Mirror images one after the other. A set's first cell in this order may be taken to be the first of
    /// its images: mirrored, the others still come later.
    void order(const Gaps& gaps) {
        for (int r = 0; 2 * r < gaps.rows; ++r)
            for (int c = 0; 2 * c < gaps.columns; ++c) {
                firsts_.push_back(static_cast<int>(order_.size()));
                for (const int down : {r, gaps.rows - 1 - r})
                    for (const int across : {c, gaps.columns - 1 - c})
                        if (const int cell = down * gaps.columns + across;
                            std::find(order_.begin() + firsts_.back(), order_.end(), cell) == order_.end())
                            order_.push_back(cell);
            }
    }

    const double* pulls(int k) const { return &pull_[at(k) * at(cells_)]; }

    /// Only to have something to beat.
    void greedy(int first) {
        std::vector<double> cost;
        for (const Open& open : open_[0]) cost.push_back(open.cost);
        double sum = 0;
        for (int taken = 0, next = first;;
             next = static_cast<int>(std::min_element(cost.begin(), cost.end()) - cost.begin())) {
            sum += cost[at(next)];
            if (++taken == uses_) break;
            for (int k = 0; k < cells_; ++k) cost[at(k)] += pulls(next)[k];
            cost[at(next)] += never;
        }
        best_ = std::min(best_, sum);
    }

    /// Cell k is number `taken` (from 0) and all so far cost `sum`: goes on with the open ones from `from`.
    void go_on(int taken, int k, std::size_t from, double sum) {
        const int more = uses_ - taken - 1;
        if (more == 0) {
            best_ = std::min(best_, sum);
            return;
        }
        const std::vector<Open>& now = open_[at(taken)];
        const double* pull = pulls(k);
        steps_ -= static_cast<std::int64_t>(now.size() - from);
        if (steps_ < 0) return;
        if (more == 1) {
            double least = never;
            for (std::size_t m = from; m < now.size(); ++m)
                least = std::min(least, now[m].cost + pull[now[m].cell]);
            best_ = std::min(best_, sum + least);
            return;
        }
        std::vector<Open>& next = open_[at(taken + 1)];
        next.clear();
        std::array<double, most_handful> least;
        least.fill(never);
        for (std::size_t m = from; m < now.size(); ++m) {
            double cost = now[m].cost + pull[now[m].cell];
            next.push_back({cost, now[m].cell});
            for (std::size_t l = 0; l + 1 < at(more); ++l)
                if (cost < least[l]) std::swap(cost, least[l]);
        }
        // Besides one, the least that the others can cost: each at its cheapest, all as far apart as can be.
        // What is too dear even so can be left out from here on.
        const double among = sum + farthest_ * more * (more - 1) / 2;
        double others = among;
        for (std::size_t l = 0; l + 1 < at(more); ++l) others += least[l];
        std::erase_if(next, [&](const Open& one) { return one.cost + others >= best_; });
        // Cheapest first: then those that come after one cost no less.
        if (more > 2)
            std::sort(next.begin(), next.end(), [](const Open& a, const Open& b) {
                return a.cost < b.cost || (a.cost == b.cost && a.cell < b.cell);
            });
        for (std::size_t m = 0; m + at(more) <= next.size(); ++m) {
            double all = others + next[m].cost;
            if (more > 2) {
                all = among;
                for (std::size_t l = m; l < m + at(more); ++l) all += next[l].cost;
                if (all >= best_) break;
            }
            if (all < best_) go_on(taken + 1, next[m].cell, m + 1, sum + next[m].cost);
        }
    }

    static constexpr int most_handful = 8;

    struct Open {
        double cost; // Its price, less, and the pulls of those taken.
        int cell;
    };

    int uses_, cells_;
    std::int64_t& steps_;
    std::vector<int> order_, firsts_;
    std::vector<double> pull_;
    std::vector<std::vector<Open>> open_; // [taken] those that may come next.
    double farthest_ = 0, best_ = never;
};

} // namespace

std::optional<double> cheapest_handful(const Gaps& gaps, const std::vector<double>& price, int uses,
                                       std::int64_t& steps) {
    return Choice(gaps, price, uses, steps).least();
}

void sharpen(const Gaps& gaps, const std::vector<int>& uses, bool alone, Prices& prices) {
    constexpr int most_cells = 600, most_rounds = 8;
    constexpr std::int64_t work = 60'000'000; // Looks at a cell; some 0.06 s.
    if (uses.empty() || uses.front() > most_sharpened_uses || gaps.cells() > most_cells) return;
    std::int64_t steps = work;
    double fixed = 0;
    for (std::size_t f = 0; f < uses.size();) {
        const auto alike = std::count(uses.begin(), uses.end(), uses[f]);
        const std::optional<double> least = cheapest_handful(gaps, prices.by_cell, uses[f], steps);
        if (!least) return;
        fixed += static_cast<double>(alike) * *least;
        f += static_cast<std::size_t>(alike);
    }
    prices.fixed = std::max(prices.fixed, fixed);
    if (!alone || uses.front() != uses.back()) return;
    double best = total(prices);
    std::vector<double> price = prices.by_cell;
    for (int round = 0; round < most_rounds; ++round) {
        // At the best prices every cell is in some cheapest set: a cell that is in none can cost more.
        const std::vector<double> least = Choice(gaps, price, uses.front(), steps).least_with_each();
        if (least.empty()) return;
        Prices found{price, *std::min_element(least.begin(), least.end()) * static_cast<double>(uses.size())};
        if (const double worth = total(found); worth > best) {
            best = worth;
            prices = std::move(found);
        }
        double mean = 0;
        for (const double x : least) mean += x / gaps.cells();
        constexpr double pace = 0.3;
        for (std::size_t cell = 0; cell < price.size(); ++cell) price[cell] += pace * (least[cell] - mean);
    }
}

} // namespace motley::placement
