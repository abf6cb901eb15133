#pragma once
/// How good a placed top is, in numbers that mean the same on every size: 1 is what a random shuffle of the
/// same units gives.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "palette/palette.h"

namespace motley::layout {

struct Assignment;
struct Brief;
struct Rules;

struct Score {
    int touching = 0;                   ///< Pairs of patches that break the touching rule.
    std::map<std::string, int> closest; ///< Fabric id: fewest units between two uses; absent where used once,
                                        ///< and for exempt fabrics.
    std::optional<double> spread, colour, value; ///< Ratios to a shuffle; empty where undefined.
    /// What `spread` cannot be under with these counts (placement/bound.h); `judge` leaves it empty.
    std::optional<double> spread_bound;
    std::vector<std::string> broken; ///< One sentence for every rule that does not hold.
};

/// The whole score, from nothing but the brief and the assignment. O(N^2) in patches of one fabric, O(N)
/// otherwise.
///
/// Let a shuffle move the units over the cells, each of the N! orders alike; a cell keeps its turn.
///  spread = S / E[S], S = sum over unordered pairs of patches of one fabric, not exempt, of 1/d^2 (d between
///  patch centres, unit widths). colour = the same over pairs of different fabrics, neither exempt, with d <=
///  3, each weighted by exp(-(dE00/20)^2). value, aim even: mean over all full 4 x 4 windows of cells of
///  (mean L* in the window - mean L*)^2, over (s^2/16)(N-16)/(N-1),
///    s^2 the population variance of L* over the cells (variance of a mean of 16 drawn without replacement).
///  value, other aims: mean over cells of (L* - aim)^2 over its mean over all pairs of unit and cell.
///  L* of a cell is the mean over its patches by area. Where cells are absent (see Board), N counts units,
///  and windows are those that hold the most units, as many as they hold in the place of 16.
/// Undefined: fewer than 2 cells, tops narrower than a window or with at most 16 cells, an expectation of 0.
Score judge(const Brief& brief, const Assignment& assignment);

/// A figure before the ratio is taken: what was found, and what a shuffle gives on average.
struct Sum {
    double found = 0, expected = 0;
};

/// The sums behind `judge`'s ratios; `value` in L* squared. Zero where undefined.
struct Sums {
    Sum spread, colour, value;
};
Sums sums(const Brief& brief, const Assignment& assignment);

/// How strongly two fabrics count towards `colour`, [0, 1]: exp(-(dE00/20)^2), 0 for a fabric with itself and
/// where one is exempt. [a * fabrics + b]
std::vector<double> likeness(const Brief& brief);

/// The sentences for rules that do not hold; empty when all do. `touching` receives the number of touching
/// pairs when not null.
std::vector<std::string> broken_rules(const Brief& brief, const Assignment& assignment,
                                      int* touching = nullptr);

/// Whether two fabrics count as the same under the rules: [a * fabrics + b]. Exempt fabrics never do, not
/// even with themselves.
std::vector<char> same_fabric(const Brief& brief);
std::vector<char> same_fabric(const Rules& rules, const std::vector<palette::Fabric>& fabrics);

} // namespace motley::layout
