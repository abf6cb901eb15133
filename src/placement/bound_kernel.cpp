#include "placement/bound_kernel.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "placement/bound_fold.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Smooth enough for the kernel, which has about two and a half axes for each use of a fabric.
int modes_for(const Gaps& gaps, double uses) {
    constexpr int fewest = 24, most = 160, for_each_use = 16;
    return std::min(gaps.cells(), std::clamp(static_cast<int>(for_each_use * uses), fewest, most));
}

/// One group's search: alternating directions (ADMM, over-relaxed) between "Y fits the rules" and "Y - m
/// m'/F, seen by the modes, is semidefinite". m is the group's share of each cell, the diagonal of Y.
class Search {
public:
    Search(const Gaps& gaps, const Group& group, bool alone)
        : gaps_(gaps),
          group_(group),
          alone_(alone),
          uses_(static_cast<double>(group.cells) / group.fabrics),
          step_((alone ? 2.0 : 1.0) / group.fabrics),
          over_(alone ? 1.7 : 1.2),
          excess_((group.squares - uses_ * group.cells) / gaps.cells()),
          fold_(gaps.columns, gaps.rows, modes_for(gaps, uses_)),
          y_(fold_.slabs()),
          z_(y_),
          u_(y_),
          slope_(y_),
          least_(y_),
          most_(y_) {
        for (int kind = 0; kind < Fold::kinds; ++kind) spectra_.emplace_back(fold_.modes(kind));
        for (int s = 0; s < Fold::kinds; ++s)
            for (int i = 0, k = 0; i < fold_.quarter(); ++i)
                for (int j = 0; j < fold_.quarter(); ++j, ++k) {
                    const std::size_t gap = gap_of(i, s, j);
                    slope_[at(s)][at(k)] = gaps.pull[gap] / (2 * step_);
                    least_[at(s)][at(k)] = gap == 0 ? -1e9 : 0;
                    most_[at(s)][at(k)] = gap != 0 && gaps.barred[gap] ? 0 : 1e9;
                }
    }

    const Fold& fold() const { return fold_; }
    double stiffness() const { return step_; }

    /// The first half of a round, with the shares as they are. Returns the shares that the group would like.
    std::vector<double> fit(const std::vector<double>& share) {
        const int n = fold_.quarter();
        for (std::size_t s = 0; s < Fold::kinds; ++s)
            for (int i = 0; i < n; ++i) {
                const std::size_t from = at(i * n);
                double* z = &z_[s][from];
                const double *u = &u_[s][from], *slope = &slope_[s][from], *least = &least_[s][from],
                             *most = &most_[s][from], *there = share.data();
                const double here = share[at(i)] / group_.fabrics;
                for (int j = 0; j < n; ++j) {
                    const double even = here * there[j], wanted = z[j] + even - u[j] - slope[j];
                    const double fits = std::min(std::max(wanted, least[j]), most[j]);
                    z[j] = over_ * (fits - even) + (1 - over_) * z[j] + u[j];
                }
            }
        // The diagonal has been left as it was: what it would like is found from what came of it.
        std::vector<double> liked(at(n));
        const std::vector<double> pays = alone_ ? std::vector<double>(at(n)) : row_sums(share);
        wanted_.resize(at(n));
        for (int i = 0; i < n; ++i) {
            const double even = share[at(i)] * share[at(i)] / group_.fabrics;
            wanted_[at(i)] = last_z_.empty() ? even : last_z_[at(i)] + even - u_[0][at(i * n + i)];
            liked[at(i)] = wanted_[at(i)] - pays[at(i)] / group_.fabrics / step_;
        }
        return liked;
    }

    /// The second half, with the shares that the group was given.
    void close(const std::vector<double>& share) {
        const int n = fold_.quarter();
        for (int s = 0; s < Fold::kinds; ++s)
            for (int i = 0; i < n; ++i)
                if (gap_of(i, s, i) == 0) z_[at(s)][at(i * n + i)] += over_ * (share[at(i)] - wanted_[at(i)]);
        y_ = z_;
        Fold::Parts seen = fold_.seen_by_modes(y_);
        Fold::Parts back;
        seen[0].at(0, 0) += lift_;
        for (std::size_t kind = 0; kind < Fold::kinds; ++kind) {
            spectra_[kind].follow(seen[kind]);
            back[kind] = spectra_[kind].part_below_zero();
        }
        const double lifted = seen[0].at(0, 0) - back[0].at(0, 0);
        back[0].at(0, 0) -= lift_;
        used_lift_ = lift_;
        lift_ -= lifted - excess_; // The constant mode is known: the sum of n_f^2.
        fold_.from_modes(back, u_);
        for (std::size_t s = 0; s < Fold::kinds; ++s)
            for (std::size_t k = 0; k < z_[s].size(); ++k) z_[s][k] -= u_[s][k];
        last_z_.resize(at(n));
        for (int i = 0; i < n; ++i) last_z_[at(i)] = z_[0][at(i * n + i)];
    }

    /// What the kernel of the last round proves, with u the shares over the number of fabrics.
    Prices prices(const std::vector<double>& share) const {
        const int n = fold_.quarter();
        const std::vector<double> sums = row_sums(share);
        std::vector<double> price(at(n)), over_pull;
        double all = 0;
        for (int i = 0; i < n; ++i) {
            over_pull.clear();
            for (int s = 0; s < Fold::kinds; ++s)
                for (int j = 0; j < n; ++j) {
                    const std::size_t gap = gap_of(i, s, j);
                    if (gap == 0 || gaps_.barred[gap] || fold_.repeats(s, j)) continue;
                    if (const double excess = g(s, i, j) - gaps_.pull[gap]; excess > 0)
                        over_pull.push_back(excess);
                }
            all += fold_.weight(i) * share[at(i)] * sums[at(i)];
            price[at(i)] =
                sums[at(i)] / group_.fabrics - (g(0, i, i) + largest(over_pull, group_.most - 1)) / 2;
        }
        Prices out;
        for (int cell = 0; cell < gaps_.cells(); ++cell) out.by_cell.push_back(price[at(fold_.folded(cell))]);
        out.fixed = -(all / group_.fabrics + mu() / gaps_.cells() * group_.squares) / 2 -
                    rounding * std::abs(mu()) * gaps_.cells();
        return out;
    }

private:
    std::size_t gap_of(int i, int s, int j) const {
        return gaps_.index(fold_.row_step(i, s, j), fold_.column_step(i, s, j));
    }
    /// G: u_ is (H - mu J/N) / (-2 step), H built from a semidefinite part, whatever was rounded on the way.
    double g(int s, int i, int j) const { return -2 * step_ * u_[at(s)][at(i * fold_.quarter() + j)]; }
    double mu() const { return -2 * step_ * used_lift_; }

    /// For each cell and unit of mu, which is added and taken away again: many times what can be lost.
    static constexpr double rounding = 1e-14;

    /// H times the shares.
    std::vector<double> row_sums(const std::vector<double>& share) const {
        const int n = fold_.quarter();
        double cells = 0;
        for (int j = 0; j < n; ++j) cells += fold_.weight(j) * share[at(j)];
        std::vector<double> out(at(n), mu() / gaps_.cells() * cells);
        for (int s = 0; s < Fold::kinds; ++s)
            for (int i = 0; i < n; ++i)
                for (int j = 0; j < n; ++j)
                    out[at(i)] += g(s, i, j) * share[at(j)] * fold_.weight(j) / Fold::kinds;
        return out;
    }

    static double largest(std::vector<double>& numbers, int many) {
        const std::size_t count = std::min(numbers.size(), at(std::max(0, many)));
        std::partial_sort(numbers.begin(), numbers.begin() + static_cast<std::ptrdiff_t>(count),
                          numbers.end(), std::greater<>());
        double sum = 0;
        for (std::size_t k = 0; k < count; ++k) sum += numbers[k];
        return sum;
    }

    const Gaps& gaps_;
    const Group& group_;
    bool alone_;    // It covers everything: its shares are all 1.
    double uses_;   // Of a fabric, on average.
    double step_;   // How stiffly the two sides are held together.
    double over_;   // Over-relaxation. Both tried on 6 x 9 to 20 x 24; shares on the move want them gentle.
    double excess_; // Of the constant mode over an even Y.
    Fold fold_;
    Fold::Slabs y_, z_, u_, slope_, least_, most_;
    std::vector<Spectrum> spectra_;
    std::vector<double> wanted_, last_z_; // On the diagonal.
    double lift_ = 0, used_lift_ = 0;
};

} // namespace

std::vector<Prices> kernel_prices(const Gaps& gaps, const std::vector<Group>& groups, int rounds) {
    constexpr int look_every = 10;
    constexpr double worth_a_look = 0.0005; // Of the floor: where a look brings less, the search is over.
    constexpr double settling = 0.4;        // Faster, and shares and kernels chase each other.
    std::vector<Search> searches;
    std::vector<double> stiffness;
    for (const Group& group : groups)
        if (group.fabrics > 0) {
            searches.emplace_back(gaps, group, groups.size() == 1);
            stiffness.push_back(searches.back().stiffness());
        }
    std::vector<int> weight;
    for (int i = 0; i < searches.front().fold().quarter(); ++i)
        weight.push_back(searches.front().fold().weight(i));
    Cover cover(groups, weight);
    stiffness.resize(groups.size(), stiffness.front());
    std::vector<std::vector<double>> steady = cover.shares();
    std::vector<Prices> best;
    double best_worth = -1e300;
    for (int done = 1; done <= rounds; ++done) {
        std::vector<std::vector<double>> liked = cover.shares();
        for (std::size_t g = 0; g < searches.size(); ++g) liked[g] = searches[g].fit(steady[g]);
        if (done > rounds / 4) cover.settle(liked, stiffness);
        for (std::size_t g = 0; g < searches.size(); ++g) {
            searches[g].close(cover.shares()[g]);
            for (std::size_t i = 0; i < weight.size(); ++i)
                steady[g][i] += settling * (cover.shares()[g][i] - steady[g][i]);
        }
        if (done != rounds && (done % look_every != 0 || done < rounds / 4)) continue;
        std::vector<Prices> found;
        for (std::size_t g = 0; g < searches.size(); ++g) found.push_back(searches[g].prices(steady[g]));
        found.resize(groups.size(), {std::vector<double>(at(gaps.cells())), 0});
        const double worth = least_cover(found, groups);
        if (worth <= best_worth) continue;
        const bool settled = groups.size() == 1 && worth - best_worth < worth_a_look * worth;
        best_worth = worth;
        best = std::move(found);
        if (settled) break;
    }
    return best;
}

} // namespace motley::placement
