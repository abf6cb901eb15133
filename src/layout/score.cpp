#include "layout/score.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "colour/difference.h"
#include "fault/fault.h"
#include "layout/contact.h"
#include "layout/layout.h"

namespace motley::layout {

namespace {

constexpr double colour_reach_squared = 9 + 1e-9; // d <= 3, whatever the rounding of a centroid.
constexpr int window = 4;

using Matrix = std::vector<double>; // [p * P + q] or [f * F + g]

/// A brief and an assignment, with the look-ups that every figure needs.
struct Placed {
    const Brief& brief;
    const Assignment& assignment;
    Contacts contacts;
    int patches, fabrics;

    Placed(const Brief& b, const Assignment& a)
        : brief(b),
          assignment(a),
          contacts(*b.recipe),
          patches(b.patches_per_unit()),
          fabrics(static_cast<int>(b.names.size())) {
        expects(assignment.patches.size() == static_cast<std::size_t>(brief.patches()));
        expects(assignment.turns.size() == static_cast<std::size_t>(brief.cells()));
    }

    int fabric(int cell, int p) const {
        return static_cast<int>(index(assignment.patches[static_cast<std::size_t>(cell * patches + p)]));
    }
    int turn(int cell) const { return assignment.turns[static_cast<std::size_t>(cell)]; }
    bool exempt(int fabric) const { return brief.exempt[static_cast<std::size_t>(fabric)] != 0; }
    double distance_squared(int a, int p, int b, int q) const {
        return contacts.distance_squared(b / brief.columns - a / brief.columns,
                                         b % brief.columns - a % brief.columns, p, turn(a), q, turn(b));
    }
};

/// For each pair of patch places p, q: the sum of 1/d^2 over unordered pairs of cells (the earlier with p,
/// the later with q), over all pairs and over those within the reach of `colour`.
struct PairSums {
    Matrix all, near;
};

PairSums pair_sums(const Placed& top) {
    const int columns = top.brief.columns, rows = top.brief.rows;
    const std::size_t places = static_cast<std::size_t>(top.patches);
    PairSums sums{Matrix(places * places), Matrix(places * places)};
    const bool one_turn = std::all_of(top.assignment.turns.begin(), top.assignment.turns.end(),
                                      [&](std::uint8_t t) { return t == top.assignment.turns[0]; });
    for (int dr = 0; dr < rows; ++dr)
        for (int dc = dr == 0 ? 1 : 1 - columns; dc < columns; ++dc) {
            std::int64_t pairs[4][4] = {};
            if (one_turn) {
                pairs[top.turn(0)][top.turn(0)] = std::int64_t{rows - dr} * (columns - std::abs(dc));
            } else {
                for (int r = 0; r + dr < rows; ++r)
                    for (int c = std::max(0, -dc); c < std::min(columns, columns - dc); ++c)
                        ++pairs[top.turn(r * columns + c)][top.turn((r + dr) * columns + c + dc)];
            }
            for (int t = 0; t < 4; ++t)
                for (int u = 0; u < 4; ++u) {
                    if (pairs[t][u] == 0) continue;
                    for (int p = 0; p < top.patches; ++p)
                        for (int q = 0; q < top.patches; ++q) {
                            const double d2 = top.contacts.distance_squared(dr, dc, p, t, q, u);
                            const double term = static_cast<double>(pairs[t][u]) / d2;
                            sums.all[static_cast<std::size_t>(p * top.patches + q)] += term;
                            if (d2 <= colour_reach_squared)
                                sums.near[static_cast<std::size_t>(p * top.patches + q)] += term;
                        }
                }
        }
    return sums;
}

/// Expectation under a shuffle of a sum over patch pairs with the given weights between fabrics and sums over
/// cell pairs.
double expected(const Placed& top, const Matrix& weight, const Matrix& cell_pairs) {
    const int cells = top.brief.cells(), P = top.patches;
    const std::size_t F = static_cast<std::size_t>(top.fabrics);
    std::vector<std::vector<double>> uses(static_cast<std::size_t>(P), std::vector<double>(F));
    for (int cell = 0; cell < cells; ++cell)
        for (int p = 0; p < P; ++p)
            uses[static_cast<std::size_t>(p)][static_cast<std::size_t>(top.fabric(cell, p))] += 1;
    double sum = 0;
    for (int p = 0; p < P; ++p)
        for (int q = 0; q < P; ++q) {
            double pairs =
                0; // Over ordered pairs of different units: the first shows f at p, the second g at q.
            for (std::size_t f = 0; f < F; ++f)
                for (std::size_t g = 0; g < F; ++g)
                    pairs += weight[f * F + g] * uses[static_cast<std::size_t>(p)][f] *
                             uses[static_cast<std::size_t>(q)][g];
            for (int cell = 0; cell < cells; ++cell)
                pairs -= weight[static_cast<std::size_t>(top.fabric(cell, p)) * F +
                                static_cast<std::size_t>(top.fabric(cell, q))];
            sum += pairs / (static_cast<double>(cells) * (cells - 1)) *
                   cell_pairs[static_cast<std::size_t>(p * P + q)];
        }
    return sum;
}

/// The part of a sum that lies inside units, which no shuffle changes.
double inside(const Placed& top, const Matrix& weight, double reach_squared) {
    double sum = 0;
    for (int cell = 0; cell < top.brief.cells(); ++cell)
        for (int p = 0; p < top.patches; ++p)
            for (int q = p + 1; q < top.patches; ++q) {
                const double d2 = top.distance_squared(cell, p, cell, q);
                const int f = top.fabric(cell, p), g = top.fabric(cell, q);
                if (d2 > 0 && d2 <= reach_squared)
                    sum += weight[static_cast<std::size_t>(f * top.fabrics + g)] / d2;
            }
    return sum;
}

std::optional<double> ratio(const Sum& sum) {
    if (!(sum.expected > 1e-12)) return std::nullopt;
    return sum.found / sum.expected;
}

Sum spread(const Placed& top, const PairSums& pairs) {
    const std::size_t F = static_cast<std::size_t>(top.fabrics);
    Matrix same(F * F);
    for (std::size_t f = 0; f < F; ++f) same[f * F + f] = top.brief.exempt[f] ? 0 : 1;
    std::vector<std::vector<int>> places(F); // Patches of each fabric.
    for (int patch = 0; patch < top.brief.patches(); ++patch)
        places[static_cast<std::size_t>(top.fabric(patch / top.patches, patch % top.patches))].push_back(
            patch);
    double found = 0;
    for (std::size_t f = 0; f < F; ++f) {
        if (top.brief.exempt[f]) continue;
        for (std::size_t i = 0; i < places[f].size(); ++i)
            for (std::size_t j = i + 1; j < places[f].size(); ++j) {
                const int a = places[f][i], b = places[f][j];
                const double d2 =
                    top.distance_squared(a / top.patches, a % top.patches, b / top.patches, b % top.patches);
                if (d2 > 0) found += 1 / d2;
            }
    }
    const double within = inside(top, same, 1e9);
    return {found, expected(top, same, pairs.all) + within};
}

Sum colour(const Placed& top, const PairSums& pairs) {
    const Matrix like = likeness(top.brief);
    const int columns = top.brief.columns, rows = top.brief.rows, P = top.patches;
    constexpr int reach = 4; // Centres at most 3 apart lie in cells less than 4 apart.
    double found = 0;
    for (int a = 0; a < top.brief.cells(); ++a)
        for (int dr = 0; dr <= std::min(reach, rows - 1 - a / columns); ++dr)
            for (int dc = dr == 0 ? 1 : -reach; dc <= reach; ++dc) {
                if (a % columns + dc < 0 || a % columns + dc >= columns) continue;
                const int b = a + dr * columns + dc;
                for (int p = 0; p < P; ++p)
                    for (int q = 0; q < P; ++q) {
                        const double d2 = top.distance_squared(a, p, b, q);
                        if (d2 <= colour_reach_squared)
                            found += like[static_cast<std::size_t>(top.fabric(a, p) * top.fabrics +
                                                                   top.fabric(b, q))] /
                                     d2;
                    }
            }
    const double within = inside(top, like, colour_reach_squared);
    return {found + within, expected(top, like, pairs.near) + within};
}

std::vector<double> cell_lightness(const Placed& top) {
    std::vector<double> light(static_cast<std::size_t>(top.brief.cells()));
    for (int cell = 0; cell < top.brief.cells(); ++cell)
        for (int p = 0; p < top.patches; ++p)
            light[static_cast<std::size_t>(cell)] +=
                top.brief.recipe->patches[static_cast<std::size_t>(p)].area *
                top.brief.labs[static_cast<std::size_t>(top.fabric(cell, p))].l;
    return light;
}

struct Moments {
    double mean = 0, variance = 0;
};

Moments moments(const std::vector<double>& numbers) {
    Moments m;
    for (const double x : numbers) m.mean += x / static_cast<double>(numbers.size());
    for (const double x : numbers)
        m.variance += (x - m.mean) * (x - m.mean) / static_cast<double>(numbers.size());
    return m;
}

Sum evenness(const Placed& top) {
    const int columns = top.brief.columns, rows = top.brief.rows;
    const double cells = top.brief.cells();
    constexpr double in_window = window * window;
    if (columns < window || rows < window || cells <= in_window) return {};
    const std::vector<double> light = cell_lightness(top);
    const Moments all = moments(light);
    double found = 0;
    for (int r = 0; r + window <= rows; ++r)
        for (int c = 0; c + window <= columns; ++c) {
            double sum = 0;
            for (int i = 0; i < window; ++i)
                for (int j = 0; j < window; ++j)
                    sum += light[static_cast<std::size_t>((r + i) * columns + c + j)];
            found += (sum / in_window - all.mean) * (sum / in_window - all.mean);
        }
    found /= static_cast<double>((rows - window + 1) * (columns - window + 1));
    return {found, all.variance / in_window * (cells - in_window) / (cells - 1)};
}

Sum nearness_to_aim(const Placed& top) {
    const std::vector<double> light = cell_lightness(top);
    double found = 0;
    for (std::size_t cell = 0; cell < light.size(); ++cell)
        found += (light[cell] - top.brief.aim[cell]) * (light[cell] - top.brief.aim[cell]) /
                 static_cast<double>(light.size());
    const Moments have = moments(light), want = moments(top.brief.aim);
    return {found, have.variance + want.variance + (have.mean - want.mean) * (have.mean - want.mean)};
}

std::map<std::string, int> closest(const Placed& top) {
    std::map<std::string, int> steps;
    std::vector<std::vector<int>> cells(static_cast<std::size_t>(top.fabrics));
    for (int patch = 0; patch < top.brief.patches(); ++patch) {
        auto& list = cells[static_cast<std::size_t>(top.fabric(patch / top.patches, patch % top.patches))];
        if (list.empty() || list.back() != patch / top.patches) list.push_back(patch / top.patches);
    }
    for (std::size_t f = 0; f < cells.size(); ++f) {
        if (top.brief.exempt[f] || cells[f].size() < 2) continue;
        int least = top.brief.cells();
        for (std::size_t i = 0; i < cells[f].size(); ++i)
            for (std::size_t j = i + 1; j < cells[f].size(); ++j) {
                const int a = cells[f][i], b = cells[f][j];
                const int row_step = b / top.brief.columns - a / top.brief.columns;
                if (row_step >= least) break; // Cells are in row order: later ones lie further down still.
                least = std::min(least,
                                 std::max(row_step, std::abs(b % top.brief.columns - a % top.brief.columns)));
            }
        steps[top.brief.names[f]] = least;
    }
    return steps;
}

} // namespace

Sums sums(const Brief& brief, const Assignment& assignment) {
    const Placed top(brief, assignment);
    Sums out;
    if (brief.cells() > 1) {
        const PairSums pairs = pair_sums(top);
        out.spread = spread(top, pairs);
        out.colour = colour(top, pairs);
    }
    out.value = brief.aim.empty() ? evenness(top) : nearness_to_aim(top);
    return out;
}

Score judge(const Brief& brief, const Assignment& assignment) {
    const Sums figures = sums(brief, assignment);
    Score score;
    score.broken = broken_rules(brief, assignment, &score.touching);
    score.closest = closest(Placed(brief, assignment));
    score.spread = ratio(figures.spread);
    score.colour = ratio(figures.colour);
    score.value = ratio(figures.value);
    return score;
}

std::vector<double> likeness(const Brief& brief) {
    const std::size_t fabrics = brief.names.size();
    std::vector<double> like(fabrics * fabrics);
    for (std::size_t f = 0; f < fabrics; ++f)
        for (std::size_t g = 0; g < f; ++g) {
            if (brief.exempt[f] || brief.exempt[g]) continue;
            const double difference = colour::ciede2000(brief.labs[f], brief.labs[g]) / 20;
            like[f * fabrics + g] = like[g * fabrics + f] = std::exp(-difference * difference);
        }
    return like;
}

std::vector<char> same_fabric(const Brief& brief) {
    const std::size_t fabrics = brief.names.size();
    std::vector<char> same(fabrics * fabrics, 0);
    for (std::size_t f = 0; f < fabrics; ++f)
        for (std::size_t g = 0; g <= f; ++g) {
            if (brief.exempt[f] || brief.exempt[g]) continue;
            const bool alike =
                f == g || (brief.rules.same_if_closer_than > 0 &&
                           colour::ciede2000(brief.labs[f], brief.labs[g]) < brief.rules.same_if_closer_than);
            same[f * fabrics + g] = same[g * fabrics + f] = alike;
        }
    return same;
}

} // namespace motley::layout
