#include "placement/extras.h"

#include <catch.hpp>
#include <cmath>
#include <map>

#include "document/document.h"
#include "layout/extras.h"
#include "layout/top.h"
#include "oracle/tops.h"
#include "placement/effort.h"

using namespace motley;

namespace {

std::vector<palette::Fabric> fabrics(int many) {
    std::vector<palette::Fabric> made;
    for (int f = 0; f < many; ++f) {
        palette::Fabric fabric;
        fabric.id = "f" + std::to_string(f);
        fabric.colour.emplace();
        fabric.colour->lab = oracle::invented_colour(f, many);
        made.push_back(fabric);
    }
    return made;
}

layout::Plan plan_of(const std::string& setting, const std::string& unit) {
    const auto json =
        document::Json::parse(R"({"palette": "p", "setting": )" + setting + R"(, "unit": )" + unit + "}");
    return layout::read_plan(document::Node(json, "plan.json"));
}

struct Made {
    layout::Layout top;
    layout::Brief brief;
};

Made made(const std::string& setting, int many, std::uint64_t seed = 3,
          const std::string& unit = R"({"finished": "6"})") {
    Made out;
    out.top.plan = plan_of(setting, unit);
    out.top.seed = seed;
    out.top.fabrics = fabrics(many);
    out.brief = layout::make_brief(out.top.plan, out.top.fabrics, std::vector<int>(oracle::at(many)), {});
    out.top.assignment = placement::place(out.brief, effort(seed, 5'000)).assignment;
    return out;
}

/// What a top shows at a place.
layout::FabricId shown(const layout::Top& top, unit::Point p) {
    for (const layout::Shape& shape : top.shapes) {
        bool inside = true;
        for (std::size_t i = 0; i < shape.outline.size() && inside; ++i) {
            const unit::Point a = shape.outline[i], b = shape.outline[(i + 1) % shape.outline.size()];
            inside = unit::cross(b - a, p - a) >= 0;
        }
        if (inside) return shape.fabric;
    }
    FAIL("nothing there");
    return layout::FabricId{};
}

} // namespace

TEST_CASE("pieced borders are mixed evenly and touch neither themselves nor the units") {
    const std::vector<std::string> borders{
        R"([{"width": "3", "fabric": "*", "pieced": true}])",
        R"([{"width": "1", "fabric": "f0"}, {"width": "2", "fabric": ["f1", "f2", "f3", "f4"], "pieced": true},
            {"width": "2", "fabric": ["f1", "f2", "f3", "f4", "f5"], "pieced": true, "corner": "f0"}])",
        R"([{"width": "3", "pieced": {"recipe": "half-square-triangle", "roles": {"ground": ["f0"]}}}])",
        R"([{"width": "3", "pieced": {"recipe": "square-in-square", "turns": "from-middle"}}])"};
    for (const std::string& border : borders) {
        INFO(border);
        Made one = made(R"({"columns": 6, "rows": 7, "borders": )" + border + "}", 12);
        placement::keep_off_borders(one.top, one.brief);
        placement::mix_extras(one.top);
        CHECK(layout::broken_borders(one.top).empty());
        CHECK(layout::broken_rules(one.brief, one.top.assignment).empty());
        std::map<std::tuple<int, int, std::vector<layout::FabricId>>, std::map<layout::FabricId, int>> uses;
        for (const layout::Extra& extra : layout::extras_of(one.top))
            ++uses[{extra.border, extra.input, extra.takes}]
                  [one.top.borders[oracle::at(extra.border)][oracle::at(extra.number)]];
        for (const auto& [pool, of] : uses) {
            int least = 1 << 30, most = 0;
            for (const layout::FabricId f : std::get<2>(pool)) {
                const int n = of.contains(f) ? of.at(f) : 0;
                least = std::min(least, n), most = std::max(most, n);
            }
            CHECK(most - least <= 4); // A square in a square shows one of its pieces in four patches.
        }
    }
}

TEST_CASE("a symmetric top has a symmetric border") {
    for (const auto& [symmetry, xx, yy] :
         {std::tuple("mirror", -1, 1), std::tuple("half-turn", -1, -1), std::tuple("mirror-both", 1, -1)}) {
        Made one =
            made(R"({"columns": 7, "rows": 5, "symmetry": ")" + std::string(symmetry) + R"(", "borders": [
            {"width": "3", "pieced": {"recipe": "half-square-triangle"}},
            {"width": "2", "fabric": "*", "pieced": true}]})",
                 14);
        placement::mix_extras(one.top);
        CHECK(layout::broken_borders(one.top).empty());
        const layout::Top top = layout::top_of(one.top);
        oracle::Dice dice(9);
        int alike = 0;
        for (int i = 0; i < 500; ++i) {
            const unit::Point p{(dice.below(9973) + 0.5) / 9973 * top.width,
                                (dice.below(9973) + 0.5) / 9973 * top.height};
            const unit::Point q{top.width / 2 + xx * (p.x - top.width / 2),
                                top.height / 2 + yy * (p.y - top.height / 2)};
            alike += shown(top, p) == shown(top, q);
        }
        CHECK(alike == 500);
    }
}

TEST_CASE("units at the edge do not show the fabric of the border beside them") {
    int before = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed)
        for (const char* unit :
             {R"({"finished": "6"})", R"({"recipe": "half-square-triangle", "turns": "any"})"}) {
            Made one = made(R"({"columns": 6, "rows": 6, "borders": [{"width": "3", "fabric": "f2"}]})", 9,
                            seed, unit);
            REQUIRE(layout::broken_rules(one.brief, one.top.assignment).empty());
            before += layout::broken_borders(one.top).empty() ? 0 : 1;
            placement::keep_off_borders(one.top, one.brief);
            CHECK(layout::broken_borders(one.top).empty());
            CHECK(layout::broken_rules(one.brief, one.top.assignment).empty());
        }
    CHECK(before > 6); // Else there was nothing to do.
}
