#include "render/pdf_notes.h"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>
#include <map>
#include <string_view>

#include "fault/fault.h"

namespace motley::render {

namespace {

/// The number that stands after `key`, looked for from the end.
std::size_t number_after(std::string_view text, std::string_view key) {
    const std::size_t at = text.rfind(key);
    expects(at != std::string_view::npos);
    const char* from = text.data() + at + key.size();
    while (*from == ' ' || *from == '\n') ++from;
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(from, text.data() + text.size(), number);
    expects(error == std::errc{});
    return number;
}

/// Where each object begins, by number: the one cross-reference table that cairo writes.
std::map<std::size_t, std::size_t> offsets_of(std::string_view pdf) {
    constexpr std::size_t entry = 20; // Bytes of each line, by the format.
    const std::size_t count = number_after(pdf, "/Size");
    const std::string head = fmt::format("xref\n0 {}\n", count);
    const std::size_t table = number_after(pdf, "startxref");
    expects(pdf.substr(table, head.size()) == head);
    std::map<std::size_t, std::size_t> offsets;
    for (std::size_t object = 1; object < count; ++object) {
        const char* line = pdf.data() + table + head.size() + object * entry;
        std::size_t offset = 0;
        std::from_chars(line, line + 10, offset);
        if (line[17] == 'n') offsets[object] = offset;
    }
    return offsets;
}

/// The object's dictionary without its closing mark.
std::string open_dictionary(std::string_view pdf, std::size_t offset) {
    const std::string_view from = pdf.substr(offset);
    const std::size_t end = from.find("\n>>\nendobj");
    expects(end != std::string_view::npos);
    return std::string(from.substr(0, end));
}

/// UTF-8 as a text string of UTF-16, in hexadecimal.
std::string text_string(const std::string& words) {
    std::string hex = "<FEFF";
    for (std::size_t i = 0; i < words.size();) {
        const auto first = static_cast<unsigned char>(words[i]);
        const std::size_t more = first < 0x80 ? 0 : first < 0xe0 ? 1 : first < 0xf0 ? 2 : 3;
        std::uint32_t code = more == 0 ? first : first & (0x3fu >> more);
        for (std::size_t k = 1; k <= more && i + k < words.size(); ++k)
            code = code << 6 | (static_cast<unsigned char>(words[i + k]) & 0x3fu);
        i += more + 1;
        if (code >= 0x10000)
            hex += fmt::format("{:04X}{:04X}", 0xd800 + ((code - 0x10000) >> 10),
                               0xdc00 + ((code - 0x10000) & 0x3ff));
        else
            hex += fmt::format("{:04X}", code);
    }
    return hex + ">";
}

} // namespace

std::vector<std::byte> with_notes(std::vector<std::byte> pdf, const std::string& language,
                                  const std::vector<std::string>& alts) {
    const std::string_view text(reinterpret_cast<const char*>(pdf.data()), pdf.size());
    const std::map<std::size_t, std::size_t> offsets = offsets_of(text);
    const std::size_t root = number_after(text, "/Root");
    std::map<std::size_t, std::string> changed;
    std::string catalogue = open_dictionary(text, offsets.at(root));
    if (catalogue.find("/MarkInfo") == std::string::npos) catalogue += "\n   /MarkInfo << /Marked true >>";
    changed[root] =
        catalogue +
        fmt::format("\n   /Lang ({})\n   /ViewerPreferences << /DisplayDocTitle true >>", language);
    // cairo 1.16 leaves out the mark that says a date follows.
    const std::size_t info = number_after(text, "/Info");
    std::string about = open_dictionary(text, offsets.at(info));
    const std::string date = "/CreationDate (";
    if (const std::size_t at = about.find(date); at != std::string::npos && about[at + date.size()] != 'D')
        changed[info] = about.insert(at + date.size(), "D:");
    std::size_t figure = 0;
    for (const auto& [object, offset] : offsets) {
        const std::string head = fmt::format("{} 0 obj\n<< /Type /StructElem\n   /S /Figure\n", object);
        if (text.substr(offset, head.size()) != head) continue;
        if (figure < alts.size())
            changed[object] =
                open_dictionary(text, offset) + fmt::format("\n   /Alt {}", text_string(alts[figure]));
        ++figure;
    }
    expects(figure == alts.size());
    std::string update, table = "xref\n";
    for (const auto& [object, dictionary] : changed) {
        table += fmt::format("{} 1\n{:010} 00000 n \n", object, pdf.size() + update.size());
        update += dictionary + "\n>>\nendobj\n";
    }
    const std::size_t start = pdf.size() + update.size();
    update += table + fmt::format(
                          "trailer\n<< /Size {}\n   /Root {} 0 R\n   /Info {} 0 R\n   /Prev {}\n>>\n"
                          "startxref\n{}\n%%EOF\n",
                          number_after(text, "/Size"), root, info, number_after(text, "startxref"), start);
    const auto* first = reinterpret_cast<const std::byte*>(update.data());
    pdf.insert(pdf.end(), first, first + update.size());
    return pdf;
}

} // namespace motley::render
