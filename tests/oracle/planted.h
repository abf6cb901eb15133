#pragma once
/// Tops that are known to be possible because they were laid out first: a pattern that keeps the rules,
/// stirred by exchanges of two fabrics along chains until little of the pattern is left, its counts taken as
/// they are and some of its patches pinned.

#include <optional>
#include <utility>
#include <vector>

#include "oracle/rules.h"
#include "oracle/tops.h"

namespace oracle {

/// [patch] the patches that may not show its fabric, with the turns given.
inline std::vector<std::vector<int>> clashing(const Brief& brief, const std::vector<int>& turns) {
    const int places = brief.patches_per_unit(), reach = std::max(1, brief.rules.apart - 1);
    std::vector<std::vector<int>> out(at(brief.patches()));
    for (int a = 0; a < brief.cells(); ++a)
        for (int b = brief.rules.line ? 0 : std::max(0, a - reach * (brief.columns + 1)); b < a; ++b) {
            const int dr = std::abs(b / brief.columns - a / brief.columns),
                      dc = std::abs(b % brief.columns - a % brief.columns);
            const bool near = dr <= reach && dc <= reach;
            if (!near && !(brief.rules.line && (dr == 0 || dc == 0))) continue;
            for (int i = a * places; i < (a + 1) * places; ++i)
                for (int j = b * places; j < (b + 1) * places; ++j)
                    if (clash(brief, i, j, turns[at(a)], turns[at(b)]))
                        out[at(i)].push_back(j), out[at(j)].push_back(i);
        }
    return out;
}

/// Exchanges two fabrics along chains of patches that clash, so many times; the rules hold before and after.
/// `takes[p][f]`: whether place p of a unit may show f.
class Stirring {
public:
    Stirring(const Brief& brief, const std::vector<int>& turns, std::vector<std::vector<char>> takes,
             std::vector<int> shown)
        : places_(brief.patches_per_unit()),
          clashing_(clashing(brief, turns)),
          takes_(std::move(takes)),
          shown_(std::move(shown)),
          in_chain_(shown_.size()) {}

    const std::vector<int>& shown() const { return shown_; }

    void stir(int times, Dice& dice) {
        const int fabrics = static_cast<int>(takes_.front().size());
        for (int k = 0; k < times; ++k) {
            const int patch = dice.below(static_cast<int>(shown_.size()));
            exchange(patch, dice.below(fabrics));
        }
    }

private:
    void exchange(int patch, int g) {
        constexpr std::size_t longest = 120;
        const int f = shown_[at(patch)];
        if (f == g) return;
        std::vector<int> chain{patch};
        in_chain_[at(patch)] = 1;
        bool whole = true;
        for (std::size_t k = 0; k < chain.size() && whole; ++k) {
            const int i = chain[k];
            whole = takes_[at(i % places_)][at(f)] && takes_[at(i % places_)][at(g)] && k < longest;
            for (const int j : clashing_[at(i)])
                if (!in_chain_[at(j)] && (shown_[at(j)] == f || shown_[at(j)] == g))
                    chain.push_back(j), in_chain_[at(j)] = 1;
        }
        for (const int i : chain) {
            in_chain_[at(i)] = 0;
            if (whole) shown_[at(i)] = shown_[at(i)] == f ? g : f;
        }
    }

    int places_;
    std::vector<std::vector<int>> clashing_;
    std::vector<std::vector<char>> takes_;
    std::vector<int> shown_;
    std::vector<char> in_chain_;
};

/// Exact counts as shown, and a share of the patches pinned.
inline Brief counted_and_pinned(Brief brief, const std::vector<int>& shown, int percent, Dice& dice) {
    const int places = brief.patches_per_unit();
    brief.shares.assign(at(places), std::vector<int>(brief.names.size()));
    brief.counts.assign(brief.names.size(), {});
    for (int patch = 0; patch < brief.patches(); ++patch) {
        ++brief.shares[at(patch % places)][at(shown[at(patch)])];
        ++brief.counts[at(shown[at(patch)])].most;
        if (dice.below(100) < percent) brief.pinned[at(patch)] = id(shown[at(patch)]);
    }
    brief.role_counts.assign(at(places), brief.counts);
    for (std::size_t f = 0; f < brief.names.size(); ++f) {
        brief.counts[f].least = brief.counts[f].most;
        for (int p = 0; p < places; ++p)
            brief.role_counts[at(p)][f] = {brief.shares[at(p)][f], brief.shares[at(p)][f]};
    }
    return brief;
}

/// Plain squares. The pattern: residues of row and column (`apart` and touching), or a cyclic Latin
/// rectangle (`line`); fabrics beyond those it needs come in by stirring.
inline Brief planted_squares(int columns, int rows, int fabrics, const motley::layout::Rules& rules,
                             int percent, std::uint32_t seed) {
    using motley::layout::Touching;
    Dice dice(seed);
    Brief brief = blank(columns, rows, fabrics, "plain-square");
    brief.rules = rules;
    const int apart = std::max(rules.apart, rules.touching == Touching::corner ? 2 : 1);
    std::vector<int> shown;
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c)
            shown.push_back(rules.line  ? (r + c) % std::max(columns, rows)
                            : apart > 1 ? r % apart * apart + c % apart
                                        : (r + c) % 2);
    Stirring stirring(brief, brief.turns, {std::vector<char>(at(fabrics), 1)}, std::move(shown));
    stirring.stir(30 * brief.cells(), dice);
    return counted_and_pinned(std::move(brief), stirring.shown(), percent, dice);
}

/// Half-square triangles with turns of chance: prints and grounds from one set of `fabrics`, or from two
/// halves of it. `open`: the turns are left to the search.
inline Brief planted_triangles(int columns, int rows, int fabrics, bool one_set, bool open,
                               motley::layout::Touching touching, int percent, std::uint32_t seed) {
    Dice dice(seed);
    Brief brief = blank(columns, rows, fabrics, "half-square-triangle");
    brief.rules.touching = touching;
    for (int& turn : brief.turns) turn = dice.below(4);
    const int side = touching == motley::layout::Touching::corner ? 2 : 1, half = fabrics / 2;
    std::vector<std::vector<char>> takes(2, std::vector<char>(at(fabrics), 1));
    for (int f = 0; f < fabrics && !one_set; ++f) takes[f < half ? 1 : 0][at(f)] = 0;
    std::vector<int> shown;
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c)
            for (int p = 0; p < 2; ++p)
                shown.push_back(p * half + (side == 2 ? r % 2 * 2 + c % 2 : (r + c) % 2));
    Stirring stirring(brief, brief.turns, std::move(takes), std::move(shown));
    stirring.stir(30 * brief.patches(), dice);
    brief = counted_and_pinned(std::move(brief), stirring.shown(), percent, dice);
    if (open) brief.turns.assign(brief.turns.size(), -1);
    return brief;
}

} // namespace oracle
