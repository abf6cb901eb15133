#include "fault/fault.h"

#include <catch.hpp>

using namespace motley;

TEST_CASE("a fault tells everything in its message") {
    const Fault fault(Cause::input, "plan.json /setting/rows", "found \"thirteen\"", "give a whole number");
    CHECK(std::string(fault.what()) == "plan.json /setting/rows: found \"thirteen\" (give a whole number)");
    CHECK(static_cast<int>(fault.cause()) == 2); // The exit codes of the contract, formats.md.
    CHECK(static_cast<int>(Cause::unmet) == 1);
    CHECK(static_cast<int>(Cause::system) == 3);
}

TEST_CASE("empty parts leave no trace in the message") {
    CHECK(text({{"", "no room", ""}}) == "no room");
    CHECK(text({{"a", "b", ""}, {"", "c", "d"}}) == "a: b\nc (d)");
}

TEST_CASE("a fault without a problem is a bug of ours") {
    CHECK_THROWS_AS(Fault(Cause::input, std::vector<Problem>{}), std::logic_error);
}

TEST_CASE("a broken promise names this very line") {
    CHECK_NOTHROW(expects(true));
    const auto line = __LINE__ + 1;
    CHECK_THROWS_WITH(expects(false), Catch::Contains("fault_test.cpp:" + std::to_string(line)));
}

TEST_CASE("the nearest name is near, or none") {
    const std::vector<std::string> keys = {"rows", "columns", "sashing", "borders"};
    CHECK(nearest("row", keys) == "rows");
    CHECK(nearest("colums", keys) == "columns");
    CHECK(nearest("sahsing", keys) == "sashing");
    CHECK(nearest("palette", keys).empty());
    CHECK(nearest("", keys).empty());
    CHECK(nearest("x", {}).empty());
    CHECK(nearest(std::string(100'000, 'r'), keys).empty());
}

TEST_CASE("of equally near names the first is taken") {
    CHECK(nearest("bat", {"cat", "hat"}) == "cat");
    CHECK(nearest("bat", {"hat", "cat"}) == "hat");
}
