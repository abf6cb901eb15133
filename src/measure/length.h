#pragma once
/// Exact lengths, read and printed as quilters write them.
/// Unit: the tick, 1/8128 inch, so that 1/64 in (127 ticks) and 1 mm (320 ticks) are both whole. 1 in = 25.4
/// mm exactly.

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace motley::measure {

/// What a bare number means, and how lengths are printed. "inch" or "metric" in a file; a bare metric number
/// is centimetres.
enum class System : std::uint8_t { inch, metric };

struct Length {
    std::int64_t ticks = 0;

    static constexpr std::int64_t per_inch = 8128;
    static constexpr std::int64_t per_millimetre = 320;
    static Length inches(double inches); ///< Rounded to the nearest tick. Expects at most 1,000 m.

    constexpr double in_inches() const { return static_cast<double>(ticks) / per_inch; }
    auto operator<=>(const Length&) const = default;
    constexpr Length operator+(Length other) const { return {ticks + other.ticks}; }
    constexpr Length operator-(Length other) const { return {ticks - other.ticks}; }
    constexpr Length operator*(std::int64_t times) const { return {ticks * times}; }
};

/// The longest length read, 1,000 m.
inline constexpr Length longest{1'000'000 * Length::per_millimetre};

/// Reads "6", "6 1/2", "6½", "6-1/2", "6.5", each optionally followed by in, ", cm, mm, yd or m (with or
/// without a space). Exact where ticks allow, else the nearest tick. 1 yd = 36 in = 0.9144 m (international
/// yard, 1959). Throws Fault(Cause::input, where, ...) quoting the text when it is none of these, negative,
/// or beyond `longest`.
Length read_length(std::string_view text, System system, std::string_view where);

/// A bare number in the file's measure: inches, or centimetres. The same length as its shortest decimal text;
/// same limits.
Length length_of(double number, System system, std::string_view where);

/// For people. "6 1/2 in": fractions to 1/8, to 1/16, 1/32 or 1/64 where the value needs it, rounded to
/// nearest 1/64 beyond that. Metric: "16.5 cm" in steps of 0.5 cm where exact, else whole millimetres "163
/// mm". Negative: "-1/2 in".
std::string print(Length length, System system);

/// The same without the unit ("6 1/2").
std::string print_bare(Length length, System system);

/// What comes of sewing and is laid under a ruler: inches to the nearest 1/16; metric as `print`, but half
/// millimetres are told ("7.5 mm").
std::string print_measured(Length length, System system);

/// The two sides of one thing, both in one unit: "243 mm" and "125 mm", not "12.5 cm".
std::array<std::string, 2> print_sides(Length width, Length height, System system);

/// What somebody set, a seam allowance: as it is. Fractions to 1/64, half millimetres, the other system where
/// only that is exact, else four digits: "7.5 mm", "1/4 in", "0.3 in".
std::string print_set(Length length, System system);

/// For files: text that read_length takes back to exactly this length whatever the file's measure. `print`'s
/// where that is exact, else the other system's, else decimals. Expects 0 <= length <= longest.
std::string print_exact(Length length, System system);

/// Rounded up to the next multiple of `step`. Expects step > 0.
Length round_up(Length length, Length step);

} // namespace motley::measure
