#include "layout/score.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
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
    int units; ///< Cells that hold one.

    Placed(const Brief& b, const Assignment& a)
        : brief(b),
          assignment(a),
          contacts(b.forms, b.board),
          patches(b.patches_per_unit()),
          fabrics(static_cast<int>(b.names.size())),
          units(b.board.units()) {
        expects(assignment.patches.size() == static_cast<std::size_t>(brief.patches()));
        expects(assignment.turns.size() == static_cast<std::size_t>(brief.cells()));
        expects(assignment.forms.empty() || assignment.forms.size() == assignment.turns.size());
    }

    int fabric(int cell, int p) const {
        return static_cast<int>(index(assignment.patches[static_cast<std::size_t>(cell * patches + p)]));
    }
    int turn(int cell) const { return assignment.turns[static_cast<std::size_t>(cell)]; }
    int form(int cell) const { return assignment.form(static_cast<std::size_t>(cell)); }
    bool present(int cell) const { return brief.board.present(cell); }
    double distance_squared(int a, int p, int b, int q) const {
        const int row = a / brief.columns;
        return contacts.distance_squared(brief.board.parity(row), b / brief.columns - row,
                                         b % brief.columns - a % brief.columns, p, pose(form(a), turn(a)), q,
                                         pose(form(b), turn(b)));
    }
};

/// Where patches can lie in their units: a form and a place in it. Kinds whose centres lie at the same point
/// have one *spot*: only that matters to distances.
struct Kinds {
    int places, forms;
    std::vector<int> spot;  ///< By kind: form * places + place.
    std::vector<int> first; ///< By spot: a kind that has it.

    explicit Kinds(const Placed& top) : places(top.patches), forms(static_cast<int>(top.brief.forms.size())) {
        for (int kind = 0; kind < forms * places; ++kind) {
            const unit::Point at = centre(top, kind);
            std::size_t s = 0;
            while (s < first.size() &&
                   std::hypot(at.x - centre(top, first[s]).x, at.y - centre(top, first[s]).y) > 1e-9)
                ++s;
            if (s == first.size()) first.push_back(kind);
            spot.push_back(static_cast<int>(s));
        }
    }

    int count() const { return forms * places; }
    int spots() const { return static_cast<int>(first.size()); }

private:
    unit::Point centre(const Placed& top, int kind) const {
        return top.contacts.centre(kind % places, pose(kind / places, 0));
    }
};

/// For each pair of spots p, q: the sum of 1/d^2 over unordered pairs of cells (the earlier with p, the later
/// with q), over all pairs and over those within the reach of `colour`.
struct PairSums {
    Matrix all, near;
};

/// Pairs of cells one step apart, by the turns of the two.
using Turns4 = std::array<std::array<std::int64_t, 4>, 4>;

Turns4 pairs_at(const Placed& top, int parity, int dr, int dc, bool alike) {
    const int columns = top.brief.columns, rows = top.brief.rows;
    Turns4 pairs{};
    if (alike) {
        const std::size_t turn = static_cast<std::size_t>(top.turn(0));
        pairs[turn][turn] = std::int64_t{rows - dr} * (columns - std::abs(dc));
        return pairs;
    }
    for (int r = 0; r + dr < rows; ++r) {
        if (top.brief.board.parity(r) != parity) continue;
        for (int c = std::max(0, -dc); c < std::min(columns, columns - dc); ++c) {
            const int a = r * columns + c, b = (r + dr) * columns + c + dc;
            if (top.present(a) && top.present(b))
                ++pairs[static_cast<std::size_t>(top.turn(a))][static_cast<std::size_t>(top.turn(b))];
        }
    }
    return pairs;
}

PairSums pair_sums(const Placed& top, const Kinds& kinds) {
    const int columns = top.brief.columns, rows = top.brief.rows, spots = kinds.spots();
    const std::size_t size = static_cast<std::size_t>(spots) * static_cast<std::size_t>(spots);
    PairSums sums{Matrix(size), Matrix(size)};
    const bool alike = top.brief.board.full() && !top.brief.board.bricks() &&
                       std::all_of(top.assignment.turns.begin(), top.assignment.turns.end(),
                                   [&](std::uint8_t t) { return t == top.assignment.turns[0]; });
    for (int parity = 0; parity < top.brief.board.parities(); ++parity)
        for (int dr = 0; dr < rows; ++dr)
            for (int dc = dr == 0 ? 1 : 1 - columns; dc < columns; ++dc) {
                const Turns4 pairs = pairs_at(top, parity, dr, dc, alike);
                for (int way = 0; way < 16; ++way) {
                    const int t = way / 4, u = way % 4;
                    const std::int64_t many = pairs[static_cast<std::size_t>(t)][static_cast<std::size_t>(u)];
                    if (many == 0) continue;
                    for (int p = 0; p < spots; ++p)
                        for (int q = 0; q < spots; ++q) {
                            const int one = kinds.first[static_cast<std::size_t>(p)],
                                      other = kinds.first[static_cast<std::size_t>(q)];
                            const double d2 = top.contacts.distance_squared(
                                parity, dr, dc, one % kinds.places, pose(one / kinds.places, t),
                                other % kinds.places, pose(other / kinds.places, u));
                            const double term = static_cast<double>(many) / d2;
                            sums.all[static_cast<std::size_t>(p * spots + q)] += term;
                            if (d2 <= colour_reach_squared)
                                sums.near[static_cast<std::size_t>(p * spots + q)] += term;
                        }
                }
            }
    return sums;
}

/// Expectation under a shuffle of a sum over patch pairs with the given weights between fabrics and sums over
/// cell pairs.
double expected(const Placed& top, const Kinds& kinds, const Matrix& weight, const Matrix& cell_pairs) {
    const int cells = top.brief.cells(), P = top.patches, K = kinds.count();
    const std::size_t F = static_cast<std::size_t>(top.fabrics);
    std::vector<std::vector<double>> uses(static_cast<std::size_t>(K), std::vector<double>(F));
    std::vector<char> used(static_cast<std::size_t>(kinds.forms), 0);
    for (int cell = 0; cell < cells; ++cell) {
        if (!top.present(cell)) continue;
        used[static_cast<std::size_t>(top.form(cell))] = 1;
        for (int p = 0; p < P; ++p)
            uses[static_cast<std::size_t>(top.form(cell) * P + p)]
                [static_cast<std::size_t>(top.fabric(cell, p))] += 1;
    }
    double sum = 0;
    for (int k = 0; k < K; ++k)
        for (int l = 0; l < K; ++l) {
            if (!used[static_cast<std::size_t>(k / P)] || !used[static_cast<std::size_t>(l / P)]) continue;
            double pairs =
                0; // Over ordered pairs of different units: the first shows f at k, the second g at l.
            for (std::size_t f = 0; f < F; ++f) {
                if (uses[static_cast<std::size_t>(k)][f] == 0) continue;
                for (std::size_t g = 0; g < F; ++g)
                    pairs += weight[f * F + g] * uses[static_cast<std::size_t>(k)][f] *
                             uses[static_cast<std::size_t>(l)][g];
            }
            if (k / P == l / P)
                for (int cell = 0; cell < cells; ++cell)
                    if (top.present(cell) && top.form(cell) == k / P)
                        pairs -= weight[static_cast<std::size_t>(top.fabric(cell, k % P)) * F +
                                        static_cast<std::size_t>(top.fabric(cell, l % P))];
            const int at = kinds.spot[static_cast<std::size_t>(k)] * kinds.spots() +
                           kinds.spot[static_cast<std::size_t>(l)];
            sum += pairs / (static_cast<double>(top.units) * (top.units - 1)) *
                   cell_pairs[static_cast<std::size_t>(at)];
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

Sum spread(const Placed& top, const Kinds& kinds, const PairSums& pairs) {
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
    return {found, expected(top, kinds, same, pairs.all) + within};
}

Sum colour(const Placed& top, const Kinds& kinds, const PairSums& pairs) {
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
    return {found + within, expected(top, kinds, like, pairs.near) + within};
}

std::vector<double> cell_lightness(const Placed& top) {
    std::vector<double> light(static_cast<std::size_t>(top.brief.cells()));
    for (int cell = 0; cell < top.brief.cells(); ++cell)
        for (std::size_t p = 0; p < top.brief.forms[static_cast<std::size_t>(top.form(cell))].patches.size();
             ++p)
            light[static_cast<std::size_t>(cell)] +=
                top.brief.forms[static_cast<std::size_t>(top.form(cell))].patches[p].area *
                top.brief.labs[static_cast<std::size_t>(top.fabric(cell, static_cast<int>(p)))].l;
    return light;
}

struct Moments {
    double mean = 0, variance = 0;
};

/// Of the cells that hold a unit.
Moments moments(const Placed& top, const std::vector<double>& numbers) {
    Moments m;
    const double many = top.units;
    for (std::size_t cell = 0; cell < numbers.size(); ++cell)
        if (top.present(static_cast<int>(cell))) m.mean += numbers[cell] / many;
    for (std::size_t cell = 0; cell < numbers.size(); ++cell)
        if (top.present(static_cast<int>(cell)))
            m.variance += (numbers[cell] - m.mean) * (numbers[cell] - m.mean) / many;
    return m;
}

Sum evenness(const Placed& top) {
    const Board& board = top.brief.board;
    const int columns = top.brief.columns;
    const double units = top.units, in_window = board.window_units();
    if (columns < window || top.brief.rows < window || in_window < 1 || units <= in_window) return {};
    const std::vector<double> light = cell_lightness(top);
    const Moments all = moments(top, light);
    double found = 0;
    int windows = 0;
    for (int first = 0; first < top.brief.cells(); ++first) {
        if (!board.window_counts(first)) continue;
        double sum = 0;
        for (int i = 0; i < window; ++i)
            for (int j = 0; j < window; ++j)
                if (const int cell = first + i * columns + j; board.present(cell))
                    sum += light[static_cast<std::size_t>(cell)];
        found += (sum / in_window - all.mean) * (sum / in_window - all.mean);
        ++windows;
    }
    found /= windows;
    return {found, all.variance / in_window * (units - in_window) / (units - 1)};
}

Sum nearness_to_aim(const Placed& top) {
    const std::vector<double> light = cell_lightness(top);
    double found = 0;
    for (std::size_t cell = 0; cell < light.size(); ++cell)
        if (top.present(static_cast<int>(cell)))
            found += (light[cell] - top.brief.aim[cell]) * (light[cell] - top.brief.aim[cell]) / top.units;
    const Moments have = moments(top, light), want = moments(top, top.brief.aim);
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
                const int row = a / top.brief.columns, row_step = b / top.brief.columns - row;
                if (row_step >= least) break; // Cells are in row order: later ones lie further down still.
                least = std::min(least, top.brief.board.apart(top.brief.board.parity(row), row_step,
                                                              b % top.brief.columns - a % top.brief.columns));
            }
        steps[top.brief.names[f]] = least;
    }
    return steps;
}

} // namespace

Sums sums(const Brief& brief, const Assignment& assignment) {
    const Placed top(brief, assignment);
    Sums out;
    if (brief.board.units() > 1) {
        const Kinds kinds(top);
        const PairSums pairs = pair_sums(top, kinds);
        out.spread = spread(top, kinds, pairs);
        out.colour = colour(top, kinds, pairs);
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

namespace {

std::vector<char> same_fabric(const std::vector<colour::Lab>& labs, const std::vector<char>& exempt,
                              double closer_than) {
    const std::size_t fabrics = labs.size();
    std::vector<char> same(fabrics * fabrics, 0);
    for (std::size_t f = 0; f < fabrics; ++f)
        for (std::size_t g = 0; g <= f; ++g) {
            if (exempt[f] || exempt[g]) continue;
            const bool alike =
                f == g || (closer_than > 0 && colour::ciede2000(labs[f], labs[g]) < closer_than);
            same[f * fabrics + g] = same[g * fabrics + f] = alike;
        }
    return same;
}

} // namespace

std::vector<char> same_fabric(const Brief& brief) {
    return same_fabric(brief.labs, brief.exempt, brief.rules.same_if_closer_than);
}

std::vector<char> same_fabric(const Rules& rules, const std::vector<palette::Fabric>& fabrics) {
    std::vector<colour::Lab> labs;
    std::vector<char> exempt;
    for (const palette::Fabric& fabric : fabrics) {
        labs.push_back(fabric.colour->lab);
        exempt.push_back(std::find(rules.exempt.begin(), rules.exempt.end(), fabric.id) !=
                         rules.exempt.end());
    }
    return same_fabric(labs, exempt, rules.same_if_closer_than);
}

} // namespace motley::layout
