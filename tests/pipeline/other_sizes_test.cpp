#include "pipeline/other_sizes.h"

#include <catch.hpp>

#include "../cutting/plans.h"

using namespace motley;

TEST_CASE("a plan that asks for no other sizes gets none, not even its own") {
    const std::string setting = R"("setting": {"columns": 3, "rows": 4})";
    CHECK(pipeline::other_sizes(plans::top(setting + R"(, "sizes": [])", 4)).empty());
    // Its own, and the six that are usual.
    CHECK(pipeline::other_sizes(plans::top(setting, 4)).size() == 7);
}
