#include "unit/values.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "fault/fault.h"

namespace motley::unit {

namespace {

constexpr double widest = 1e4; ///< Inches; no quilt is that large.

[[noreturn]] void refuse(const Recipe& recipe, std::string what, std::string remedy) {
    throw Fault(Cause::input, "recipe " + recipe.id, std::move(what), std::move(remedy));
}

void check_number(const Recipe& recipe, const Parameter& parameter, double number) {
    if (parameter.kind == Parameter::Kind::whole &&
        (number != std::floor(number) || number < parameter.least || number > parameter.most))
        refuse(recipe, fmt::format("{} cannot be {}", document::in_quotes(parameter.name), number),
               fmt::format("give a whole number from {} to {}", parameter.least, parameter.most));
    if (parameter.kind == Parameter::Kind::length && !(number > 0 && number < widest))
        refuse(recipe, fmt::format("{} cannot be {:.4g} in", document::in_quotes(parameter.name), number),
               "give a length above nothing");
}

} // namespace

Values::Values(const Recipe& recipe, const Order& order) {
    const double finished = order.finished.in_inches(), seam = order.seam.in_inches();
    if (finished <= 0 || seam < 0)
        refuse(recipe,
               "a unit that finishes at " + print_set(order.finished, order.measure) + " with seams of " +
                   print_set(order.seam, order.measure),
               "give a finished size above nothing and a seam allowance that is not negative");
    known_.push_back({"finished", {finished}, {}});
    known_.push_back({"seam", {seam}, {}});
    known_.push_back({"unfinished", {finished + 2 * seam}, {}});
    std::vector<std::string> choosable;
    const auto chosen = [&](const std::string& name) -> const Choice* {
        choosable.push_back(name);
        const auto found = std::find_if(order.choices.begin(), order.choices.end(),
                                        [&](const Choice& choice) { return choice.name == name; });
        return found == order.choices.end() ? nullptr : &*found;
    };
    for (const Parameter& parameter : recipe.parameters) {
        const Choice* choice = chosen(parameter.name);
        Value value{parameter.name, {}, {}};
        if (parameter.kind == Parameter::Kind::word) {
            value.word = choice ? choice->word : parameter.words[0];
            if (std::find(parameter.words.begin(), parameter.words.end(), value.word) ==
                parameter.words.end())
                refuse(recipe,
                       document::in_quotes(parameter.name) + " cannot be " + document::in_quotes(value.word),
                       "choose " + document::listed(parameter.words));
        } else {
            value.numbers = choice ? choice->numbers : std::vector<double>{of(parameter.standard)};
            if (value.numbers.empty() || (value.numbers.size() > 1 && !parameter.each))
                refuse(recipe,
                       fmt::format("{} values for {}", value.numbers.size(),
                                   document::in_quotes(parameter.name)),
                       "give one");
            for (const double number : value.numbers) check_number(recipe, parameter, number);
        }
        known_.push_back(std::move(value));
    }
    for (const Unknown& unknown : recipe.unknowns)
        if (const Choice* choice = chosen(unknown.name)) {
            if (choice->numbers.size() != 1 || !(choice->numbers[0] > 0 && choice->numbers[0] < widest))
                refuse(recipe, document::in_quotes(unknown.name) + " is no length above nothing",
                       "give one length");
            set(unknown.name, choice->numbers[0]);
        }
    for (const Choice& choice : order.choices)
        if (std::find(choosable.begin(), choosable.end(), choice.name) == choosable.end()) {
            const std::string near = nearest(choice.name, choosable);
            refuse(recipe, "there is no " + document::in_quotes(choice.name) + " to choose",
                   !near.empty()       ? "did you mean " + document::in_quotes(near) + "?"
                   : choosable.empty() ? "this recipe leaves nothing to choose"
                                       : "known are " + document::listed(choosable));
        }
}

const Values::Value* Values::find(const std::string& name) const {
    const auto found =
        std::find_if(known_.begin(), known_.end(), [&](const Value& value) { return value.name == name; });
    return found == known_.end() ? nullptr : &*found;
}

void Values::set(const std::string& name, double inches) {
    for (Value& value : known_)
        if (value.name == name) {
            value.numbers = {inches};
            return;
        }
    known_.push_back({name, {inches}, {}});
}

bool Values::has(const std::string& name) const {
    return find(name) != nullptr;
}

double Values::of(const std::string& name, std::size_t copy) const {
    const Value* value = find(name);
    expects(value && !value->numbers.empty());
    return value->numbers[copy % value->numbers.size()];
}

double Values::of(const Expression& size, std::size_t copy) const {
    const double value = size.value([&](const std::string& name) { return of(name, copy); });
    if (!(std::abs(value) <= measure::longest.in_inches()))
        throw Fault(Cause::input, size.where(),
                    document::in_quotes(size.text()) + " comes to more than 1,000 m",
                    "no quilt is that large: write a smaller size");
    return value;
}

const std::string& Values::word(const std::string& name) const {
    const Value* value = find(name);
    expects(value);
    return value->word;
}

std::size_t Values::list_size(const std::string& name) const {
    const Value* value = find(name);
    expects(value);
    return value->numbers.size();
}

measure::Length usual_size(double inches, measure::System measure, bool generous) {
    using measure::Length;
    const bool metric = measure == measure::System::metric;
    const std::int64_t fine = metric ? Length::per_millimetre : Length::per_inch / 16;
    const std::int64_t coarse =
        metric ? (generous ? 10 : 5) * Length::per_millimetre : Length::per_inch / (generous ? 2 : 8);
    const double ticks = inches * static_cast<double>(Length::per_inch);
    // A hundredth of a tick is far below what cloth knows, far above what doubles lose.
    const auto kept = static_cast<std::int64_t>(std::llround(ticks / static_cast<double>(fine))) * fine;
    if (!generous && std::abs(ticks - static_cast<double>(kept)) < 0.01) return {kept};
    return {static_cast<std::int64_t>(std::ceil(ticks / static_cast<double>(coarse) - 1e-6)) * coarse};
}

} // namespace motley::unit
