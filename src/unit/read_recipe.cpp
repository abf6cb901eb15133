#include <algorithm>

#include "fault/fault.h"
#include "unit/read_action.h"
#include "unit/recipe.h"

namespace motley::unit {

namespace {

using document::in_quotes;
using document::Node;

const std::vector<std::string> cut_words{"strip", "square", "rectangle", "half square", "quarter square"};

/// A name that can stand in an expression.
std::string read_size_name(const Node& node) {
    const std::string name = node.text();
    const bool plain = !name.empty() && name[0] >= 'a' && name[0] <= 'z' &&
                       std::all_of(name.begin(), name.end(), [](char c) {
                           return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
                       });
    if (!plain) node.refuse(in_quotes(name) + " cannot be used in a size", "use small letters, digits and _");
    for (const char* taken : {"finished", "unfinished", "seam", "in", "cm", "mm", "yd", "m"})
        if (name == taken) node.refuse(in_quotes(name) + " has a meaning already", "choose another name");
    return name;
}

Parameter read_parameter(const Node& node, measure::System measure) {
    node.allow_only({"name", "says", "whole", "least", "most", "length", "each", "words"});
    Parameter made;
    made.name = read_size_name(node.at("name"));
    if (const auto says = node.find("says")) made.says = says->text();
    const auto whole = node.find("whole"), length = node.find("length"), words = node.find("words");
    if (whole.has_value() + length.has_value() + words.has_value() != 1)
        node.refuse("a parameter must be one thing", "give one of \"whole\", \"length\" or \"words\"");
    if (whole) {
        made.kind = Parameter::Kind::whole;
        if (const auto least = node.find("least")) made.least = static_cast<int>(least->integer(0, 999));
        if (const auto most = node.find("most")) made.most = static_cast<int>(most->integer(made.least, 999));
        made.standard = Expression(static_cast<double>(whole->integer(made.least, made.most)));
    } else if (length) {
        made.kind = Parameter::Kind::length;
        made.standard = read_expression(*length, measure);
        if (const auto each = node.find("each")) made.each = each->boolean();
    } else {
        made.kind = Parameter::Kind::word;
        for (const Node& word : words->items()) made.words.push_back(word.text());
        if (made.words.empty()) words->refuse("no words to choose from", "list at least one");
    }
    return made;
}

InputRule read_input(const Node& node, measure::System measure) {
    node.allow_only({"name", "role", "shape", "width", "height", "copies", "pieces"});
    InputRule made;
    made.name = node.at("name").text();
    if (made.name.empty() || made.name.find('.') != std::string::npos)
        node.at("name").refuse(in_quotes(made.name) + " cannot be a name", "use a word without a full stop");
    made.role = made.name;
    if (const auto role = node.find("role")) made.role = role->text();
    made.shape = static_cast<Cut>(node.at("shape").choice(cut_words));
    made.width = read_expression(node.at("width"), measure);
    if (made.shape == Cut::rectangle)
        made.height = read_expression(node.at("height"), measure);
    else if (const auto height = node.find("height"))
        height->refuse("only a rectangle has a height of its own", "leave it out");
    if (const auto copies = node.find("copies")) {
        made.copies = copies->is_number() ? Expression(static_cast<double>(copies->integer(1, 999)))
                                          : read_expression(*copies, measure);
        made.numbered = true;
    }
    if (const auto pieces = node.find("pieces"))
        made.pieces = pieces->is_number() ? Expression(static_cast<double>(pieces->integer(1, 999)))
                                          : read_expression(*pieces, measure);
    return made;
}

/// The names that sizes may be written with, and what else must agree across the file.
class Consistency {
public:
    explicit Consistency(const Recipe& recipe) : recipe_(recipe) {
        known_ = {"finished", "unfinished", "seam"};
        for (const Parameter& parameter : recipe.parameters)
            if (parameter.kind != Parameter::Kind::word) known_.push_back(parameter.name);
        for (const Unknown& unknown : recipe.unknowns) known_.push_back(unknown.name);
        for (const InputRule& input : recipe.inputs) things_.push_back(input.name);
    }

    void check_size(const Expression& size, const Node& node) const {
        for (const std::string& name : size.names()) check_word(name, known_, node, "no size is called ");
    }

    void check_step(const Action& action, const Node& node) {
        for (const Expression* size : sizes(action)) check_size(*size, node);
        for (const std::string& name : taken(action.operation)) {
            const std::string plain = name.substr(0, name.find('.'));
            check_word(plain, things_, node, "there is nothing called ");
        }
        const auto* turn = std::get_if<Turn>(&action.operation);
        if (turn && !turn->put.empty()) check_input(turn->put, node);
        for (const Wish& wish : action.wishes) {
            std::vector<std::string> sought;
            for (const Unknown& unknown : recipe_.unknowns) sought.push_back(unknown.name);
            check_word(wish.finds, sought, node, "no size to be found is called ");
            if (!wish.input.empty()) check_input(wish.input, node);
        }
        for (const auto& [name, word] : action.when) {
            const auto parameter =
                std::find_if(recipe_.parameters.begin(), recipe_.parameters.end(),
                             [&, &key = name](const Parameter& p) { return p.name == key; });
            if (parameter == recipe_.parameters.end())
                node.refuse("no parameter is called " + in_quotes(name),
                            "name one that chooses between words");
            check_word(word, parameter->words, node, in_quotes(name) + " cannot be ");
        }
        if (!action.as.empty()) {
            if (action.as.find('.') != std::string::npos)
                node.refuse(in_quotes(action.as) + " cannot be a name", "use a word without a full stop");
            things_.push_back(action.as);
        }
    }

    void check_made(const std::string& name, const Node& node) const {
        check_word(name, things_, node, "no step makes ");
    }

    /// Every unknown is asked for by one wish.
    void check_wishes(const Node& node) const {
        for (const Unknown& unknown : recipe_.unknowns) {
            int wishes = 0;
            for (const Action& action : recipe_.steps)
                for (const Wish& wish : action.wishes) wishes += wish.finds == unknown.name;
            if (wishes != 1)
                node.refuse(std::to_string(wishes) + " wishes find " + in_quotes(unknown.name),
                            "one step must say, under \"wish\", what is to come out right with it");
        }
    }

private:
    void check_word(const std::string& word, const std::vector<std::string>& words, const Node& node,
                    const std::string& complaint) const {
        if (std::find(words.begin(), words.end(), word) != words.end()) return;
        const std::string near = nearest(word, words);
        node.refuse(complaint + in_quotes(word), near.empty() ? "known are " + document::listed(words)
                                                              : "did you mean " + in_quotes(near) + "?");
    }
    void check_input(const std::string& name, const Node& node) const {
        std::vector<std::string> inputs;
        for (const InputRule& input : recipe_.inputs) inputs.push_back(input.name);
        check_word(name, inputs, node, "no input is called ");
    }

    const Recipe& recipe_;
    std::vector<std::string> known_, things_;
};

/// No two of a list under one name.
template <class Named>
void check_twice(const std::vector<Named>& list, const Node& node) {
    for (std::size_t i = 0; i < list.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (list[i].name == list[j].name) node.refuse(in_quotes(list[i].name) + " stands there twice");
}

/// Standards and guesses are worked out before anything is sewn: from the order, and from parameters that
/// stand above them.
void check_standards(const Recipe& recipe, const Node& node) {
    std::vector<std::string> known{"finished", "unfinished", "seam"}, all;
    const auto check = [&](const Expression& size, const std::string& name, const std::string& list) {
        if (std::find(all.begin(), all.end(), name) != all.end())
            node.at(list).refuse(in_quotes(name) + " stands there twice", "give each size a name of its own");
        all.push_back(name);
        for (const std::string& used : size.names())
            if (std::find(known.begin(), known.end(), used) == known.end())
                node.at(list).refuse(in_quotes(name) + " is written with " + in_quotes(used),
                                     "here only these are known: " + document::listed(known));
    };
    for (const Parameter& parameter : recipe.parameters) {
        check(parameter.standard, parameter.name, "parameters");
        if (parameter.kind != Parameter::Kind::word) known.push_back(parameter.name);
    }
    for (const Unknown& unknown : recipe.unknowns) check(unknown.guess, unknown.name, "find");
}

constexpr std::size_t most_entries = 200;

std::vector<Node> limited(const Node& node) {
    std::vector<Node> items = node.items();
    if (items.size() > most_entries)
        node.refuse(std::to_string(items.size()) + " entries", "at most " + std::to_string(most_entries));
    return items;
}

} // namespace

Recipe read_recipe(const Node& node) {
    node.allow_only(
        {"format", "id", "name", "about", "measure", "parameters", "find", "inputs", "steps", "makes"});
    if (const std::string format = node.at("format").text(); format != "motley recipe 1")
        node.at("format").refuse("the format is " + in_quotes(format), "write \"motley recipe 1\"");
    Recipe made;
    made.id = node.at("id").text();
    made.name = node.at("name").text();
    if (const auto about = node.find("about")) made.about = about->text();
    if (const auto measure = node.find("measure"))
        made.measure = static_cast<measure::System>(measure->choice({"inch", "metric"}));
    if (const auto parameters = node.find("parameters"))
        for (const Node& item : limited(*parameters))
            made.parameters.push_back(read_parameter(item, made.measure));
    if (const auto find = node.find("find"))
        for (const Node& item : limited(*find)) {
            item.allow_only({"name", "says", "guess", "round"});
            Unknown unknown{
                read_size_name(item.at("name")), {}, Expression("2 * unfinished", made.measure, "")};
            if (const auto says = item.find("says")) unknown.says = says->text();
            if (const auto guess = item.find("guess")) unknown.guess = read_expression(*guess, made.measure);
            if (const auto round = item.find("round")) {
                if (round->is_text())
                    unknown.generous = round->choice({"up", "generously"}) == 1;
                else
                    unknown.rounds = round->boolean();
            }
            made.unknowns.push_back(std::move(unknown));
        }
    for (const Node& item : limited(node.at("inputs"))) made.inputs.push_back(read_input(item, made.measure));
    if (made.inputs.empty()) node.at("inputs").refuse("no inputs", "list the cloth that goes in");
    check_twice(made.inputs, node.at("inputs"));
    check_standards(made, node);
    Consistency consistency(made);
    for (const Node& item : limited(node.at("steps"))) {
        made.steps.push_back(read_action(item, made.measure));
        consistency.check_step(made.steps.back(), item);
    }
    const auto inputs = node.at("inputs").items();
    for (std::size_t i = 0; i < inputs.size(); ++i)
        for (const Expression* size :
             {&made.inputs[i].width, &made.inputs[i].height, &made.inputs[i].copies, &made.inputs[i].pieces})
            consistency.check_size(*size, inputs[i]);
    const Node makes = node.at("makes");
    for (const Node& item : makes.is_list() ? makes.items() : std::vector<Node>{makes}) {
        made.makes.push_back(item.text());
        consistency.check_made(made.makes.back(), item);
    }
    if (made.makes.empty()) makes.refuse("nothing is made", "name the finished units");
    consistency.check_wishes(node);
    return made;
}

} // namespace motley::unit
