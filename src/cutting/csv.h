#pragma once
/// Lists that open cleanly in a spreadsheet (RFC 4180 quoting; lines end with a newline).

#include <string>
#include <vector>

namespace motley::cutting {

/// A text as one field: quoted where a comma, quote or line end stands in it. One that a spreadsheet would
/// take for a formula (it begins with =, +, -, @, a tab or a carriage return) gets an apostrophe in front.
std::string csv_field(const std::string& text);

/// Already fields: joined by commas, with a newline.
std::string csv_line(const std::vector<std::string>& fields);

/// At most so many decimals, without trailing zeros: "12.5".
std::string csv_number(double number, int decimals = 2);

} // namespace motley::cutting
