#include "measure/length.h"

#include <fmt/format.h>

#include <catch.hpp>
#include <cmath>
#include <random>

#include "fault/fault.h"

using namespace motley;
using namespace motley::measure;
using Catch::Contains;

namespace {

Length read(const std::string& text, System system = System::inch) {
    return read_length(text, system, "f.json /x");
}

constexpr std::int64_t inch = Length::per_inch;
constexpr std::int64_t millimetre = Length::per_millimetre;

} // namespace

TEST_CASE("the tick suits both measures") {
    // 1 in = 25.4 mm exactly, 1 yd = 0.9144 m: international yard and pound agreement, 1959.
    STATIC_REQUIRE(10 * inch == 254 * millimetre);
    STATIC_REQUIRE(inch % 64 == 0);
    CHECK(read("1 yd").ticks * 10 == 9144 * millimetre);
    CHECK(read("25.4 mm") == read("1 in"));
    CHECK(read("0.9144 m") == read("36 in"));
    CHECK(read("1/8 yd") == read("4 1/2 in"));
}

TEST_CASE("lengths are read as quilters write them") {
    struct Row {
        std::string text;
        std::int64_t ticks;
    };
    const std::vector<Row> rows = {
        {"6", 6 * inch},
        {"0", 0},
        {"006", 6 * inch},
        {"6 1/2", 13 * inch / 2},
        {"6\u00BD", 13 * inch / 2},
        {"6 \u00BD", 13 * inch / 2},
        {"6-1/2", 13 * inch / 2},
        {"6-\u00BD in", 13 * inch / 2},
        {"6.5", 13 * inch / 2},
        {"6.50000000000000000000000", 13 * inch / 2},
        {"6.", 6 * inch},
        {".5", inch / 2},
        {"7/2", 7 * inch / 2},
        {"1\u20442", inch / 2},
        {"\u00BC\"", inch / 4},
        {"  6  1/2 \t in  ", 13 * inch / 2},
        {"6\u00A01/2\u00A0in", 13 * inch / 2},
        {"6 1/2\"", 13 * inch / 2},
        {"6 1/2\u2033", 13 * inch / 2},
        {"6 1/2\u201D", 13 * inch / 2},
        {"6 inches", 6 * inch},
        {"1 Inch", inch},
        {"6 in.", 6 * inch},
        {"16cm", 160 * millimetre},
        {"16.5 CM", 165 * millimetre},
        {"163 mm", 163 * millimetre},
        {"1.5m", 1500 * millimetre},
        {"1/4 yd", 9 * inch},
        {"2 1/4 yards", 81 * inch},
        {"1 yard", 36 * inch},
        {"1000 m", 1'000'000 * millimetre},
        {"1/64", 127},
        {"1/3", 2709},  // 2709.33
        {"2/3", 5419},  // 5418.67
        {"1/16256", 1}, // Exactly half a tick: up.
        {"1/16257", 0},
    };
    for (const Row& row : rows) {
        INFO(row.text);
        CHECK(read(row.text).ticks == row.ticks);
    }
    CHECK(read("16", System::metric).ticks == 160 * millimetre);
    CHECK(read("6 1/2 in", System::metric).ticks == 13 * inch / 2);
}

TEST_CASE("every vulgar fraction of Unicode") {
    // U+00BC to U+00BE and U+2150 to U+215E; values from the Unicode Character Database (from memory).
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"\u00BC", "1/4"},  {"\u00BD", "1/2"}, {"\u00BE", "3/4"}, {"\u2150", "1/7"}, {"\u2151", "1/9"},
        {"\u2152", "1/10"}, {"\u2153", "1/3"}, {"\u2154", "2/3"}, {"\u2155", "1/5"}, {"\u2156", "2/5"},
        {"\u2157", "3/5"},  {"\u2158", "4/5"}, {"\u2159", "1/6"}, {"\u215A", "5/6"}, {"\u215B", "1/8"},
        {"\u215C", "3/8"},  {"\u215D", "5/8"}, {"\u215E", "7/8"}};
    for (const auto& [sign, fraction] : rows) {
        INFO(fraction);
        CHECK(read(sign) == read(fraction));
        CHECK(read("3" + sign + " cm") == read("3 " + fraction + " cm"));
    }
}

TEST_CASE("what is no length is quoted, with what would be right") {
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"",
         "found \"\" where a length belongs (write it like \"6 1/2\", \"6.5 in\", \"16.5 cm\" or \"1/4 "
         "yd\")"},
        {"six", "found \"six\" where"},
        {"-6", "cannot be negative"},
        {"\u2212"
         "6",
         "cannot be negative"},
        {"1/0", "cannot have 0 below the line"},
        {"6 1/0 in", "cannot have 0 below the line"},
        {"1e9", "write it like"},
        {"6 1/2 1/2", "write it like"},
        {"6 3/2", "must be less than 1"},
        {"6,5", "decimal point"},
        {"1,000", "decimal point"},
        {"6 1/2 inx", "write it like"},
        {"6 furlongs", "write it like"},
        {"6.5.5", "write it like"},
        {"6.5 1/2", "write it like"},
        {"6 1/", "write it like"},
        {"/2", "write it like"},
        {".", "write it like"},
        {"6-", "write it like"},
        {"6--1/2", "write it like"},
        {"in", "write it like"},
        {"+6", "write it like"},
        {"0x10", "write it like"},
        {"inf", "write it like"},
        {"1001 m", "at most 1,000 m"},
        {"1000.001 m", "at most 1,000 m"},
        {"999999999999999999999999", "at most 1,000 m"},
        {"1/9999999999", "too large"},
        {"99999999999999999999/3", "too large"},
        {"\x1B[31m", "found \"?[31m\" where"},
    };
    for (const auto& [text, expected] : rows) {
        INFO(text);
        CHECK_THROWS_WITH(read(text), Contains("f.json /x: found") && Contains(expected));
        CHECK_THROWS_AS(read(text), Fault);
    }
    try {
        read(std::string(100'000, 'x'));
        FAIL("passed");
    } catch (const Fault& fault) {
        CHECK(std::string(fault.what()).size() < 250);
    }
}

TEST_CASE("a number is the length its decimals say") {
    CHECK(length_of(6.5, System::inch, "f") == read("6 1/2"));
    CHECK(length_of(16.5, System::metric, "f") == read("165 mm"));
    CHECK(length_of(0, System::inch, "f") == Length{});
    CHECK(length_of(1e-300, System::inch, "f") == Length{});
    std::mt19937 chance(11);
    for (int round = 0; round < 5000; ++round) {
        const double number = static_cast<double>(chance() % 10'000'000) / 100'000.0;
        for (const System system : {System::inch, System::metric})
            REQUIRE(length_of(number, system, "f") == read(fmt::format("{}", number), system));
    }
    for (const double bad : {-1.0, 1e300, std::nan(""), HUGE_VAL, 40'000.0})
        CHECK_THROWS_WITH(length_of(bad, System::inch, "f /y"), Contains("f /y: found"));
}

TEST_CASE("printed lengths are read back exactly") {
    for (std::int64_t n = 0; n <= 64 * 120; ++n) {
        const Length length{n * (inch / 64)};
        REQUIRE(read(print(length, System::inch)) == length);
        REQUIRE(read(print_bare(length, System::inch)) == length);
    }
    for (std::int64_t n = 0; n <= 3000; ++n) {
        const Length length{n * millimetre};
        REQUIRE(read(print(length, System::metric), System::metric) == length);
        REQUIRE(read(print(length, System::metric), System::inch) == length);
    }
    std::mt19937_64 chance(5);
    for (int round = 0; round < 20'000; ++round) {
        const Length length{
            static_cast<std::int64_t>(chance() % static_cast<std::uint64_t>(longest.ticks + 1))};
        for (const System system : {System::inch, System::metric})
            for (const System reader : {System::inch, System::metric})
                REQUIRE(read(print_exact(length, system), reader) == length);
    }
}

TEST_CASE("lengths are printed plainly") {
    CHECK(print(read("6 1/2"), System::inch) == "6 1/2 in");
    CHECK(print(read("0"), System::inch) == "0 in");
    CHECK(print(read("3/8"), System::inch) == "3/8 in");
    CHECK(print(read("2 10/16"), System::inch) == "2 5/8 in");
    CHECK(print(read("2 1/16"), System::inch) == "2 1/16 in");
    CHECK(print(read("2 63/64"), System::inch) == "2 63/64 in");
    CHECK(print(read("1/3"), System::inch) == "21/64 in");
    CHECK(print({inch - 1}, System::inch) == "1 in");
    CHECK(print({-inch / 2}, System::inch) == "-1/2 in");
    CHECK(print({-1}, System::inch) == "0 in");
    CHECK(print_bare(read("6 1/2"), System::inch) == "6 1/2");
    CHECK(print(read("165 mm"), System::metric) == "16.5 cm");
    CHECK(print(read("160 mm"), System::metric) == "16 cm");
    CHECK(print(read("163 mm"), System::metric) == "163 mm");
    CHECK(print(read("1/4 in"), System::metric) == "6 mm"); // 6.35
    CHECK(print_exact(read("1/4 in"), System::metric) == "1/4 in");
    CHECK(print_exact(read("13 cm"), System::inch) == "13 cm");
    CHECK(print_exact({1}, System::inch) == "0.003125 mm");
}

TEST_CASE("rounding up never loses") {
    const Length eighth = read("1/8");
    CHECK(round_up(read("6 1/2"), eighth) == read("6 1/2"));
    CHECK(round_up(read("6 1/2") + Length{1}, eighth) == read("6 5/8"));
    CHECK(round_up(Length{}, eighth) == Length{});
    CHECK(round_up(Length{-1}, eighth) == Length{});
    CHECK_THROWS_AS(round_up(eighth, Length{}), std::logic_error);
    CHECK(Length::inches(0.1).ticks == 813); // 812.8
    CHECK_THROWS_AS(Length::inches(std::nan("")), std::logic_error);
    CHECK_THROWS_AS(Length::inches(1e300), std::logic_error);
}

// Replayable: whatever stands there is read or refused, and nothing else happens.
TEST_CASE("mutated lengths are read or refused") {
    std::mt19937 chance(99);
    const std::vector<std::string> pieces = {"6",  "1/2", "\u00BD", "-",  " ",   ".",    "/",    "0",
                                             "in", "\"",  "cm",     "yd", "m",   "9999", "\xE2", "\x80",
                                             ",",  "1e9", "\u2044", "",   "in.", "\0"};
    int taken = 0;
    for (int round = 0; round < 50'000; ++round) {
        std::string text;
        for (auto count = chance() % 7; count > 0; --count) text += pieces[chance() % pieces.size()];
        try {
            const Length length = read(text, chance() % 2 == 0 ? System::inch : System::metric);
            ++taken;
            REQUIRE(length >= Length{});
            REQUIRE(length <= longest);
        } catch (const Fault& fault) {
            REQUIRE(fault.cause() == Cause::input);
        }
    }
    CHECK(taken > 1000);
}

TEST_CASE("what is measured is told to a sixteenth of an inch, to a millimetre, to half of one where exact") {
    CHECK(print_measured(read("4 55/64"), System::inch) == "4 7/8 in");
    CHECK(print_measured(read("4 3/16"), System::inch) == "4 3/16 in");
    CHECK(print_measured(read("15/32 in"), System::inch) == "1/2 in"); // Halfway between two, away from 0.
    CHECK(print_measured({-inch / 64}, System::inch) == "0 in");
    CHECK(print_measured(read("7.5 mm"), System::metric) == "7.5 mm");
    CHECK(print_measured(read("7.4 mm"), System::metric) == "7 mm");
    CHECK(print_measured(read("12.5 cm"), System::metric) == "12.5 cm");
    CHECK(print_measured(Length{-15 * millimetre / 2}, System::metric) == "-7.5 mm");
    CHECK(print_sides(read("243 mm"), read("12.5 cm"), System::metric) ==
          std::array<std::string, 2>{"243 mm", "125 mm"});
    CHECK(print_sides(read("24 cm"), read("12.5 cm"), System::metric) ==
          std::array<std::string, 2>{"24 cm", "12.5 cm"});
    CHECK(print_sides(read("6 1/2"), read("3"), System::inch) ==
          std::array<std::string, 2>{"6 1/2 in", "3 in"});
}

TEST_CASE("what was set is told as it was set") {
    CHECK(print_set(read("7.5 mm"), System::metric) == "7.5 mm");
    CHECK(print_set(read("7 mm"), System::metric) == "7 mm");
    CHECK(print_set(read("1/4 in"), System::metric) == "1/4 in");
    CHECK(print_set(read("1/4 in"), System::inch) == "1/4 in");
    CHECK(print_set(read("15/64 in"), System::inch) == "15/64 in");
    CHECK(print_set(read("6 mm"), System::inch) == "6 mm");
    CHECK(print_set(read("0.3 in"), System::inch) == "0.3 in");
    CHECK(print_set(read("7.3 mm"), System::metric) == "7.3 mm");
    CHECK(print_set(read("1 in"), System::metric) == "1 in");
}
