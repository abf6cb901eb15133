#include <catch.hpp>

#include "cutting/counts.h"
#include "workshop.h"

using namespace motley;
using tests::Told;
using tests::Workshop;

namespace {

/// A plan of any setting and unit; written beside the palette.
std::string plan_of(const Workshop& workshop, const std::string& setting, const std::string& more = "") {
    tests::write(workshop.folder() / "plan.json",
                 R"({"palette": "cloths", "seam": "1/4", "setting": )" + setting + more + "}");
    return workshop.path("plan.json");
}

} // namespace

TEST_CASE("tops of every setting are made, drawn again and counted, and the counts are what flat.png shows") {
    struct Case {
        const char *setting, *more;
    };
    const Case cases[] = {
        {R"({"columns": 4, "rows": 4, "arrangement": "on-point", "edge": "cloth-0"})", ""},
        {R"({"columns": 4, "rows": 4, "sashing": {"width": "1", "fabric": "cloth-1", "cornerstone": "*"},
             "borders": [{"width": "2", "fabric": "*", "pieced": true}]})",
         ""},
        {R"({"columns": 5, "rows": 4, "arrangement": "brick"})", ""},
        {R"({"columns": 5, "rows": 5, "symmetry": "mirror"})", ""},
        {R"({"columns": 3, "rows": 4, "arrangement": "on-point", "symmetry": "mirror-both"})",
         R"(, "rules": {"touching": "free"})"},
        {R"({"columns": 4, "rows": 4, "symmetry": "mirror"})",
         R"(, "unit": {"recipe": "half-square-triangle", "turns": "pinwheel"}, "rules": {"touching": "free"})"},
        {R"({"columns": 4, "rows": 5, "alternate": "cloth-2",
             "borders": [{"width": "3", "fabric": "cloth-3", "corners": "mitred"}]})",
         R"(, "unit": {"recipe": "nine-patch"}, "rules": {"touching": "edge"})"},
        {R"({"columns": 4, "rows": 4})",
         R"(, "unit": {"recipe": "strip-set-triangle", "roles": {"ground": ["cloth-0"]}, "turns": "barn-raising"},
             "rules": {"touching": "free", "exempt": ["cloth-0"]})"},
        {R"({"columns": 4, "rows": 4})",
         R"(, "unit": {"recipe": "half-square-triangle-two"}, "rules": {"touching": "edge"})"},
    };
    for (const Case& c : cases) {
        INFO(c.setting << c.more);
        const Workshop workshop;
        const Told made = tests::say({"make", plan_of(workshop, c.setting, c.more), "--out",
                                      workshop.path("out"), "--pixels", "400", "--threads", "2"});
        INFO(made.err);
        REQUIRE(made.code == 0);
        const std::string file = workshop.path("out/layout.json");
        // Read back and written again: the same bytes.
        const document::Json json = document::parse(tests::content(file), file);
        const layout::Layout top = layout::read_layout(document::Node(json, file));
        CHECK(document::print(layout::write_layout(top)) == tests::content(file));
        double share = 0;
        for (const cutting::FabricCount& count : cutting::count(top)) share += count.share;
        CHECK(share == Approx(1));
        const Told drawn = tests::say({"draw", file, "--out", workshop.path("again"), "--pixels", "400"});
        REQUIRE(drawn.code == 0);
        for (const char* picture : {"preview.png", "flat.png", "values.png"})
            CHECK(tests::content(workshop.folder() / "again" / picture) ==
                  tests::content(workshop.folder() / "out" / picture));
        CHECK(tests::say({"count", file}).code == 0);
    }
}

TEST_CASE("what a setting gets wrong is told with its place") {
    struct Case {
        const char *setting, *more, *where, *word;
        int code;
    };
    const Case cases[] = {
        {R"({"columns": 4, "rows": 4, "sashing": {"width": "1", "fabric": "cloth-11"}})", "",
         "/setting/sashing/fabric", "cloth-1", 2},
        {R"({"columns": 4, "rows": 4, "borders": [{"width": "2", "fabric": "linen"}]})", "",
         "/setting/borders/0/fabric", "linen", 2},
        {R"({"columns": 4, "rows": 4, "alternate": "x"})", "", "/setting/alternate", "palette", 2},
        {R"({"columns": 4, "rows": 4, "symmetry": "mirror"})", "", "plan.json", "row 1, column 2", 1},
        {R"({"columns": 4, "rows": 4, "symmetry": "mirror"})", R"(, "unit": {"recipe": "four-patch"})",
         "/setting/symmetry", "batches", 2},
        {R"({"columns": 4, "rows": 4, "symmetry": "mirror"})", R"(, "unit": {"recipe": "snowball"})",
         "/setting/symmetry", "\"half-square-triangle\"", 2},
        {R"({"columns": 4, "rows": 4})",
         R"(, "unit": {"recipe": "strip-set-triangle", "choices": {"strips": 2}})", "/unit", "strip", 2},
        {R"({"columns": 4, "rows": 4})", R"(, "unit": {"recipe": "rail", "choices": {"stripes": 3}})",
         "stripes", "strip", 2},
        {R"({"columns": 4, "rows": 4})", R"(, "unit": {"recipe": "own.json"})", "own.json", "", 3},
    };
    for (const Case& c : cases) {
        INFO(c.setting << c.more);
        const Workshop workshop;
        const Told told =
            tests::say({"make", plan_of(workshop, c.setting, c.more), "--out", workshop.path("out")});
        INFO(told.err);
        CHECK(told.code == c.code);
        CHECK(told.err.find(c.where) != std::string::npos);
        CHECK(told.err.find(c.word) != std::string::npos);
        CHECK_FALSE(std::filesystem::exists(workshop.folder() / "out"));
    }
}
