#include "cutting/counts.h"

#include <fmt/format.h>

#include <catch.hpp>
#include <numeric>
#include <random>

using namespace motley;

namespace {

layout::Plan plan(const std::string& recipe, int columns, int rows, double finished,
                  const std::string& more = {}) {
    const std::string text = fmt::format(
        R"({{"palette": "p", "setting": {{"columns": {}, "rows": {}}}, "unit": {{"recipe": "{}", "finished": "{}"}}{}}})",
        columns, rows, recipe, finished, more);
    const document::Json json = document::parse(text, "plan.json");
    return layout::read_plan(document::Node(json, "plan.json"));
}

layout::Layout random_layout(std::mt19937& chance, const std::string& recipe, int fabrics) {
    layout::Layout made;
    made.plan = plan(recipe, 1 + static_cast<int>(chance() % 9), 1 + static_cast<int>(chance() % 9), 3.5);
    for (int f = 0; f < fabrics; ++f) {
        palette::Fabric fabric;
        fabric.id = fmt::format("f{}", f);
        made.fabrics.push_back(fabric);
    }
    const std::size_t patches = made.plan.forms().front().patches.size();
    for (int cell = 0; cell < made.plan.columns * made.plan.rows; ++cell) {
        for (std::size_t p = 0; p < patches; ++p)
            made.assignment.patches.push_back(palette::FabricId{
                static_cast<std::uint16_t>(chance() % static_cast<std::uint32_t>(fabrics))});
        made.assignment.turns.push_back(0);
    }
    return made;
}

} // namespace

TEST_CASE("counts are what the top shows, to the last patch") {
    std::mt19937 chance(3);
    for (int round = 0; round < 100; ++round) {
        const std::string recipe = round % 2 ? "plain-square" : "half-square-triangle";
        const layout::Layout top = random_layout(chance, recipe, 1 + static_cast<int>(chance() % 7));
        const auto counts = cutting::count(top);
        const auto total = [&](auto part) {
            double sum = 0;
            for (const auto& one : counts) sum += static_cast<double>(part(one));
            return sum;
        };
        REQUIRE(counts.size() == top.fabrics.size()); // No roles said: every fabric may be used.
        const double cells = top.plan.columns * top.plan.rows;
        REQUIRE(total([](const auto& one) { return one.patches; }) ==
                static_cast<double>(top.assignment.patches.size()));
        REQUIRE(total([](const auto& one) { return one.area_sq_in; }) == Approx(cells * 3.5 * 3.5));
        REQUIRE(total([](const auto& one) { return one.share; }) == Approx(1));
        for (const auto& one : counts) {
            const auto& patches = top.assignment.patches;
            REQUIRE(one.patches == std::count(patches.begin(), patches.end(), one.fabric));
            int units = 0;
            const std::size_t each = patches.size() / top.assignment.turns.size();
            for (std::size_t cell = 0; cell < top.assignment.turns.size(); ++cell) {
                bool shows = false;
                for (std::size_t p = 0; p < each; ++p)
                    shows = shows || patches[cell * each + p] == one.fabric;
                units += shows;
            }
            REQUIRE(one.units == units);
        }
    }
}

TEST_CASE("counts.csv reads as the contract says") {
    layout::Layout top;
    top.plan = plan("half-square-triangle", 3, 1, 3.5);
    top.plan.roles["ground"] = {"linen", "a \"b\", c"};
    top.plan.roles["print"] = {"plum", "fern", "linen"};
    for (const char* id : {"linen", "unused", "plum", "fern", "a \"b\", c"}) {
        palette::Fabric fabric;
        fabric.id = id;
        top.fabrics.push_back(fabric);
    }
    for (const int f : {2, 0, 0, 0, 2, 4})
        top.assignment.patches.push_back(palette::FabricId{static_cast<std::uint16_t>(f)});
    top.assignment.turns = {0, 0, 0};
    // A half-square triangle of 3 1/2 in finished shows 6.125 sq in of each; the fabric that no role takes
    // has no line.
    CHECK(cutting::counts_csv(top, cutting::count(top)) ==
          "fabric,units,patches,finished_area_sqin,share\n"
          "linen,2,3,18.38,0.5000\n"
          "plum,2,2,12.25,0.3333\n"
          "fern,0,0,0,0.0000\n"
          "\"a \"\"b\"\", c\",1,1,6.12,0.1667\n");
}
