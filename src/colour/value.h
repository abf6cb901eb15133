#pragma once
/// Light, medium or dark: value as a quilter means it, relative to the fabrics on the table.

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace motley::colour {

enum class Value : std::uint8_t { light, medium, dark };

std::string_view name(Value value); ///< "light", "medium", "dark".

/// Exact one-dimensional k-means by dynamic programming (Wang & Song, The R Journal 3(2), 2011): the class of each number, 0 the
/// lowest, so that the sum of squared distances to the class means is least. Equal numbers are never split; when there are fewer
/// distinct numbers than k, fewer classes are used. Expects k >= 1. O(k n^2) or better.
std::vector<int> classes(std::span<const double> numbers, int k);

/// The value of each fabric of a set, by its L*. Three classes by `classes`; neighbouring classes whose means differ by less than
/// `floor` L* become one (so a set of near-equal fabrics is not torn apart). Two classes left are called light and dark, a single one
/// by where its mean lies: at least 65 light, below 40 dark, else medium.
std::vector<Value> values(std::span<const double> lightness, double floor = 8.0);

} // namespace motley::colour
