#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "document/pointer.h"
#include "document/utf8.h"

namespace motley::document {

namespace {

// One object with a thousand wrong keys is one mistake; nobody reads a thousand lines about it.
constexpr std::size_t most_complaints = 20;
constexpr std::size_t longest_fragment = 60;

std::string_view kind(const Json& value) {
    switch (value.type()) {
        case Json::value_t::string:
            return "a text";
        case Json::value_t::boolean:
            return "true or false";
        case Json::value_t::array:
            return "a list";
        case Json::value_t::object:
            return "an object";
        case Json::value_t::null:
            return "nothing";
        default:
            return "a number";
    }
}

void append_sketch(const Json& value, std::string& out) {
    if (out.size() > longest_fragment * 4) return; // It is cut anyway.
    auto separate = [&, first = true]() mutable {
        if (!first) out += ", ";
        first = false;
    };
    if (value.is_array()) {
        out += '[';
        for (const Json& item : value) {
            separate();
            append_sketch(item, out);
            if (out.size() > longest_fragment * 4) return;
        }
        out += ']';
    } else if (value.is_object()) {
        out += '{';
        for (const auto& [key, item] : value.items()) {
            separate();
            out += '"' + shortened(key) + "\": ";
            append_sketch(item, out);
            if (out.size() > longest_fragment * 4) return;
        }
        out += '}';
    } else if (value.is_string()) {
        out += in_quotes(value.get_ref<const std::string&>());
    } else {
        out += value.dump();
    }
}

std::string found(const Json& value) {
    std::string sketch;
    append_sketch(value, sketch);
    if (!value.is_string()) sketch = shortened(sketch);
    return fmt::format("found {} ({})", sketch, kind(value));
}

// One character as a terminal may safely show it.
std::string visible(std::string_view character, bool well_formed) {
    const auto first = static_cast<unsigned char>(character.front());
    if (first == '\n') return "\\n";
    if (first == '\t') return "\\t";
    if (first < 0x20 || first == 0x7F || !well_formed) return fmt::format("\\x{:02x}", first);
    const auto second = character.size() == 2 ? static_cast<unsigned char>(character[1]) : 0xFFU;
    if (first == 0xC2 && second < 0xA0)
        return fmt::format("\\x{:02x}", second); // C1 controls: terminals obey them.
    return std::string(character);
}

std::string with_thousands(std::int64_t number) {
    std::string digits = fmt::format("{}", number);
    const std::size_t first = number < 0 ? 1 : 0;
    for (std::size_t at = digits.size(); at > first + 3;) {
        at -= 3;
        digits.insert(at, 1, ',');
    }
    return digits;
}

std::string plain(double number) {
    if (std::abs(number) < 1e15 && number == std::floor(number))
        return with_thousands(static_cast<std::int64_t>(number));
    return fmt::format("{}", number);
}

} // namespace

std::string escaped_for_pointer(std::string_view key) {
    std::string out;
    for (const char c : key) {
        if (c == '~')
            out += "~0";
        else if (c == '/')
            out += "~1";
        else
            out += c;
    }
    return out;
}

std::string shortened(std::string_view text, std::size_t most) {
    std::string out;
    std::size_t characters = 0;
    std::size_t cut = 0; // How much of `out` stays when "..." has to fit as well.
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t size = character_size(text.substr(at));
        const std::string shown = visible(text.substr(at, std::max<std::size_t>(size, 1)), size > 0);
        characters += shown.size() > size ? shown.size() : 1;
        if (characters > most) return out.substr(0, cut) + "...";
        out += shown;
        if (characters + 3 <= most) cut = out.size();
        at += std::max<std::size_t>(size, 1);
    }
    return out;
}

std::string in_quotes(std::string_view text) {
    return '"' + shortened(text) + '"';
}

std::string listed(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i == most_complaints)
            return out + fmt::format(" and {} more", with_thousands(std::int64_t(words.size() - i)));
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += in_quotes(words[i]);
    }
    return out;
}

std::string Node::where() const {
    return pointer_.empty() ? file_ : file_ + ' ' + shortened(pointer_, longest_pointer);
}

void Node::refuse(std::string what, std::string remedy) const {
    throw Fault(Cause::input, where(), std::move(what), std::move(remedy));
}

std::string Node::text() const {
    if (!value_->is_string()) refuse(found(*value_), "give a text between double quotes");
    return value_->get<std::string>();
}

bool Node::boolean() const {
    if (!value_->is_boolean()) refuse(found(*value_), "give true or false, without quotes");
    return value_->get<bool>();
}

double Node::number() const {
    if (!value_->is_number() || !std::isfinite(value_->get<double>()))
        refuse(found(*value_), "give a number");
    return value_->get<double>();
}

double Node::number(double least, double most) const {
    const std::string remedy = fmt::format("give a number from {} to {}", plain(least), plain(most));
    if (!value_->is_number()) refuse(found(*value_), remedy);
    const auto number = value_->get<double>();
    if (!(number >= least && number <= most)) refuse(found(*value_), remedy);
    return number;
}

std::int64_t Node::integer(std::int64_t least, std::int64_t most) const {
    const auto refused = [&] {
        refuse(found(*value_),
               fmt::format("give a whole number from {} to {}", with_thousands(least), with_thousands(most)));
    };
    std::int64_t number = 0;
    if (value_->is_number_unsigned()) {
        const auto wide = value_->get<std::uint64_t>();
        if (wide > static_cast<std::uint64_t>(INT64_MAX)) refused();
        number = static_cast<std::int64_t>(wide);
    } else if (value_->is_number_integer()) {
        number = value_->get<std::int64_t>();
    } else if (value_->is_number_float()) {
        const auto real = value_->get<double>();
        // Beyond 2^53 a double no longer says which whole number was meant.
        if (!(std::abs(real) <= 9007199254740992.0) || real != std::floor(real)) refused();
        number = static_cast<std::int64_t>(real);
    } else {
        refused();
    }
    if (number < least || number > most) refused();
    return number;
}

std::size_t Node::choice(const std::vector<std::string>& words) const {
    if (!value_->is_string()) refuse(found(*value_), "give one of " + listed(words));
    const std::string& word = value_->get_ref<const std::string&>();
    const auto place = std::find(words.begin(), words.end(), word);
    if (place != words.end()) return static_cast<std::size_t>(place - words.begin());
    const std::string near = nearest(word, words);
    refuse("found " + in_quotes(word),
           near.empty() ? "give one of " + listed(words)
                        : fmt::format("did you mean {}? known are {}", in_quotes(near), listed(words)));
}

std::vector<Node> Node::items() const {
    if (!value_->is_array()) refuse(found(*value_), "give a list: [ ... ]");
    std::vector<Node> nodes;
    nodes.reserve(value_->size());
    for (const Json& item : *value_)
        nodes.emplace_back(item, file_, fmt::format("{}/{}", pointer_, nodes.size()));
    return nodes;
}

std::vector<std::pair<std::string, Node>> Node::members() const {
    if (!value_->is_object()) refuse(found(*value_), "give an object: { \"key\": value, ... }");
    std::vector<std::pair<std::string, Node>> nodes;
    nodes.reserve(value_->size());
    for (const auto& [key, item] : value_->get_ref<const Json::object_t&>())
        nodes.emplace_back(key, Node(item, file_, pointer_ + '/' + escaped_for_pointer(key)));
    return nodes;
}

Node Node::at(const std::string& key) const {
    if (const std::optional<Node> member = find(key)) return *member;
    std::vector<std::string> present;
    for (const auto& [name, item] : value_->get_ref<const Json::object_t&>())
        if (name != key) present.push_back(name);
    const std::string near = nearest(key, present);
    refuse(fmt::format("has no {}", in_quotes(key)),
           near.empty() ? fmt::format("add {}", in_quotes(key))
                        : fmt::format("add {}; or is it spelled {} here?", in_quotes(key), in_quotes(near)));
}

std::optional<Node> Node::find(const std::string& key) const {
    if (!value_->is_object())
        refuse(found(*value_), fmt::format("give an object: {{ {}: value, ... }}", in_quotes(key)));
    const auto member = value_->find(key);
    if (member == value_->end() || member->is_null()) return std::nullopt;
    return Node(*member, file_, pointer_ + '/' + escaped_for_pointer(key));
}

void Node::allow_only(const std::vector<std::string>& keys) const {
    if (!value_->is_object()) refuse(found(*value_), "give an object: { \"key\": value, ... }");
    std::vector<Problem> problems;
    std::size_t unknown = 0;
    for (const auto& [key, item] : value_->get_ref<const Json::object_t&>()) {
        if (std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
        if (++unknown > most_complaints) continue;
        const std::string near = nearest(key, keys);
        const Node member(item, file_, pointer_ + '/' + escaped_for_pointer(shortened(key)));
        problems.push_back({member.where(), in_quotes(key) + " is not a known key here",
                            near.empty() ? "known keys are " + listed(keys)
                                         : fmt::format("did you mean {}?", in_quotes(near))});
    }
    if (unknown > most_complaints)
        problems.push_back({where(),
                            fmt::format("{} more keys are not known here",
                                        with_thousands(std::int64_t(unknown - most_complaints))),
                            "known keys are " + listed(keys)});
    if (!problems.empty()) throw Fault(Cause::input, std::move(problems));
}

} // namespace motley::document
