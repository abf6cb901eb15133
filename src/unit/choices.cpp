#include <algorithm>

#include "fault/fault.h"
#include "unit/recipe.h"

namespace motley::unit {

namespace {

using document::in_quotes;
using document::Node;

const Parameter* parameter(const Recipe& recipe, const std::string& name) {
    const auto found = std::find_if(recipe.parameters.begin(), recipe.parameters.end(),
                                    [&](const Parameter& p) { return p.name == name; });
    return found == recipe.parameters.end() ? nullptr : &*found;
}

std::vector<std::string> choosable(const Recipe& recipe) {
    std::vector<std::string> names;
    for (const Parameter& parameter : recipe.parameters) names.push_back(parameter.name);
    for (const Unknown& unknown : recipe.unknowns) names.push_back(unknown.name);
    return names;
}

double read_inches(const Node& node, measure::System measure) {
    const measure::Length length = node.is_number()
                                       ? measure::length_of(node.number(), measure, node.where())
                                       : measure::read_length(node.text(), measure, node.where());
    if (length.ticks <= 0) node.refuse("a length of nothing", "give a length above nothing");
    return length.in_inches();
}

Choice read_choice(const Recipe& recipe, const std::string& name, const Node& node, measure::System measure) {
    Choice choice{name, {}, {}};
    const Parameter* found = parameter(recipe, name);
    if (found && found->kind == Parameter::Kind::word) {
        choice.word = found->words[node.choice(found->words)];
    } else if (found && found->kind == Parameter::Kind::whole) {
        choice.numbers.push_back(static_cast<double>(node.integer(found->least, found->most)));
    } else if (node.is_list()) {
        if (!found || !found->each) node.refuse("a list of lengths", "give one length");
        for (const Node& item : node.items()) choice.numbers.push_back(read_inches(item, measure));
        if (choice.numbers.empty()) node.refuse("an empty list", "give at least one length");
    } else {
        choice.numbers.push_back(read_inches(node, measure));
    }
    return choice;
}

} // namespace

Choices read_choices(const Recipe& recipe, const Node& node, measure::System measure) {
    const std::vector<std::string> known = choosable(recipe);
    if (known.empty() && !node.members().empty())
        node.refuse("the recipe " + recipe.id + " leaves nothing to choose", "leave the choices out");
    node.allow_only(known);
    Choices made;
    for (const auto& [name, value] : node.members())
        made.push_back(read_choice(recipe, name, value, measure));
    return made;
}

Choice choose(const Recipe& recipe, const std::string& name, const std::string& text,
              measure::System measure) {
    const std::string where = "choice " + in_quotes(name);
    const std::vector<std::string> known = choosable(recipe);
    if (std::find(known.begin(), known.end(), name) == known.end()) {
        const std::string near = nearest(name, known);
        throw Fault(Cause::input, where, "recipe " + recipe.id + " has no such choice",
                    !near.empty()   ? "did you mean " + in_quotes(near) + "?"
                    : known.empty() ? "it leaves nothing to choose"
                                    : "known are " + document::listed(known));
    }
    // As if it stood in a file: a whole number, a word, or lengths between commas.
    document::Json value;
    const Parameter* found = parameter(recipe, name);
    if (found && found->kind == Parameter::Kind::whole) {
        if (text.empty() || text.size() > 6 || text.find_first_not_of("0123456789") != std::string::npos)
            throw Fault(Cause::input, where, in_quotes(text) + " is no whole number", "write it in digits");
        value = std::stoi(text);
    } else if (text.find(',') != std::string::npos) {
        value = document::Json::array();
        for (std::size_t from = 0; from <= text.size();) {
            const std::size_t comma = std::min(text.find(',', from), text.size());
            std::string item = text.substr(from, comma - from);
            item.erase(0, std::min(item.find_first_not_of(' '), item.size()));
            value.push_back(std::move(item));
            from = comma + 1;
        }
    } else {
        value = text;
    }
    return read_choice(recipe, name, Node(value, where), measure);
}

} // namespace motley::unit
