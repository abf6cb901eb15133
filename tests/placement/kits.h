#pragma once
/// Briefs of tops whose units are sewn in batches, straight from a recipe and numbers, without plan or
/// palette.

#include <cmath>
#include <string>
#include <vector>

#include "layout/brief.h"
#include "layout/kit.h"
#include "layout/layout.h"
#include "layout/setting.h"
#include "unit/recipe.h"
#include "unit/sewn.h"

namespace kits {

using motley::layout::Brief;
using motley::layout::FabricId;

inline std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Which fabrics a role takes: `many` of them from `first` on.
struct Takes {
    int first = 0, many = 0;
};

/// Invented colours: lightness and hue both run over the fabrics, in different orders.
inline motley::colour::Lab colour(int f, int fabrics) {
    const double lightness = 15 + 75.0 * (f * 7 % fabrics) / fabrics, angle = 6.283185307179586 * f / fabrics;
    return {lightness, 35 * std::cos(angle), 35 * std::sin(angle)};
}

/// Counts as even as can be in every role; touching `edge`, all wishes, turns 0.
inline Brief make(const std::string& recipe, const motley::layout::Setting& setting,
                  const std::vector<Takes>& roles) {
    using namespace motley;
    constexpr measure::Length usable{42 * measure::Length::per_inch}; // Common practice, no source.
    const unit::Sewn sewn = unit::sew(*unit::find_recipe(recipe), unit::Order{});
    Brief brief;
    brief.board = layout::Board(setting, unit::Order{}.finished);
    brief.columns = brief.board.columns();
    brief.rows = brief.board.rows();
    brief.forms = sewn.forms;
    brief.kit = layout::make_kit(sewn, brief.board.units(), usable);
    brief.rules.touching = layout::Touching::edge;
    int fabrics = 0;
    for (const Takes& takes : roles) fabrics = std::max(fabrics, takes.first + takes.many);
    for (int f = 0; f < fabrics; ++f) {
        brief.names.push_back("f" + std::to_string(f));
        brief.labs.push_back(colour(f, fabrics));
    }
    brief.counts.resize(at(fabrics));
    for (std::size_t r = 0; r < roles.size(); ++r) {
        std::vector<layout::Range> counts(at(fabrics));
        std::vector<int> shares(at(fabrics));
        const int places = brief.kit->places(static_cast<int>(r));
        for (int f = 0; f < roles[r].many; ++f) {
            const int n = places / roles[r].many + (f < places % roles[r].many);
            const std::size_t id = at(roles[r].first + f);
            counts[id] = {n, n};
            shares[id] = n;
            brief.counts[id].least += n, brief.counts[id].most += n;
        }
        brief.role_counts.push_back(counts);
        brief.shares.push_back(shares);
    }
    // What is not there, as make_brief has it.
    const int absent = brief.cells() - brief.board.units(), places = brief.patches_per_unit();
    brief.names.emplace_back();
    brief.labs.push_back({0, 0, 0});
    brief.exempt.assign(at(fabrics), 0);
    brief.exempt.push_back(1);
    brief.counts.push_back({absent * places, absent * places});
    for (auto& role : brief.role_counts) role.push_back({absent, absent});
    for (auto& role : brief.shares) role.push_back(absent);
    brief.turns.assign(at(brief.cells()), 0);
    brief.pinned.assign(at(brief.patches()), layout::no_fabric);
    brief.pinned_turn.assign(at(brief.cells()), 0);
    return brief;
}

inline motley::layout::Setting straight(int columns, int rows) {
    motley::layout::Setting setting;
    setting.columns = columns;
    setting.rows = rows;
    return setting;
}

inline void exempt(Brief& brief, const Takes& fabrics) {
    for (int f = 0; f < fabrics.many; ++f) brief.exempt[at(fabrics.first + f)] = 1;
}

} // namespace kits
