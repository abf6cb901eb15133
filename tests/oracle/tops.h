#pragma once
/// Briefs made straight from numbers, without plan or palette, and chance that is the same everywhere.

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "layout/brief.h"
#include "layout/layout.h"
#include "unit/sewn.h"

namespace oracle {

using motley::layout::Assignment;
using motley::layout::Brief;
using motley::layout::FabricId;
using motley::layout::Range;

inline FabricId id(int f) {
    return FabricId{static_cast<std::uint16_t>(f)};
}
inline std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// The same numbers everywhere: ISO C++ fixes the engine, a remainder stands in for a distribution.
class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_(seed) {}
    int below(int many) { return static_cast<int>(engine_() % static_cast<std::uint32_t>(many)); }
    template <class T>
    void shuffle(std::vector<T>& items) {
        for (std::size_t i = items.size(); i > 1; --i)
            std::swap(items[i - 1], items[at(below(static_cast<int>(i)))]);
    }

private:
    std::mt19937 engine_;
};

/// Invented colours: lightness and hue both run over the fabrics, in different orders.
inline motley::colour::Lab invented_colour(int f, int fabrics) {
    const double lightness = 15 + 75.0 * (f * 7 % fabrics) / fabrics, angle = 6.283185307179586 * f / fabrics;
    return {lightness, 35 * std::cos(angle), 35 * std::sin(angle)};
}

/// What a recipe makes at its standard sizes.
inline std::vector<motley::unit::Form> forms_of(const std::string& recipe) {
    return motley::unit::sew(*motley::unit::find_recipe(recipe), {}).forms;
}

inline Brief blank(int columns, int rows, int fabrics, const std::string& recipe) {
    Brief brief;
    brief.columns = columns;
    brief.rows = rows;
    brief.board = motley::layout::Board(columns, rows);
    brief.forms = forms_of(recipe);
    for (int f = 0; f < fabrics; ++f) {
        brief.names.push_back("f" + std::to_string(f));
        brief.labs.push_back(invented_colour(f, fabrics));
    }
    brief.exempt.assign(at(fabrics), 0);
    brief.turns.assign(at(brief.cells()), 0);
    brief.pinned.assign(at(brief.patches()), motley::layout::no_fabric);
    brief.pinned_turn.assign(at(brief.cells()), 0);
    return brief;
}

/// Plain squares, every fabric used exactly so often; touching `edge`, all wishes.
inline Brief squares(int columns, int rows, const std::vector<int>& counts) {
    Brief brief = blank(columns, rows, static_cast<int>(counts.size()), "plain-square");
    brief.rules.touching = motley::layout::Touching::edge;
    for (const int n : counts) brief.counts.push_back({n, n});
    brief.role_counts = {brief.counts};
    brief.shares = {counts};
    return brief;
}

/// Half-square triangles: how often each fabric is a print and how often a ground.
inline Brief triangles(int columns, int rows, const std::vector<int>& prints,
                       const std::vector<int>& grounds) {
    Brief brief = blank(columns, rows, static_cast<int>(prints.size()), "half-square-triangle");
    brief.rules.touching = motley::layout::Touching::edge;
    brief.role_counts.resize(2);
    for (std::size_t f = 0; f < prints.size(); ++f) {
        brief.role_counts[0].push_back({prints[f], prints[f]});
        brief.role_counts[1].push_back({grounds[f], grounds[f]});
        brief.counts.push_back({prints[f] + grounds[f], prints[f] + grounds[f]});
    }
    brief.shares = {prints, grounds};
    return brief;
}

/// n split over so many fabrics, as even as can be.
inline std::vector<int> even(int n, int fabrics) {
    std::vector<int> counts;
    for (int f = 0; f < fabrics; ++f) counts.push_back(n / fabrics + (f < n % fabrics));
    return counts;
}

/// A filling that meets exact counts and nothing else; turns of chance where they are open.
inline Assignment shuffled(const Brief& brief, Dice& dice) {
    const int places = brief.patches_per_unit();
    Assignment out;
    out.patches.assign(at(brief.patches()), id(0));
    for (int p = 0; p < places; ++p) {
        std::vector<FabricId> cloth;
        for (std::size_t f = 0; f < brief.names.size(); ++f)
            cloth.insert(cloth.end(), at(brief.role_counts[at(p)][f].least), id(static_cast<int>(f)));
        dice.shuffle(cloth);
        for (int cell = 0; cell < brief.cells(); ++cell) out.patches[at(cell * places + p)] = cloth[at(cell)];
    }
    for (const int turn : brief.turns)
        out.turns.push_back(static_cast<std::uint8_t>(turn >= 0 ? turn : dice.below(4)));
    return out;
}

} // namespace oracle
