#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include "fault/fault.h"
#include "measure/length.h"

namespace motley::measure {

namespace {

constexpr std::int64_t per_yard = 36 * Length::per_inch;
constexpr std::string_view examples = R"(write it like "6 1/2", "6.5 in", "16.5 cm" or "1/4 yd")";

struct Fraction {
    std::int64_t above = 0;
    std::int64_t below = 1;
};

// Why a text is not a length; kept apart from the sentence about it.
struct Refusal {
    std::string_view remedy = examples;
};

// The vulgar fractions of Unicode that have a code point of their own.
constexpr std::array<std::pair<std::string_view, Fraction>, 18> vulgar = {{{"\u00BC", {1, 4}},
                                                                           {"\u00BD", {1, 2}},
                                                                           {"\u00BE", {3, 4}},
                                                                           {"\u2150", {1, 7}},
                                                                           {"\u2151", {1, 9}},
                                                                           {"\u2152", {1, 10}},
                                                                           {"\u2153", {1, 3}},
                                                                           {"\u2154", {2, 3}},
                                                                           {"\u2155", {1, 5}},
                                                                           {"\u2156", {2, 5}},
                                                                           {"\u2157", {3, 5}},
                                                                           {"\u2158", {4, 5}},
                                                                           {"\u2159", {1, 6}},
                                                                           {"\u215A", {5, 6}},
                                                                           {"\u215B", {1, 8}},
                                                                           {"\u215C", {3, 8}},
                                                                           {"\u215D", {5, 8}},
                                                                           {"\u215E", {7, 8}}}};

constexpr std::array<std::pair<std::string_view, std::int64_t>, 18> units = {
    {{"in", Length::per_inch},
     {"in.", Length::per_inch},
     {"inch", Length::per_inch},
     {"inches", Length::per_inch},
     {"\"", Length::per_inch},
     {"\u2033", Length::per_inch}, // Double prime.
     {"\u201D", Length::per_inch}, // What word processors make of ".
     {"''", Length::per_inch},
     {"cm", 10 * Length::per_millimetre},
     {"centimetres", 10 * Length::per_millimetre},
     {"mm", Length::per_millimetre},
     {"millimetres", Length::per_millimetre},
     {"m", 1000 * Length::per_millimetre},
     {"metres", 1000 * Length::per_millimetre},
     {"yd", per_yard},
     {"yds", per_yard},
     {"yard", per_yard},
     {"yards", per_yard}}};

// Walks over a text once; takes what it finds and throws Refusal at what it cannot use.
class Reader {
public:
    explicit Reader(std::string_view text) : rest_(text) {}

    std::int64_t ticks(System system) {
        skip_spaces();
        if (rest_.starts_with('-') || rest_.starts_with("\u2212"))
            throw Refusal{"a length cannot be negative"};
        read_quantity();
        const std::int64_t unit = read_unit(system);
        // The fraction alone is rounded: below 10^13 x 320,000, twice, stays within 64 bits.
        const std::int64_t part = (2 * fraction_.above * unit + fraction_.below) / (2 * fraction_.below);
        const std::int64_t ticks = whole_ * unit + part;
        if (ticks > longest.ticks) throw Refusal{"a length is at most 1,000 m"};
        return ticks;
    }

private:
    bool take(std::string_view word) {
        if (!rest_.starts_with(word)) return false;
        rest_.remove_prefix(word.size());
        return true;
    }

    bool skip_spaces() {
        bool any = false;
        while (take(" ") || take("\t") || take("\u00A0") || take("\u2009") || take("\u202F")) any = true;
        return any;
    }

    std::string_view take_digits() {
        const std::string_view digits = rest_.substr(0, rest_.find_first_not_of("0123456789"));
        rest_.remove_prefix(digits.size());
        return digits;
    }

    // Up to `most` digits besides leading zeros.
    static std::int64_t number(std::string_view digits, std::size_t most) {
        digits.remove_prefix(std::min(digits.find_first_not_of('0'), digits.size()));
        if (digits.size() > most)
            throw Refusal{"this number is too large for a length: a length is at most 1,000 m"};
        std::int64_t value = 0;
        for (const char digit : digits) value = value * 10 + (digit - '0');
        return value;
    }

    static std::int64_t whole_number(std::string_view digits) { return number(digits, 9); }

    bool take_vulgar() {
        for (const auto& [sign, fraction] : vulgar) {
            if (!take(sign)) continue;
            fraction_ = fraction;
            return true;
        }
        return false;
    }

    bool take_slash() { return take("/") || take("\u2044"); }

    // After the digits above the line.
    void read_below(std::string_view above) {
        const std::string_view below = take_digits();
        if (below.empty()) throw Refusal{};
        fraction_ = {number(above, 6), number(below, 6)};
        if (fraction_.below == 0) throw Refusal{"a fraction cannot have 0 below the line"};
    }

    void read_decimals() {
        constexpr std::size_t most_decimals = 13; // Beyond these nothing is left of a tick.
        const std::string_view digits = take_digits().substr(0, most_decimals);
        for (const char digit : digits) {
            fraction_.above = fraction_.above * 10 + (digit - '0');
            fraction_.below *= 10;
        }
    }

    void read_quantity() {
        if (take_vulgar()) return;
        const std::string_view digits = take_digits();
        if (digits.empty()) {
            if (!take(".") || rest_.find_first_of("0123456789") != 0) throw Refusal{};
            return read_decimals();
        }
        if (take_slash()) return read_below(digits);
        whole_ = whole_number(digits);
        if (take(".")) return read_decimals();
        if (rest_.starts_with(','))
            throw Refusal{"write a decimal point, not a comma, and no comma between thousands"};
        if (take_vulgar()) return;
        const std::string_view before = rest_;
        if (!take("-") && !skip_spaces()) return;
        if (take_vulgar()) return;
        const std::string_view above = take_digits();
        if (above.empty() || !take_slash()) {
            rest_ = before; // No fraction: a unit may follow.
            return;
        }
        read_below(above);
        if (fraction_.above >= fraction_.below)
            throw Refusal{"the fraction after a whole number must be less than 1"};
    }

    std::int64_t read_unit(System system) {
        skip_spaces();
        std::string word(rest_);
        while (!word.empty() && (word.back() == ' ' || word.back() == '\t')) word.pop_back();
        if (word.empty()) return system == System::inch ? Length::per_inch : 10 * Length::per_millimetre;
        for (char& c : word)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c | 0x20);
        for (const auto& [name, unit] : units)
            if (word == name) return unit;
        throw Refusal{};
    }

    std::string_view rest_;
    std::int64_t whole_ = 0;
    Fraction fraction_;
};

// What was found, fit for a terminal: printable ASCII and the bytes of other characters; the rest as '?'.
std::string shown(std::string_view text) {
    constexpr std::size_t most = 60;
    std::string out;
    for (const char c : text) {
        const bool starts_character = (c & 0xC0) != 0x80;
        if (out.size() >= most && starts_character) return out + "...";
        const auto byte = static_cast<unsigned char>(c);
        out += byte < 0x20 || byte == 0x7F ? '?' : c;
    }
    return out;
}

[[noreturn]] void refuse(std::string_view found, std::string_view where, std::string_view remedy) {
    throw Fault(Cause::input, std::string(where), fmt::format("found {} where a length belongs", found),
                std::string(remedy));
}

} // namespace

Length read_length(std::string_view text, System system, std::string_view where) {
    try {
        return {Reader(text).ticks(system)};
    } catch (const Refusal& refusal) {
        refuse('"' + shown(text) + '"', where, refusal.remedy);
    }
}

Length length_of(double number, System system, std::string_view where) {
    const std::string found = fmt::format("{}", number);
    if (!std::isfinite(number)) refuse(found, where, "give an ordinary number");
    if (number < 0) refuse(found, where, "a length cannot be negative");
    if (number > 1e6) refuse(found, where, "a length is at most 1,000 m");
    // By way of its decimal text, so that 0.1 and "0.1" are one length.
    std::array<char, 400> digits = {};
    const auto end =
        std::to_chars(digits.data(), digits.data() + digits.size(), number, std::chars_format::fixed);
    expects(end.ec == std::errc{});
    const std::string_view text(digits.data(), static_cast<std::size_t>(end.ptr - digits.data()));
    try {
        return {Reader(text).ticks(system)};
    } catch (const Refusal& refusal) {
        refuse(found, where, refusal.remedy);
    }
}

} // namespace motley::measure
