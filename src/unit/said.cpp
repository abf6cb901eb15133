#include "unit/said.h"

#include <cmath>
#include <string_view>
#include <utility>

namespace motley::unit {

namespace {

bool is_length(double inches) {
    return std::abs(inches) <= measure::longest.in_inches(); // Not a number fails this too.
}

/// Of a word for several, the word for one.
std::string one_of(std::string several) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 2> odd{
        {{"geese", "goose"}, {"halves", "half"}}};
    for (const auto& [many, one] : odd)
        if (several.ends_with(many)) return several.replace(several.size() - many.size(), many.size(), one);
    for (const std::string_view ending : {"ss", "us", "is", "as"})
        if (several.ends_with(ending)) return several;
    if (several.size() > 2 && several.ends_with('s')) several.pop_back();
    return several;
}

} // namespace

std::string Said::operator()(double inches) const {
    if (!is_length(inches)) return "no length at all";
    return print_measured(measure::Length::inches(inches), measure_);
}

std::string Said::operator()(double width, double height) const {
    const auto both = sides(width, height);
    return both[0] + " x " + both[1];
}

std::array<std::string, 2> Said::sides(double width, double height) const {
    if (!is_length(width) || !is_length(height)) return {(*this)(width), (*this)(height)};
    return print_sides(measure::Length::inches(width), measure::Length::inches(height), measure_);
}

std::string Said::set(double inches) const {
    if (!is_length(inches)) return "no length at all";
    return print_set(measure::Length::inches(inches), measure_);
}

std::string Said::cut(double inches) const {
    const std::string mark = (*this)(inches);
    if (!is_length(inches)) return mark;
    const measure::Length marked = measure::read_length(mark, measure_, "");
    return (marked < measure::Length::inches(inches) ? "a little more than " : "") + mark;
}

std::string said_name(std::string thing) {
    const std::size_t point = thing.rfind('.');
    if (point == std::string::npos) return thing;
    return one_of(thing.substr(0, point)) + " " + thing.substr(point + 1);
}

} // namespace motley::unit
