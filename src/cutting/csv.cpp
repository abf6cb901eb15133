#include "cutting/csv.h"

#include <fmt/format.h>

namespace motley::cutting {

std::string csv_field(const std::string& text) {
    std::string said = text;
    if (!said.empty() && std::string("=+-@\t\r").find(said.front()) != std::string::npos) said = "'" + said;
    if (said.find_first_of(",\"\r\n") == std::string::npos) return said;
    std::string out = "\"";
    for (const char letter : said) {
        if (letter == '"') out += '"';
        out += letter;
    }
    return out + '"';
}

std::string csv_line(const std::vector<std::string>& fields) {
    return fmt::format("{}\n", fmt::join(fields, ","));
}

std::string csv_number(double number, int decimals) {
    std::string text = fmt::format("{:.{}f}", number, decimals);
    if (text.find('.') == std::string::npos) return text;
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

} // namespace motley::cutting
