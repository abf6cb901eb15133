#pragma once
/// A table for a terminal: columns as wide as their widest cell, counted in characters.

#include <string>
#include <vector>

namespace motley::cli {

class Table {
public:
    /// A heading that starts with '>' belongs to a column of numbers, set to the right.
    explicit Table(std::vector<std::string> headings);
    void add(std::vector<std::string> row);
    std::string text() const;

private:
    std::vector<bool> right_;
    std::vector<std::vector<std::string>> rows_;
};

} // namespace motley::cli
