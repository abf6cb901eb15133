#include "cutting/take_off.h"

#include <catch.hpp>
#include <map>

#include "cutting/counts.h"
#include "layout/top.h"
#include "plans.h"

using namespace motley;
using cutting::Need;
using cutting::Use;
using plans::inches;

namespace {

/// Every way to sew, every setting: what holds for all of them.
const std::vector<std::string> tops{
    R"("setting": {"columns": 7, "rows": 5})",
    R"("setting": {"columns": 6, "rows": 5}, "unit": {"recipe": "half-square-triangle", "finished": "5"})",
    R"("setting": {"columns": 5, "rows": 5}, "unit": {"recipe": "half-square-triangle-two"})",
    R"("setting": {"columns": 5, "rows": 6}, "unit": {"recipe": "half-square-triangle-eight"})",
    R"("setting": {"columns": 6, "rows": 5}, "unit": {"recipe": "quarter-square-triangle"})",
    R"("setting": {"columns": 6, "rows": 5}, "unit": {"recipe": "four-patch"})",
    R"("setting": {"columns": 7, "rows": 7}, "unit": {"recipe": "nine-patch"})",
    R"("setting": {"columns": 7, "rows": 7}, "unit": {"recipe": "disappearing-nine-patch"})",
    R"("setting": {"columns": 9, "rows": 7}, "unit": {"recipe": "strip-set-triangle"})",
    R"("setting": {"columns": 9, "rows": 7}, "unit": {"recipe": "strip-set-triangle", "finished": "4", "choices": {"strips": 4}})",
    R"("setting": {"columns": 4, "rows": 3}, "unit": {"recipe": "rail"})",
    R"("setting": {"columns": 4, "rows": 3}, "unit": {"recipe": "log-cabin", "finished": "9"})",
    R"("setting": {"columns": 4, "rows": 3}, "unit": {"recipe": "snowball"})",
    R"("setting": {"columns": 4, "rows": 4}, "unit": {"recipe": "square-in-square"})",
    R"("setting": {"columns": 4, "rows": 4}, "unit": {"recipe": "flying-geese-four"})",
    R"("setting": {"columns": 4, "rows": 4}, "unit": {"recipe": "flying-geese-flip"})",
    R"("setting": {"columns": 4, "rows": 5, "arrangement": "on-point", "edge": "f1",
       "sashing": {"width": "1", "fabric": "f0", "cornerstone": ["f2", "f3"]}})",
    R"("setting": {"columns": 4, "rows": 5, "arrangement": "on-point", "alternate": "f1"})",
    R"("setting": {"columns": 5, "rows": 6, "arrangement": "brick",
       "borders": [{"width": "2", "fabric": "f0"}, {"width": "5", "fabric": "f1", "corners": "mitred"}]})",
    R"("setting": {"columns": 5, "rows": 6, "alternate": "f2",
       "borders": [{"width": "3", "fabric": "f0", "corner": "f1"}, {"width": "3", "fabric": ["f4", "f5", "f6"], "pieced": true}]})",
    R"("setting": {"columns": 5, "rows": 5, "borders": [{"width": "1 1/2", "fabric": "f3"},
       {"width": "3", "pieced": {"recipe": "half-square-triangle"}}]})",
    R"("measure": "metric", "setting": {"columns": 5, "rows": 6, "sashing": {"width": "3", "fabric": "f0", "around": true}})",
};

const Need* find(const cutting::TakeOff& take_off, Use use, int fabric) {
    for (const Need& need : take_off.needs)
        if (need.use == use && palette::index(need.fabric) == static_cast<std::size_t>(fabric)) return &need;
    return nullptr;
}

} // namespace

TEST_CASE("what is taken off a top is what the top shows, and is cut from more cloth than that") {
    for (const std::string& text : tops) {
        CAPTURE(text);
        const layout::Layout top = plans::top(text, 9);
        for (const measure::Length wide : {inches(42), inches(39.5)}) {
            const cutting::TakeOff take_off = cutting::take_off(top, wide);
            std::map<palette::FabricId, double> shown, cloth;
            for (const Need& need : take_off.needs) {
                CAPTURE(need.name);
                CHECK(need.count >= 1);
                CHECK(need.used >= 1);
                CHECK(need.spare() >= 0);
                const double cut = need.count * need.width.in_inches() * need.length.in_inches();
                CHECK(need.shown_sq_in < cut);
                shown[need.fabric] += need.shown_sq_in;
                cloth[need.fabric] += cut;
            }
            double all = 0;
            for (const cutting::FabricCount& count : cutting::count(top)) {
                CHECK(shown[count.fabric] == Approx(count.area_sq_in).margin(1e-9));
                all += count.area_sq_in;
            }
            const layout::Extent extent = layout::extent_of(top.plan);
            CHECK(all == Approx(extent.width * extent.height));
        }
    }
}

TEST_CASE("single pieces: the sum of pieces used is the number of patches in the picture") {
    for (const std::string& text : {tops[0], tops[1], tops[16], tops[18], tops[19]}) {
        CAPTURE(text);
        const layout::Layout top = plans::top(text, 9);
        std::map<palette::FabricId, int> used;
        for (const Need& need : cutting::take_off(top, inches(42)).needs) used[need.fabric] += need.used;
        for (const cutting::FabricCount& count : cutting::count(top))
            CHECK(used[count.fabric] == count.patches);
    }
}

TEST_CASE("an odd number of triangles takes one more square, and its other half is spare") {
    const layout::Layout top = plans::top(
        R"("setting": {"columns": 5, "rows": 1}, "unit": {"recipe": "half-square-triangle", "finished": "6",
           "roles": {"print": ["f1"], "ground": ["f0"]}}, "rules": {"touching": "free"})",
        2);
    const cutting::TakeOff take_off = cutting::take_off(top, inches(42));
    REQUIRE(take_off.needs.size() == 2);
    for (const Need& need : take_off.needs) {
        CHECK(need.width == inches(6.875)); // Finished + 7/8 in: common practice, no source.
        CHECK(need.count == 3);
        CHECK(need.cut_into == 2);
        CHECK(need.used == 5);
        CHECK(need.spare() == 1);
    }
}

TEST_CASE("on point: side and corner triangles come from squares cut twice and once") {
    // Derived: sqrt(2) F + 2 s (1 + sqrt 2) = 18.178 and F / sqrt(2) + s (2 + sqrt 2) = 9.339 for F = 12 in,
    // s = 1/4 in; one cuts 18 1/4 and 9 3/8.
    const layout::Layout top = plans::top(
        R"("setting": {"columns": 3, "rows": 4, "arrangement": "on-point", "edge": "f0", "alternate": "f0"},
           "unit": {"finished": "12"})",
        5);
    const cutting::TakeOff take_off = cutting::take_off(top, inches(42));
    const Need* side = find(take_off, Use::side_triangle, 0);
    REQUIRE(side);
    CHECK(side->width == inches(18.25));
    CHECK(side->used == 2 * 2 + 2 * 3);
    CHECK(side->count == 3);
    const Need* corner = find(take_off, Use::corner_triangle, 0);
    REQUIRE(corner);
    CHECK(corner->width == inches(9.375));
    CHECK(corner->used == 4);
    CHECK(corner->count == 2);
    const Need* block = find(take_off, Use::plain_block, 0);
    REQUIRE(block);
    CHECK(block->width == inches(12.5));
    CHECK(block->used == 2 * 3);
}

TEST_CASE("a mitred border's strips reach over the corners") {
    // Derived: side + 2 g + 2 s (1 + sqrt 2), rounded up to 1/8 in: 30 + 8 + 1.2071 = 39.2071.
    const layout::Layout top = plans::top(
        R"("setting": {"columns": 5, "rows": 5, "borders": [{"width": "4", "fabric": "f0", "corners": "mitred"}]})",
        5);
    int strips = 0;
    for (const Need& need : cutting::take_off(top, inches(42)).needs)
        if (need.use == Use::border) {
            CHECK(std::max(need.width, need.length) == inches(39.25));
            CHECK(std::min(need.width, need.length) == inches(4.5));
            CHECK(need.count == 2);
            strips += need.count;
        }
    CHECK(strips == 4);
}

TEST_CASE("120 strip-set triangles take the strips that the worked example says") {
    // Derived, as worked out by hand: five strips of 2 1/2 in make a set 10 1/2 in wide; a 10 in square from
    // it and one of ground make four units of 6 in finished. 30 squares: at 42 in four to a set, 8 sets, 40
    // strips, 2 squares spare; at 39 1/2 in three to a set, 10 sets, 50 strips. 30 squares of ground.
    for (const auto& [wide, sets, strips, spare] :
         {std::tuple{42.0, 8, 40, 10}, std::tuple{39.5, 10, 50, 0}}) {
        const layout::Layout top = plans::top(
            fmt::format(R"("setting": {{"columns": 10, "rows": 12}}, "cloth": {{"usable_width": {}}},
                           "unit": {{"recipe": "strip-set-triangle", "finished": "6",
                           "choices": {{"square": "10"}}, "roles": {{"ground": ["f0"]}}}})",
                        wide),
            11);
        const cutting::TakeOff take_off = cutting::take_off(top, inches(wide));
        CHECK(take_off.strip_sets == sets);
        CHECK(take_off.spare_units == 0);
        int cut = 0, left = 0;
        for (const Need& need : take_off.needs)
            if (need.use == Use::strip_set) {
                CHECK(need.length == inches(2.5));
                CHECK(need.width == inches(wide));
                cut += need.count;
                left += need.spare();
            }
        CHECK(cut == strips);
        CHECK(left == spare);
        const Need* ground = find(take_off, Use::unit, 0);
        REQUIRE(ground);
        CHECK(ground->count == 30);
        CHECK(ground->width == inches(10));
    }
}
