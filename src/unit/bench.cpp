#include "unit/bench.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "fault/fault.h"
#include "unit/figure.h"

namespace motley::unit {

namespace {

// Far beyond any unit; a file that multiplies things step by step ends here and not with the machine's
// memory.
constexpr std::size_t most_things = 999;
constexpr std::size_t most_scraps = 2000;

/// "quarters.2" is number 2 of "quarters"; 0 for the whole pile.
std::pair<std::string, std::size_t> split_name(const std::string& name) {
    const std::size_t point = name.rfind('.');
    if (point == std::string::npos || point + 1 == name.size()) return {name, 0};
    std::size_t number = 0;
    for (std::size_t i = point + 1; i < name.size(); ++i) {
        if (name[i] < '0' || name[i] > '9' || number > 999) return {name, 0};
        number = number * 10 + static_cast<std::size_t>(name[i] - '0');
    }
    return {name.substr(0, point), number};
}

/// "1st", "2nd", "13th"
std::string ordinal(int number) {
    const int last = number % 10;
    const bool teens = number / 10 % 10 == 1;
    return fmt::format("{}{}", number,
                       teens || last == 0 || last > 3 ? "th"
                       : last == 1                    ? "st"
                       : last == 2                    ? "nd"
                                                      : "rd");
}

} // namespace

void Bench::begin(int number, int written, std::string verb) {
    written_ = written;
    step_ = {};
    step_.number = number;
    step_.verb = std::move(verb);
}

void Bench::refuse(std::string what, std::string remedy) const {
    const std::string where = written_ == 0 ? fmt::format("recipe {}, cutting out", recipe_)
                                            : fmt::format("recipe {}, the {} of its steps ({})", recipe_,
                                                          ordinal(written_), step_.verb);
    throw Fault(Cause::input, where, std::move(what), std::move(remedy));
}

void Bench::add_strip(const std::string& name, Strip strip) {
    put(name, strip);
}

void Bench::add_piece(const std::string& name, Flat piece) {
    cloth_ += showing(piece);
    put(name, std::move(piece));
}

void Bench::put(const std::string& name, Thing thing) {
    if (const auto* lying = std::get_if<Flat>(&thing); lying && lying->scraps.size() > most_scraps)
        refuse(fmt::format("{} consists of more than {} scraps", document::in_quotes(name), most_scraps),
               "cut and sew fewer times");
    const auto there =
        std::find_if(table_.begin(), table_.end(), [&](const Pile& pile) { return pile.name == name; });
    if (there != table_.end()) {
        // A name whose things are all used starts afresh.
        if (std::none_of(there->things.begin(), there->things.end(),
                         [](const auto& t) { return t.has_value(); }))
            there->things.clear();
        if (there->things.size() >= most_things)
            refuse(fmt::format("more than {} of {}", most_things, document::in_quotes(name)),
                   "make fewer at a time");
        there->things.push_back(std::move(thing));
    } else {
        table_.push_back({name, {}});
        table_.back().things.push_back(std::move(thing));
    }
}

Bench::Spot Bench::spot(const std::string& name) const {
    const auto [pile_name, number] = split_name(name);
    std::vector<std::string> known;
    for (std::size_t i = 0; i < table_.size(); ++i) {
        const Pile& pile = table_[i];
        known.push_back(pile.name);
        if (pile.name != pile_name) continue;
        if (number > pile.things.size())
            refuse(fmt::format("there is no {}: of \"{}\" there are {}", document::in_quotes(name), pile_name,
                               pile.things.size()),
                   fmt::format("number them from 1 to {}", pile.things.size()));
        const Spot found{i, number == 0 ? 0 : number - 1, number == 0 ? pile.things.size() : number};
        if (std::none_of(pile.things.begin() + static_cast<std::ptrdiff_t>(found.from),
                         pile.things.begin() + static_cast<std::ptrdiff_t>(found.to),
                         [](const auto& thing) { return thing.has_value(); }))
            refuse(document::in_quotes(name) + " has been used by an earlier step",
                   "cloth can be sewn only once; name what that step made of it");
        return found;
    }
    const std::string near = nearest(pile_name, known);
    refuse("there is nothing called " + document::in_quotes(pile_name) + " on the table",
           near.empty() ? "name an input, or what an earlier step made"
                        : "did you mean " + document::in_quotes(near) + "?");
}

std::vector<Thing> Bench::take(const std::string& name) {
    const Spot where = spot(name);
    auto& things = table_[where.pile].things;
    std::vector<Thing> taken;
    for (std::size_t i = where.from; i < where.to; ++i) {
        if (!things[i]) continue;
        taken.push_back(std::move(*things[i]));
        things[i].reset();
    }
    return taken;
}

std::vector<std::vector<Thing>> Bench::deal(const std::vector<std::string>& names) {
    std::vector<std::string> piles;
    std::vector<std::vector<Thing>> taken;
    std::size_t hands = 0;
    for (const std::string& name : names) {
        if (std::find(piles.begin(), piles.end(), name) != piles.end()) continue;
        piles.push_back(name);
        taken.push_back(take(name));
        const auto places = static_cast<std::size_t>(std::count(names.begin(), names.end(), name));
        const std::size_t found = taken.back().size();
        if (found % places != 0)
            refuse(fmt::format("{} of {} cannot be shared out to {} places", found, document::in_quotes(name),
                               places),
                   fmt::format("have a multiple of {}", places));
        if (piles.size() > 1 && found / places != hands)
            refuse(fmt::format("there are {} of {}, but {} are wanted to go with {}", found,
                               document::in_quotes(name), hands * places, document::in_quotes(piles[0])),
                   "make the numbers agree");
        hands = found / places;
    }
    std::vector<std::vector<Thing>> dealt(hands);
    std::vector<std::size_t> next(piles.size(), 0);
    for (auto& hand : dealt)
        for (const std::string& name : names) {
            const auto pile =
                static_cast<std::size_t>(std::find(piles.begin(), piles.end(), name) - piles.begin());
            hand.push_back(std::move(taken[pile][next[pile]++]));
        }
    return dealt;
}

Flat Bench::flat(Thing thing, const std::string& name) const {
    if (auto* found = std::get_if<Flat>(&thing)) return std::move(*found);
    refuse(
        std::holds_alternative<Stack>(thing)
            ? document::in_quotes(name) + " still lies right sides together"
            : document::in_quotes(name) + " is a strip, from which nothing has been cut",
        std::holds_alternative<Stack>(thing) ? "open it first" : "sew it into a strip set, or add it around");
}

Stack Bench::stack(Thing thing, const std::string& name) const {
    if (auto* found = std::get_if<Stack>(&thing)) return std::move(*found);
    refuse(document::in_quotes(name) + " does not lie right sides together with anything", "lay it first");
}

Flat Bench::cut_strip(const Strip& strip, const std::string& name, double length) {
    if (!(length > 0))
        refuse("the length that is wanted of " + document::in_quotes(name) + " comes to nothing",
               "ask for a larger unit, or write larger sections");
    if (!(length <= measure::longest.in_inches()))
        refuse(document::in_quotes(name) + " would be more than 1,000 m long",
               "write fewer or smaller sections");
    cloth_ += strip.width * length;
    strips_taken_.emplace_back(strip.input, length);
    return {{{Box{0, 0, length, strip.width}.outline(), strip.input, strip.piece, Motion{}, false}}, {}};
}

bool Bench::is_of_strips(const Flat& flat) const {
    return std::all_of(flat.scraps.begin(), flat.scraps.end(), [&](const Scrap& scrap) {
        return std::any_of(strips_taken_.begin(), strips_taken_.end(),
                           [&](const auto& strip) { return strip.first == scrap.input; });
    });
}

double Bench::length_of_strips(int input) const {
    double sum = 0;
    for (const auto& [of, length] : strips_taken_)
        if (of == input) sum += length;
    return sum;
}

std::vector<Flat> Bench::flats(const std::string& name) const {
    const Spot where = spot(name);
    const auto& things = table_[where.pile].things;
    std::vector<Flat> found;
    for (std::size_t i = where.from; i < where.to; ++i)
        if (things[i]) found.push_back(flat(*things[i], name));
    return found;
}

std::size_t Bench::count(const std::string& name) const {
    const Spot where = spot(name);
    const auto& things = table_[where.pile].things;
    return static_cast<std::size_t>(std::count_if(things.begin() + static_cast<std::ptrdiff_t>(where.from),
                                                  things.begin() + static_cast<std::ptrdiff_t>(where.to),
                                                  [](const auto& thing) { return thing.has_value(); }));
}

std::vector<std::pair<std::string, Flat>> Bench::lying() const {
    std::vector<std::pair<std::string, Flat>> found;
    for (const Pile& pile : table_)
        for (const auto& thing : pile.things)
            if (thing && std::holds_alternative<Flat>(*thing))
                found.emplace_back(pile.name, std::get<Flat>(*thing));
    return found;
}

Ledger Bench::ledger() const {
    Ledger sum{cloth_, 0, 0, trimmings_};
    for (const Pile& pile : table_)
        for (const auto& thing : pile.things) {
            if (!thing || std::holds_alternative<Strip>(*thing)) continue;
            if (const auto* lying = std::get_if<Flat>(&*thing)) {
                sum.showing += showing(*lying);
                sum.allowances += allowances(*lying);
            } else {
                sum.showing += showing(std::get<Stack>(*thing));
                sum.allowances += allowances(std::get<Stack>(*thing));
            }
        }
    return sum;
}

void Bench::show(const std::string& name) {
    for (Flat& lying : flats(name)) show_after(name, std::move(lying));
}

void Bench::show_before(const std::string& name, const Thing& thing, std::vector<Mark> marks) {
    if (seeking_ || std::holds_alternative<Strip>(thing)) return;
    Figure made = std::holds_alternative<Flat>(thing)
                      ? figure(said_name(name), std::get<Flat>(thing), measure_)
                      : figure(said_name(name), std::get<Stack>(thing), measure_);
    made.marks.insert(made.marks.end(), marks.begin(), marks.end());
    add(step_.before, std::move(made));
}

void Bench::show_after(const std::string& name, const Thing& thing) {
    if (seeking_ || std::holds_alternative<Strip>(thing)) return;
    Figure made = std::holds_alternative<Flat>(thing)
                      ? figure(said_name(name), std::get<Flat>(thing), measure_)
                      : figure(said_name(name), std::get<Stack>(thing), measure_);
    const Measured measured{name, made.box.width(), made.box.height()};
    const auto same = [&](const Measured& there) {
        return there.thing == name && std::abs(there.width - measured.width) < 1e-6 &&
               std::abs(there.height - measured.height) < 1e-6;
    };
    if (std::none_of(step_.measured.begin(), step_.measured.end(), same)) step_.measured.push_back(measured);
    add(step_.after, std::move(made));
}

} // namespace motley::unit
