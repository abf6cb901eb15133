#include "colour/value.h"

#include <algorithm>
#include <catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <stdexcept>
#include <vector>

using motley::colour::classes;
using motley::colour::Value;
using motley::colour::values;

namespace {

double cost(const std::vector<double>& numbers, const std::vector<int>& class_of) {
    std::map<int, std::vector<double>> members;
    for (std::size_t i = 0; i < numbers.size(); ++i) members[class_of[i]].push_back(numbers[i]);
    double total = 0;
    for (const auto& [c, group] : members) {
        double mean = 0;
        for (const double number : group) mean += number / static_cast<double>(group.size());
        for (const double number : group) total += (number - mean) * (number - mean);
    }
    return total;
}

// Every way to split the numbers into at most k classes (restricted growth strings), contiguous or not.
double least_cost(const std::vector<double>& numbers, int k, std::vector<int>& class_of, int used = 0) {
    if (class_of.size() == numbers.size()) return cost(numbers, class_of);
    double least = std::numeric_limits<double>::infinity();
    for (int c = 0; c <= used && c < k; ++c) {
        class_of.push_back(c);
        least = std::min(least, least_cost(numbers, k, class_of, std::max(used, c + 1)));
        class_of.pop_back();
    }
    return least;
}

// All inputs of `size` numbers in rising order from a small set whose gaps all differ.
std::vector<std::vector<double>> rising_inputs(std::size_t size) {
    const std::vector<double> choices = {-3, -2, 0.5, 4, 9.25};
    std::vector<std::vector<double>> inputs = {{}};
    for (std::size_t i = 0; i < size; ++i) {
        std::vector<std::vector<double>> longer;
        for (const auto& input : inputs)
            for (const double choice : choices)
                if (input.empty() || input.back() <= choice) {
                    longer.push_back(input);
                    longer.back().push_back(choice);
                }
        inputs = std::move(longer);
    }
    return inputs;
}

int class_count(const std::vector<int>& class_of) {
    return 1 + *std::max_element(class_of.begin(), class_of.end());
}

void check_laws(const std::vector<double>& numbers, int k) {
    const std::vector<int> class_of = classes(numbers, k);
    REQUIRE(class_of.size() == numbers.size());
    std::vector<double> distinct = numbers;
    std::sort(distinct.begin(), distinct.end());
    distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
    REQUIRE(class_count(class_of) == std::min(k, static_cast<int>(distinct.size())));
    for (std::size_t i = 0; i < numbers.size(); ++i)
        for (std::size_t j = 0; j < numbers.size(); ++j) {
            if (numbers[i] == numbers[j]) REQUIRE(class_of[i] == class_of[j]);
            if (numbers[i] < numbers[j]) REQUIRE(class_of[i] <= class_of[j]);
        }
}

} // namespace

TEST_CASE("the worked example of one-dimensional k-means") {
    // Source: Wang & Song, The R Journal 3(2), 2011: clusters {-1, -1, -1, -1}, {2, 2, 2}, {4, 5, 6}.
    const std::vector<double> numbers = {-1, 2, -1, 2, 4, 5, 6, -1, 2, -1};
    CHECK(classes(numbers, 3) == std::vector<int>{0, 1, 0, 1, 2, 2, 2, 0, 1, 0});
}

TEST_CASE("classes are the best of all partitions, on all small inputs") {
    for (std::size_t size = 1; size <= 6; ++size)
        for (const auto& rising : rising_inputs(size))
            for (int k = 1; k <= 4; ++k) {
                std::vector<double> numbers = rising; // Not in order: order must not matter.
                std::rotate(numbers.begin(), numbers.begin() + static_cast<std::ptrdiff_t>(size / 2),
                            numbers.end());
                CAPTURE(numbers, k);
                check_laws(numbers, k);
                std::vector<int> start;
                REQUIRE(cost(numbers, classes(numbers, k)) ==
                        Approx(least_cost(numbers, k, start)).margin(1e-9));
            }
}

TEST_CASE("classes of longer lists are the best of all runs") {
    // Three runs of 60 sorted numbers, every pair of cuts tried; a plain congruential generator feeds it.
    std::uint32_t state = 12345;
    for (int round = 0; round < 20; ++round) {
        std::vector<double> numbers;
        for (int i = 0; i < 60; ++i) {
            state = state * 1664525u + 1013904223u;
            numbers.push_back(static_cast<double>(state >> 20) / 40.96);
        }
        std::sort(numbers.begin(), numbers.end());
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t one = 1; one < 59; ++one)
            for (std::size_t two = one + 1; two < 60; ++two) {
                std::vector<int> class_of(60, 0);
                for (std::size_t i = one; i < 60; ++i) class_of[i] = i < two ? 1 : 2;
                least = std::min(least, cost(numbers, class_of));
            }
        check_laws(numbers, 3);
        REQUIRE(cost(numbers, classes(numbers, 3)) == Approx(least).epsilon(1e-12));
    }
}

TEST_CASE("numbers far from zero are told apart as well as near it") {
    const double far = 1e9;
    CHECK(classes(std::vector<double>{far, far + 1, far + 10, far + 11}, 2) == std::vector<int>{0, 0, 1, 1});
}

TEST_CASE("classes refuses what has no answer") {
    CHECK(classes({}, 3).empty());
    CHECK_THROWS_AS(classes(std::vector<double>{1.0}, 0), std::logic_error);
    CHECK_THROWS_AS(classes(std::vector<double>{1.0, std::nan("")}, 2), std::logic_error);
}

TEST_CASE("a set with three, two or one groups of lightness") {
    using enum Value;
    CHECK(values(std::vector<double>{20, 90, 55, 22, 88, 57}) ==
          std::vector<Value>{dark, light, medium, dark, light, medium});
    CHECK(values(std::vector<double>{30, 70, 31, 72, 33}) ==
          std::vector<Value>{dark, light, dark, light, dark});
    CHECK(values(std::vector<double>{50, 51, 52}) == std::vector<Value>{medium, medium, medium});
    CHECK(values(std::vector<double>{80, 81}) == std::vector<Value>{light, light});
    CHECK(values(std::vector<double>{12, 15}) == std::vector<Value>{dark, dark});
}

TEST_CASE("values of no, one and two fabrics") {
    using enum Value;
    CHECK(values({}).empty());
    CHECK(values(std::vector<double>{65}) == std::vector<Value>{light});
    CHECK(values(std::vector<double>{64.99}) == std::vector<Value>{medium});
    CHECK(values(std::vector<double>{40}) == std::vector<Value>{medium});
    CHECK(values(std::vector<double>{39.99}) == std::vector<Value>{dark});
    CHECK(values(std::vector<double>{40, 48}) == std::vector<Value>{dark, light});
    CHECK(values(std::vector<double>{40, 47.9}) == std::vector<Value>{medium, medium});
}

TEST_CASE("values follow lightness: never a lighter word for a darker fabric") {
    std::uint32_t state = 99;
    for (int round = 0; round < 300; ++round) {
        std::vector<double> lightness;
        for (int i = 0; i < 1 + round % 17; ++i) {
            state = state * 1664525u + 1013904223u;
            lightness.push_back(std::round(static_cast<double>(state >> 16) / 655.36));
        }
        const std::vector<Value> found = values(lightness);
        REQUIRE(found.size() == lightness.size());
        for (std::size_t i = 0; i < found.size(); ++i)
            for (std::size_t j = 0; j < found.size(); ++j) {
                if (lightness[i] == lightness[j]) REQUIRE(found[i] == found[j]);
                if (lightness[i] < lightness[j]) REQUIRE(found[i] >= found[j]); // light < medium < dark.
            }
    }
}

TEST_CASE("the words of value") {
    CHECK(motley::colour::name(Value::light) == "light");
    CHECK(motley::colour::name(Value::medium) == "medium");
    CHECK(motley::colour::name(Value::dark) == "dark");
    CHECK(Value::light < Value::medium);
    CHECK(Value::medium < Value::dark);
}
