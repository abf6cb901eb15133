#include "palette/print.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "palette/palette.h"
#include "palette/words.h"

namespace motley::palette {

namespace {

using measure::Length;

// Division, not multiplication: it gives the double nearest to the decimal, which is what a reader gets.
double in_steps(double number, double steps) {
    return std::round(number * steps) / steps + 0.0;
}

constexpr double crooked = 0.05; // Rise over run: some 3 degrees, as a photo may be off.

bool level(Print::Step step) {
    return std::abs(step.down) <= crooked * std::abs(step.across);
}
bool upright(Print::Step step) {
    return std::abs(step.across) <= crooked * std::abs(step.down);
}
double length(Print::Step step) {
    return std::sqrt(step.across * step.across + step.down * step.down);
}

std::string said(double inches, measure::System system) {
    return measure::print_measured(Length{std::llround(inches * Length::per_inch)}, system);
}

std::string said(double width, double height, measure::System system) {
    const std::string one = said(width, system), other = said(height, system);
    return one == other ? one : one + " x " + other;
}

std::string repeat_in_words(const Print& print, measure::System system) {
    if (print.repeat.empty()) return {};
    if (print.repeat.size() == 1) return "repeat " + said(length(print.repeat.front()), system);
    const Cell cell = cell_of(print);
    if (cell.width == 0)
        return "repeat " + said(length(print.repeat[0]), length(print.repeat[1]), system) + " aslant";
    return fmt::format("repeat {}{}", said(cell.width, cell.height, system),
                       cell.half_drop ? " half-drop" : "");
}

} // namespace

Print rounded(Print print) {
    for (Print::Step& step : print.repeat) step = {in_steps(step.across, 1e4), in_steps(step.down, 1e4)};
    print.lean = in_steps(print.lean, 10);
    print.sure = in_steps(print.sure, 100);
    return print;
}

Print rescaled(Print print, Length from, Length to) {
    if (from == to) return print;
    const double times = to.in_inches() / from.in_inches();
    for (Print::Step& step : print.repeat) step = {step.across * times, step.down * times};
    return rounded(std::move(print));
}

Cell cell_of(const Print& print) {
    if (print.repeat.size() != 2) return {};
    const Print::Step one = print.repeat[0], other = print.repeat[1];
    if (level(one) && upright(other)) return {length(one), length(other), false};
    // The sums of the two shortest steps that lie level and upright, if any do.
    const auto sum = [&](int i, int j) {
        return Print::Step{i * one.across + j * other.across, i * one.down + j * other.down};
    };
    Cell cell;
    for (int i = -2; i <= 2; ++i)
        for (int j = -2; j <= 2; ++j) {
            const Print::Step step = sum(i, j);
            const double far = length(step);
            if (far == 0) continue;
            if (level(step) && (cell.width == 0 || far < cell.width)) cell.width = far;
            if (upright(step) && (cell.height == 0 || far < cell.height)) cell.height = far;
        }
    const double area = std::abs(one.across * other.down - one.down * other.across);
    const double steps = area > 0 ? cell.width * cell.height / area : 0;
    if (std::abs(steps - 2) > 0.2) return {};
    cell.half_drop = true;
    return cell;
}

std::string in_words(const Print& print, measure::System system) {
    std::string words;
    switch (print.stripes) {
        case Print::Stripes::none:
            break;
        case Print::Stripes::both:
            words = "checks";
            break;
        case Print::Stripes::along:
        case Print::Stripes::across:
        case Print::Stripes::aslant:
            words = "stripes " + stripe_words[static_cast<std::size_t>(print.stripes)];
            break;
    }
    for (const std::string& more :
         {repeat_in_words(print, system), std::string(print.one_way ? "looks one-way" : "")})
        if (!more.empty()) words += (words.empty() ? "" : ", ") + more;
    return words;
}

document::Json write_print(const Print& said, Length photo_width, measure::System system) {
    const Print print = rounded(said);
    document::Json json;
    if (!print.repeat.empty()) {
        document::Json steps = document::Json::array();
        for (const Print::Step& step : print.repeat)
            steps.push_back(document::Json::array({step.across, step.down}));
        json["repeat_in"] = std::move(steps);
        json["photo_width"] = measure::print_exact(photo_width, system);
    }
    json["stripes"] = stripe_words[static_cast<std::size_t>(print.stripes)];
    if (print.lean != 0) json["lean"] = print.lean;
    json["one_way_suggested"] = print.one_way;
    json["sure"] = print.sure;
    return json;
}

Print read_print(const document::Node& node, Length photo_width, measure::System system) {
    node.allow_only({"repeat_in", "photo_width", "stripes", "lean", "one_way_suggested", "sure"});
    Print print;
    if (const auto steps = node.find("repeat_in")) {
        for (const document::Node& item : steps->items()) {
            const std::vector<document::Node> sides = item.items();
            if (sides.size() != 2)
                item.refuse(fmt::format("found a list of {}", sides.size()),
                            "give two numbers, in inches: to the right and down");
            const Print::Step step{sides[0].number(-120, 120), sides[1].number(-120, 120)};
            if (step.across == 0 && step.down == 0) item.refuse("a repeat of no length", "leave it out");
            print.repeat.push_back(step);
        }
        if (print.repeat.size() > 2)
            steps->refuse(fmt::format("found {} steps", print.repeat.size()),
                          "give one for stripes, two for other prints that repeat");
    }
    if (const auto stripes = node.find("stripes"))
        print.stripes = static_cast<Print::Stripes>(stripes->choice(stripe_words));
    if (const auto lean = node.find("lean")) print.lean = lean->number(-90, 90);
    if (const auto one_way = node.find("one_way_suggested")) print.one_way = one_way->boolean();
    if (const auto sure = node.find("sure")) print.sure = sure->number(0, 1);
    print = rounded(std::move(print));
    if (const auto width = node.find("photo_width"))
        print = rescaled(
            std::move(print),
            read_length(*width, system, Length{Length::per_inch / 4}, Length{Length::per_inch} * 120),
            photo_width);
    return print;
}

} // namespace motley::palette
