#pragma once
/// The three ratios from their wording in the contract, over all pairs of patches; their expectations from
/// the definition of a shuffle (each unit is in each cell equally often, each pair of units in each pair of
/// cells equally often) without any algebra.

#include <cmath>
#include <numeric>
#include <vector>

#include "colour/difference.h"
#include "oracle/tops.h"

namespace oracle {

struct Centre {
    double x, y;
};

/// Centroid of a patch: a square's middle; a triangle's is the mean of its corners.
inline Centre centre(int patches, int patch, int turn) {
    Centre c = patches == 1 ? Centre{0.5, 0.5}
               : patch == 0 ? Centre{2.0 / 3, 1.0 / 3}
                            : Centre{1.0 / 3, 2.0 / 3};
    for (; turn > 0; --turn) c = {1 - c.y, c.x};
    return c;
}

/// Looks at units as whole things: unit u is what cell u of the assignment shows.
class Ratios {
public:
    Ratios(const Brief& brief, const Assignment& top)
        : brief_(brief), top_(top), places_(brief.patches_per_unit()), cells_(brief.cells()) {
        light_.assign(at(cells_), 0);
        for (int u = 0; u < cells_; ++u)
            for (int p = 0; p < places_; ++p)
                light_[at(u)] += brief.labs[at(fabric(u, p))].l / places_; // Patches of equal area.
        for (const motley::colour::Lab& one : brief.labs) {
            like_.emplace_back();
            for (const motley::colour::Lab& other : brief.labs) {
                const double difference = motley::colour::ciede2000(one, other) / 20;
                like_.back().push_back(std::exp(-difference * difference));
            }
        }
    }

    enum class Wish { spread, colour, value };

    /// The figure when cell c shows unit order[c].
    double figure(Wish wish, const std::vector<int>& order) const {
        if (wish == Wish::value) return brief_.aim.empty() ? evenness(order) : off_aim(order);
        double sum = 0;
        for (int a = 0; a < cells_; ++a) {
            sum += inside(wish, a, order[at(a)]);
            for (int b = a + 1; b < cells_; ++b) sum += between(wish, a, order[at(a)], b, order[at(b)]);
        }
        return sum;
    }

    double found(Wish wish) const {
        std::vector<int> order(at(cells_));
        std::iota(order.begin(), order.end(), 0);
        return figure(wish, order);
    }

    /// Mean over all shuffles, of the two sums over pairs.
    double expected(Wish wish) const {
        double sum = 0;
        const double n = cells_;
        for (int a = 0; a < cells_; ++a)
            for (int u = 0; u < cells_; ++u) sum += inside(wish, a, u) / n;
        for (int a = 0; a < cells_; ++a)
            for (int b = a + 1; b < cells_; ++b)
                for (int u = 0; u < cells_; ++u)
                    for (int v = 0; v < cells_; ++v)
                        if (u != v) sum += between(wish, a, u, b, v) / (n * (n - 1));
        return sum;
    }

    /// (s^2 / 16)(N - 16)/(N - 1), s^2 the population variance: the contract's formula.
    double expected_evenness() const {
        const double n = cells_, mean = std::accumulate(light_.begin(), light_.end(), 0.0) / n;
        double squares = 0;
        for (const double l : light_) squares += (l - mean) * (l - mean);
        return squares / n / 16 * (n - 16) / (n - 1);
    }

private:
    int fabric(int unit, int p) const {
        return static_cast<int>(motley::layout::index(top_.patches[at(unit * places_ + p)]));
    }

    double weight(Wish wish, int f, int g, double d2) const {
        if (brief_.exempt[at(f)] || brief_.exempt[at(g)]) return 0;
        if (wish == Wish::spread) return f == g ? 1 : 0;
        return f == g || d2 > 9 + 1e-9 ? 0 : like_[at(f)][at(g)];
    }

    double pair(Wish wish, int a, int u, int p, int b, int v, int q) const {
        const Centre one = centre(places_, p, top_.turns[at(a)]),
                     other = centre(places_, q, top_.turns[at(b)]);
        const double dx = other.x + b % brief_.columns - one.x - a % brief_.columns;
        const double dy = other.y + b / brief_.columns - one.y - a / brief_.columns;
        const double d2 = dx * dx + dy * dy;
        return weight(wish, fabric(u, p), fabric(v, q), d2) / d2;
    }

    double inside(Wish wish, int a, int u) const {
        double sum = 0;
        for (int p = 0; p < places_; ++p)
            for (int q = p + 1; q < places_; ++q) sum += pair(wish, a, u, p, a, u, q);
        return sum;
    }

    double between(Wish wish, int a, int u, int b, int v) const {
        double sum = 0;
        for (int p = 0; p < places_; ++p)
            for (int q = 0; q < places_; ++q) sum += pair(wish, a, u, p, b, v, q);
        return sum;
    }

    double evenness(const std::vector<int>& order) const {
        const double mean = std::accumulate(light_.begin(), light_.end(), 0.0) / cells_;
        double sum = 0;
        int windows = 0;
        for (int r = 0; r + 4 <= brief_.rows; ++r)
            for (int c = 0; c + 4 <= brief_.columns; ++c, ++windows) {
                double in_window = 0;
                for (int k = 0; k < 16; ++k)
                    in_window += light_[at(order[at((r + k / 4) * brief_.columns + c + k % 4)])] / 16;
                sum += (in_window - mean) * (in_window - mean);
            }
        return sum / windows;
    }

    double off_aim(const std::vector<int>& order) const {
        double sum = 0;
        for (int cell = 0; cell < cells_; ++cell)
            sum += std::pow(light_[at(order[at(cell)])] - brief_.aim[at(cell)], 2);
        return sum / cells_;
    }

    const Brief& brief_;
    const Assignment& top_;
    int places_, cells_;
    std::vector<double> light_;             // By unit.
    std::vector<std::vector<double>> like_; // exp(-(dE00/20)^2) of two fabrics.
};

/// Weights times ratios over the sum of weights; a ratio without an expectation counts nothing.
inline double cost(const Brief& brief, const Assignment& top) {
    using Wish = Ratios::Wish;
    const Ratios ratios(brief, top);
    const auto ratio = [&](Wish wish, double expected) {
        return expected > 1e-12 ? ratios.found(wish) / expected : 0;
    };
    double sum = 0;
    if (brief.wishes.spread > 0)
        sum += brief.wishes.spread * ratio(Wish::spread, ratios.expected(Wish::spread));
    if (brief.wishes.colour > 0)
        sum += brief.wishes.colour * ratio(Wish::colour, ratios.expected(Wish::colour));
    const bool wide = brief.columns >= 4 && brief.rows >= 4 && brief.cells() > 16;
    if (brief.wishes.value > 0 && brief.aim.empty() && wide)
        sum += brief.wishes.value * ratio(Wish::value, ratios.expected_evenness());
    return sum / (brief.wishes.spread + brief.wishes.colour + brief.wishes.value);
}

} // namespace oracle
