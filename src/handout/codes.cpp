#include "handout/codes.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace motley::handout {

namespace {

constexpr std::size_t few_fabrics = 3;

} // namespace

Codes::Codes(const Material& material) : rows_(material.assembly.rows), cards_(material.assembly.cards) {
    for (const assembly::Kind& kind : rows_.kinds)
        numbers_ = numbers_ || (kind.part == layout::Part::unit && kind.fabrics.size() > few_fabrics);
    numbers_ = numbers_ && !piles();
}

bool Codes::from_pile(const assembly::Place& place) const {
    return piles() && rows_.kinds.at(static_cast<std::size_t>(place.kind)).part == layout::Part::unit;
}

std::string Codes::of_kind(int kind) const {
    const assembly::Kind& one = rows_.kinds.at(static_cast<std::size_t>(kind));
    return numbers_ && one.part == layout::Part::unit ? std::to_string(kind + 1) : one.code;
}

std::string Codes::of(const assembly::Place& place) const {
    return from_pile(place) ? cards_.codes.at(static_cast<std::size_t>(place.cell)) : of_kind(place.kind);
}

std::string Codes::picks(const assembly::Row& row) const {
    // Units first, in the order of their numbers: "2", "10-1", "10-3".
    std::map<std::tuple<bool, std::size_t, std::string, int>, int> counts;
    std::vector<std::string> words;
    for (const assembly::Place& place : row.places) {
        const bool pile = from_pile(place);
        const std::string code = pile ? of(place) : std::string();
        const bool unit = rows_.kinds.at(static_cast<std::size_t>(place.kind)).part == layout::Part::unit;
        ++counts[{!unit, std::min(code.find('-'), code.size()), code, pile ? 0 : place.kind}];
    }
    for (const auto& [what, count] : counts) {
        const auto& [other, digits, code, number] = what;
        const assembly::Kind& kind = rows_.kinds.at(static_cast<std::size_t>(number));
        words.push_back(fmt::format("{} × {}", count,
                                    !code.empty() ? code
                                    : other       ? kind.name
                                                  : of_kind(number)));
    }
    return fmt::format("{}", fmt::join(words, ", "));
}

std::string Codes::sequence(const assembly::Row& row) const {
    std::vector<std::string> words;
    for (const assembly::Place& place : row.places) words.push_back(of(place));
    return fmt::format("{}", fmt::join(words, "   "));
}

} // namespace motley::handout
