#include "document/mistake.h"

#include <fmt/format.h>

#include <algorithm>

namespace motley::document {

namespace {

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

// The last character before `offset` that is not white space, or 0.
char before(std::string_view text, std::size_t offset) {
    while (offset > 0)
        if (const char c = text[--offset]; !is_space(c)) return c;
    return 0;
}

bool is_in_object(std::string_view text, const std::vector<std::size_t>& open) {
    return !open.empty() && text[open.back()] == '{';
}

// "1/2" and what follows.
bool is_fraction(std::string_view text) {
    const std::size_t digits = std::min(text.find_first_not_of("0123456789"), text.size());
    return digits > 0 && text.substr(digits).starts_with('/');
}

std::string at_the_end(std::string_view text, const std::vector<std::size_t>& open) {
    if (open.empty()) return "a text, a number or a value is not finished";
    return fmt::format("the {} of {} is never closed", text[open.back()], place_in(text, open.back()));
}

std::string about_a_word(std::string_view text, std::size_t offset) {
    std::size_t first = offset;
    while (first > 0 && is_letter(text[first - 1])) --first;
    std::size_t last = offset;
    while (last < text.size() && is_letter(text[last])) ++last;
    std::string word(text.substr(first, last - first));
    std::transform(word.begin(), word.end(), word.begin(),
                   [](char c) { return static_cast<char>(c | 0x20); });
    if (word == "nan" || word == "infinity" || word == "inf") return "give an ordinary number here";
    if (word == "true" || word == "false" || word == "null")
        return "write true, false and null in small letters";
    if (word == "none") return "write null for nothing";
    return "put double quotes around a text: \"like this\"";
}

} // namespace

std::string place_in(std::string_view text, std::size_t offset) {
    const std::string_view head = text.substr(0, std::min(offset, text.size()));
    const auto line = 1 + std::count(head.begin(), head.end(), '\n');
    const std::size_t newline = head.rfind('\n');
    const std::string_view row = newline == std::string_view::npos ? head : head.substr(newline + 1);
    // Every byte but the continuation bytes starts a character.
    const auto column = 1 + std::count_if(row.begin(), row.end(), [](char c) { return (c & 0xC0) != 0x80; });
    return fmt::format("line {}, column {}", line, column);
}

std::string likely_mistake(std::string_view text, std::size_t offset, const std::vector<std::size_t>& open) {
    if (offset >= text.size()) return at_the_end(text, open);
    const char c = text[offset];
    const char previous = before(text, offset);
    const std::string_view rest = text.substr(offset);
    if (c == '\'') return "put texts between double quotes: \"like this\"";
    if (c == '/' || c == '#') return "JSON has no comments: take it out";
    for (const std::string_view curly : {"\u201C", "\u201D", "\u201E", "\u2018", "\u2019"})
        if (rest.starts_with(curly)) return "use straight double quotes \" instead of curly ones";
    if (c == '\n' || c == '\r') return "a text must be closed with \" on the line where it starts";
    if (c == '\\' || (offset > 0 && text[offset - 1] == '\\'))
        return "in a text, write \\\\ for one \\; in file names, use /";
    if ((c == ']' || c == '}') && previous == ',') return "take out the comma before it";
    if (c == ',' && (previous == ',' || previous == '[' || previous == '{'))
        return "there is a comma too many";
    if (offset > 0 && open.empty() && (previous == '}' || previous == ']'))
        return "the JSON value ends before this: take out what follows it";
    if (static_cast<unsigned char>(c) < 0x20) return "there is a control character: take it out";
    if ((previous == '{' || previous == ',') && is_in_object(text, open) && c != '"')
        return "a key must stand between double quotes: \"key\": value";
    if (is_fraction(rest)) return "put double quotes around a length with a fraction: \"6 1/2\"";
    const bool value_starts = c == '"' || c == '{' || c == '[' || c == '-' || is_digit(c) || is_letter(c);
    const bool apart = offset > 0 && is_space(text[offset - 1]);
    const bool value_ended =
        previous == '"' || previous == '}' || previous == ']' || (apart && is_digit(previous));
    if (value_starts && value_ended) return "a comma or a colon is missing before it";
    if (c == '"' && rest.substr(0, rest.find('"', 1)).find("\\u") != std::string_view::npos)
        return "a \\u sequence in it is not a character: write the character itself";
    if (is_digit(c) || c == '-' || c == '+' || c == '.' || previous == '-' || previous == '.')
        return "write numbers like 7, 0.5 or -2";
    if (is_letter(c)) return about_a_word(text, offset);
    if (c == '}' || c == ']') return "check that every { has its } and every [ its ]";
    return "this is not how JSON goes on";
}

} // namespace motley::document
