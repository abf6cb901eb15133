#include "assembly/steps.h"

#include <catch.hpp>

#include "assembly/assembly.h"
#include "sample.h"

using namespace motley;
using namespace motley::assembly;
using measure::Length;
using Stage = AssemblyStep::Stage;

namespace {

std::vector<AssemblyStep> steps(const layout::Layout& layout) {
    return steps_of(layout, rows_of(layout));
}

std::vector<AssemblyStep> steps_for(const std::string& setting,
                                    const std::string& unit = R"({"finished": "6"})",
                                    const std::string& more = {}) {
    oracle::Dice dice(31);
    return steps(sample::placed(sample::plan(setting, unit, more), sample::fabrics(5), dice));
}

const AssemblyStep& only(const std::vector<AssemblyStep>& all, const std::string& title) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const AssemblyStep& step) { return step.title == title; });
    REQUIRE(found != all.end());
    return *found;
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

bool cautions(const std::vector<AssemblyStep>& all, const std::string& part) {
    for (const AssemblyStep& step : all)
        for (const std::string& caution : step.cautions)
            if (has(caution, part)) return true;
    return false;
}

} // namespace

TEST_CASE("every size on the way is told, seam allowances included") {
    // Derived: 11 by 13 squares of 6 in and a border of 4 in: rows 11 * 6 + 1/2 by 6 1/2; 66 1/2 by 78 1/2
    // joined; 74 1/2 with the sides, 86 1/2 with top and bottom; 74 by 86 when finished.
    const auto all = steps_for(R"({"columns": 11, "rows": 13, "borders": [{"width": "4", "fabric": "f1"}]})");
    for (std::size_t i = 0; i < all.size(); ++i) CHECK(all[i].number == static_cast<int>(i) + 1);
    CHECK(has(all.front().outcome, "6 1/2 in x 6 1/2 in"));
    CHECK(only(all, "Sew the rows").outcome ==
          "Each should now measure: rows 1 to 13: 66 1/2 in x 6 1/2 in.");
    CHECK(only(all, "Join the rows").outcome == "The top should now measure 66 1/2 in x 78 1/2 in.");
    CHECK(has(only(all, "Border 1: the sides").text, "4 1/2 in x 78 1/2 in"));
    CHECK(only(all, "Border 1: the sides").outcome == "The top should now measure 74 1/2 in x 78 1/2 in.");
    CHECK(has(only(all, "Border 1: top and bottom").text, "4 1/2 in x 74 1/2 in"));
    CHECK(only(all, "Border 1: top and bottom").raw_height == Length::inches(86.5));
    CHECK(all.back().outcome ==
          "It measures 74 1/2 in x 86 1/2 in with its seam allowances, and 74 in x 86 in when finished.");
}

TEST_CASE("the last step is the whole top, whatever the setting") {
    oracle::Dice dice(32);
    for (const sample::Case& one : sample::cases()) {
        INFO(one.setting << one.unit);
        const layout::Layout layout =
            sample::placed(sample::plan(one.setting, one.unit), sample::fabrics(5), dice);
        const auto all = steps(layout);
        const layout::Extent extent = layout::extent_of(layout.plan);
        CHECK(all.back().stage == Stage::done);
        CHECK(all.back().raw_width == Length::inches(extent.width) + layout.plan.seam * 2);
        CHECK(all.back().raw_height == Length::inches(extent.height) + layout.plan.seam * 2);
        Length width{}, height{}; // Never shrinks once the rows are joined.
        for (const AssemblyStep& step : all) {
            if (step.raw_width.ticks == 0 || step.stage < Stage::joined) continue;
            REQUIRE(step.raw_width >= width);
            REQUIRE(step.raw_height >= height);
            width = step.raw_width;
            height = step.raw_height;
        }
    }
}

TEST_CASE("metric plans speak in centimetres and millimetres") {
    // Derived: 4 by 3 units of 15 cm with seams of 7.5 mm: 61.5 cm by 16.5 cm, 61.5 by 46.5.
    const auto all =
        steps_for(R"({"columns": 4, "rows": 3})", R"({"finished": 15})", R"(, "measure": "metric")");
    CHECK(has(only(all, "Sew the rows").outcome, "61.5 cm x 16.5 cm"));
    CHECK(has(only(all, "Join the rows").outcome, "61.5 cm x 46.5 cm"));
}

TEST_CASE("rows of different lengths are told one by one") {
    const auto all = steps_for(R"({"columns": 2, "rows": 2, "arrangement": "on-point"})");
    // Derived: diagonals of 1, 3 and 1 units of 6 in.
    CHECK(has(only(all, "Sew the rows").outcome,
              "rows 1 and 3: 6 1/2 in x 6 1/2 in; row 2: 18 1/2 in x 6 1/2 in"));
    CHECK(only(all, "Sew the rows").raw_width == Length{});
    // Derived: 12 * sqrt(2) = 16.97 in, and the allowances: 17.47, to the nearest sixteenth 17 1/2.
    CHECK(has(only(all, "Join the rows").outcome, "17 1/2 in x 17 1/2 in"));
}

TEST_CASE("borders are told in the order in which they are sewn") {
    const auto all = steps_for(
        R"({"columns": 5, "rows": 4, "borders": [{"width": "1", "fabric": "f0"},
            {"width": "4 1/2", "fabric": "f1", "corners": "mitred"},
            {"width": "2", "fabric": ["*"], "pieced": true},
            {"width": "3", "fabric": "f2", "corner": "f3"}]})");
    std::vector<std::string> titles;
    for (const AssemblyStep& step : all)
        if (step.stage == Stage::border) titles.push_back(step.title);
    CHECK(titles == std::vector<std::string>{
                        "Border 1: the sides", "Border 1: top and bottom", "Border 2: the four strips",
                        "Border 2: the mitres", "Border 3: piecing", "Border 3: the sides",
                        "Border 3: top and bottom", "Border 4: the sides", "Border 4: top and bottom"});
    // Derived: inside the third border lie 30 + 2 + 9 = 41 in by 24 + 2 + 9 = 35 in, some 20 and 18 patches.
    const std::string& piecing = only(all, "Border 3: piecing").text;
    CHECK(has(piecing, "Sew 18 patches"));
    CHECK(has(piecing, "for the top and the bottom 21"));
    CHECK(has(only(all, "Border 4: top and bottom").text, "corner square of 3 1/2 in x 3 1/2 in"));
}

TEST_CASE("the units of a pieced border are sewn before they are joined") {
    // Derived: round 4 by 3 units of 6 in lie 2 (4 + 3) units of 6 in, and 4 at the corners: 18; each 6 1/2
    // in with its allowances.
    const auto all = steps_for(
        R"({"columns": 4, "rows": 3, "borders": [{"width": "6", "pieced": {"recipe": "half-square-triangle"}}]})");
    const AssemblyStep &units = only(all, "Border 1: the units"), &piecing = only(all, "Border 1: piecing");
    CHECK(has(units.text, "Sew 18 units, half-square triangle,"));
    CHECK(units.outcome == "Each should measure 6 1/2 in x 6 1/2 in.");
    CHECK(units.number + 1 == piecing.number);
    CHECK(has(piecing.text, "Sew 3 units into a strip for the left side"));
}

TEST_CASE("edges that stretch are pointed out where they lie at the edge of the top") {
    // checks.md: all four outer edges of a four-at-a-time unit are on the bias.
    CHECK(cautions(steps_for(R"({"columns": 4, "rows": 3})", R"({"recipe": "strip-set-triangle"})"),
                   "stay-stitching"));
    CHECK_FALSE(cautions(steps_for(R"({"columns": 4, "rows": 3})"), "bias"));
    CHECK(cautions(steps_for(R"({"columns": 4, "rows": 3})", R"({"recipe": "strip-set-triangle"})"),
                   "all four edges of the top"));
    // A unit and, to its right, a plain block on the grain.
    CHECK(cautions(
        steps_for(R"({"columns": 2, "rows": 1, "alternate": "f1"})", R"({"recipe": "strip-set-triangle"})"),
        "the upper, lower and left edges of the top"));
    // Sashing all round covers them.
    CHECK_FALSE(cautions(
        steps_for(R"({"columns": 4, "rows": 3, "sashing": {"width": "1", "fabric": "f0", "around": true}})",
                  R"({"recipe": "strip-set-triangle"})"),
        "stay-stitching"));
    CHECK(cautions(steps_for(R"({"columns": 3, "rows": 3, "arrangement": "on-point"})"), "triangles"));
}

TEST_CASE("all of a top is assembled in one call, the same every time") {
    oracle::Dice dice(33);
    const layout::Layout layout =
        sample::placed(sample::plan(R"({"columns": 6, "rows": 5})", R"({"recipe": "strip-set-triangle"})"),
                       sample::fabrics(6), dice);
    const Assembly one = assemble(layout), other = assemble(layout);
    CHECK(one.letters == other.letters);
    CHECK(one.rows.kinds.size() == other.rows.kinds.size());
    CHECK(one.pressing.arrows == other.pressing.arrows);
    CHECK(one.pressing.rules == other.pressing.rules);
    CHECK(one.cards.sets.size() == other.cards.sets.size());
    CHECK_FALSE(one.cards.sets.empty());
    CHECK(one.steps.size() == other.steps.size());
}
