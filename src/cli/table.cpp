#include "cli/table.h"

#include <algorithm>

#include "fault/fault.h"

namespace motley::cli {

namespace {

/// Characters of UTF-8 text: every byte that does not continue one.
std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

} // namespace

Table::Table(std::vector<std::string> headings) {
    for (std::string& heading : headings) {
        right_.push_back(heading.starts_with('>'));
        if (right_.back()) heading.erase(0, 1);
    }
    rows_.push_back(std::move(headings));
}

void Table::add(std::vector<std::string> row) {
    expects(row.size() == right_.size());
    rows_.push_back(std::move(row));
}

std::string Table::text() const {
    std::vector<std::size_t> widths(right_.size());
    for (const auto& row : rows_)
        for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], characters(row[c]));
    std::string out;
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t c = 0; c < row.size(); ++c) {
            const std::string pad(widths[c] - characters(row[c]), ' ');
            line += (c > 0 ? "  " : "") + (right_[c] ? pad + row[c] : row[c] + pad);
        }
        out += line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
    }
    return out;
}

} // namespace motley::cli
