#pragma once
/// Light, medium or dark: value as a quilter means it, relative to the fabrics on the table.

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace motley::colour {

enum class Value : std::uint8_t { light, medium, dark };

std::string_view name(Value value); ///< "light", "medium", "dark".

/// Exact one-dimensional k-means by dynamic programming (Wang & Song, The R Journal 3(2), 2011): the class of
/// each number, 0 the lowest, so that the sum of squared distances to the class means is least. Equal numbers
/// are never split; when there are fewer distinct numbers than k, each has a class of its own. Expects k >= 1
/// and finite numbers. O(k n^2) or better.
std::vector<int> classes(std::span<const double> numbers, int k);

/// The value of each fabric of a set, by its L*: the most classes (three, two or one, by `classes`) whose
/// neighbouring means differ by at least `floor` L*, so that a set of near-equal fabrics is not torn apart.
/// Two classes are called light and dark, a single one by where its mean lies: at least 65 light, below 40
/// dark, else medium. No fabric is ever called lighter than one with a higher L*. Expects floor >= 0 and
/// finite numbers.
std::vector<Value> values(std::span<const double> lightness, double floor = 8.0);

} // namespace motley::colour
