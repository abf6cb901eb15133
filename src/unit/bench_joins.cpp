// The bench's seams along an edge: strip sets, joins, rows.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

#include "document/document.h"
#include "unit/bench.h"

namespace motley::unit {

namespace {

constexpr double fits = 1e-6; ///< Edges that differ by less match.

constexpr std::array<const char*, 4> side_words{"top", "right", "bottom", "left"};

const char* word(Side side) {
    return side_words[static_cast<std::size_t>(side)];
}
Side across(Side side) {
    return static_cast<Side>((static_cast<int>(side) + 2) % 4);
}
Point middle(Segment segment) {
    return (segment.from + segment.to) * 0.5;
}
double size(Segment segment) {
    return length(segment.to - segment.from);
}

} // namespace

Flat Bench::joined(const Flat& first, const std::string& first_name, Flat second,
                   const std::string& second_name, Side side, bool overhang, Press press) const {
    const Segment here = edge(first, side), there = edge(second, across(side));
    if (!seeking_ && !overhang && std::abs(size(here) - size(there)) > fits)
        refuse(fmt::format("edges that do not match: the {} edge of {} measures {}, that of {} beside it {}",
                           word(side), document::in_quotes(first_name), said_(size(here)),
                           document::in_quotes(second_name), said_(size(there))),
               fmt::format("both must measure the same; they differ by {:.4f} in",
                           std::abs(size(here) - size(there))));
    for (const auto& [stretch, name, at] :
         {std::tuple{here, first_name, side}, std::tuple{there, second_name, across(side)}})
        if (size(stretch) <= fits)
            refuse(fmt::format("{} has no straight edge at its {}, only a corner", document::in_quotes(name),
                               word(at)),
                   "turn it so that the edge to be sewn lies there");
    const Line raw = line_through(here);
    second = moved(std::move(second),
                   shifted(middle(here) - middle(there) + Point{-raw.along.y, raw.along.x} * (2 * seam_)));
    Flat made = opened(first, {second}, beside(raw, seam_), press);
    const double shown = showing(right_of(made, beside(raw, seam_)));
    if (shown <= 0 || showing(made) - shown <= fits * fits)
        refuse(fmt::format("the seam swallows {}: it is no wider than a seam allowance of {}",
                           document::in_quotes(shown <= 0 ? first_name : second_name), said_.set(seam_)),
               "use a wider piece or a narrower seam");
    return made;
}

void Bench::strip_set(const std::vector<std::string>& names, double length, Press press,
                      const std::string& as) {
    std::vector<std::pair<std::string, Strip>> strips;
    for (const std::string& name : names)
        for (Thing& thing : take(name)) {
            if (!std::holds_alternative<Strip>(thing))
                refuse(document::in_quotes(name) + " is not a whole strip",
                       "a strip set is sewn from strips");
            strips.emplace_back(name, std::get<Strip>(thing));
        }
    std::optional<Flat> set;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        const auto& [name, strip] = strips[i];
        const double seams = strips.size() == 1 ? 0 : (i == 0 || i + 1 == strips.size()) ? seam_ : 2 * seam_;
        if (!seeking_ && strip.width - seams <= fits)
            refuse(fmt::format("strip {} is {} wide, and its seams take {}", i + 1, said_.set(strip.width),
                               said_.set(seams)),
                   "use a wider strip or a narrower seam");
        Flat next = cut_strip(strip, name, length);
        show_before(name, next);
        set = set ? joined(*set, "the set", std::move(next), name, Side::bottom, false, press) : next;
    }
    show_after(as, *set);
    put(as, std::move(*set));
}

void Bench::join(const Join& how, const std::string& as) {
    for (auto& hand : deal({how.first, how.second})) {
        const Flat first = flat(std::move(hand[0]), how.first);
        show_before(how.first, first);
        Flat second;
        if (std::holds_alternative<Strip>(hand[1])) {
            if (how.turn != 0)
                refuse(fmt::format("{} is a strip that is cut to fit: it cannot be turned by {} degrees",
                                   document::in_quotes(how.second), how.turn),
                       "leave \"turn\" out");
            second = cut_to_fit(std::get<Strip>(hand[1]), how.second, first, how.side);
        } else {
            second = moved(flat(std::move(hand[1]), how.second), rotated(how.turn));
        }
        show_before(how.second, second);
        Flat made =
            joined(first, how.first, std::move(second), how.second, how.side, how.overhang, how.press);
        show_after(as, made);
        put(as, std::move(made));
    }
}

Flat Bench::cut_to_fit(const Strip& strip, const std::string& name, const Flat& first, Side side) {
    const Flat cut = cut_strip(strip, name, size(edge(first, side)));
    return moved(cut, rotated(side == Side::left || side == Side::right ? 90 : 0));
}

void Bench::join_rows(const JoinRows& how, const std::string& as) {
    std::vector<std::string> names;
    for (const auto& row : how.rows)
        for (const auto& cell : row) names.push_back(cell.thing);
    for (auto& hand : deal(names)) {
        std::optional<Flat> block;
        std::size_t next = 0;
        for (const auto& row : how.rows) {
            std::optional<Flat> made;
            for (const auto& cell : row) {
                Flat piece = moved(flat(std::move(hand[next++]), cell.thing), rotated(cell.turn));
                show_before(cell.thing, piece);
                made = made ? joined(*made, "the row", std::move(piece), cell.thing, Side::right, false,
                                     how.press)
                            : std::move(piece);
            }
            block = block ? joined(*block, "the rows above", std::move(*made), "the next row", Side::bottom,
                                   false, how.press)
                          : std::move(made);
        }
        show_after(as, *block);
        put(as, std::move(*block));
    }
}

} // namespace motley::unit
