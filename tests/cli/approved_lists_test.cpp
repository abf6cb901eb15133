// The demo's lists as committed under renders/: what a stored layout is counted, cut and bought to must not
// change unless somebody means it. After a change on purpose: bash src/demo.sh, and look at what changed.

#include <catch.hpp>

#include "cli/workshop.h"

using namespace motley;
using namespace motley::tests;

TEST_CASE("the demo's layouts are counted, cut and bought as approved") {
    const fs::path renders = fs::path(MOTLEY_SOURCE) / "renders";
    for (const char* name : {"orchard-throw", "orchard-strips", "harbour-drift"}) {
        const TemporaryFolder folder;
        const Told told = say({"count", (renders / name / "layout.json").string(), "--out",
                               (folder.path() / "lists").string()});
        INFO(name << "\n" << told.err);
        REQUIRE(told.code == 0);
        for (const char* list : {"counts.csv", "cutting.csv", "buying.csv"}) {
            INFO(list);
            CHECK(content(folder.path() / "lists" / list) == content(renders / name / list));
            CHECK(content(renders / name / list).size() > 200);
        }
    }
}
