#include "handout/codes.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace motley::handout {

namespace {

constexpr std::size_t few_fabrics = 3;

} // namespace

Codes::Codes(const Material& material) : rows_(material.assembly.rows) {
    for (const assembly::MakingCard& card : material.assembly.cards.makings)
        for (const int cell : card.cells) pile_of_cell_[cell] = card.number;
    for (const assembly::Kind& kind : rows_.kinds)
        numbers_ = numbers_ || (kind.part == layout::Part::unit && kind.fabrics.size() > few_fabrics);
    numbers_ = numbers_ && !piles();
}

std::string Codes::of_kind(int kind) const {
    const assembly::Kind& one = rows_.kinds.at(static_cast<std::size_t>(kind));
    return numbers_ && one.part == layout::Part::unit ? std::to_string(kind + 1) : one.code;
}

std::string Codes::of(const assembly::Place& place) const {
    const auto pile = pile_of_cell_.find(place.cell);
    const bool unit = rows_.kinds.at(static_cast<std::size_t>(place.kind)).part == layout::Part::unit;
    if (unit && pile != pile_of_cell_.end()) return std::to_string(pile->second);
    return of_kind(place.kind);
}

std::string Codes::picks(const assembly::Row& row) const {
    std::map<std::tuple<bool, int, std::string>, int> counts; // Units first, in the order of their numbers.
    for (const assembly::Place& place : row.places) {
        const assembly::Kind& kind = rows_.kinds.at(static_cast<std::size_t>(place.kind));
        const bool unit = kind.part == layout::Part::unit;
        const auto pile = pile_of_cell_.find(place.cell);
        const bool from_pile = unit && pile != pile_of_cell_.end();
        ++counts[{!unit, from_pile ? pile->second : place.kind, unit ? of(place) : kind.name}];
    }
    std::vector<std::string> words;
    for (const auto& [what, count] : counts)
        words.push_back(fmt::format("{} × {}", count, std::get<2>(what)));
    return fmt::format("{}", fmt::join(words, ", "));
}

std::string Codes::sequence(const assembly::Row& row) const {
    std::vector<std::string> words;
    for (const assembly::Place& place : row.places) words.push_back(of(place));
    return fmt::format("{}", fmt::join(words, "   "));
}

} // namespace motley::handout
