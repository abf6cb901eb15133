#include "cutting/finishing.h"

#include <catch.hpp>
#include <cmath>

#include "fault/fault.h"
#include "plans.h"

using namespace motley;
using measure::Length;
using plans::inches;

namespace {

layout::MakingUp usual() {
    return plans::plan(R"("setting": {"columns": 10, "rows": 12})").making_up;
}

} // namespace

TEST_CASE("binding: joins on the diagonal are counted, on every even size") {
    // Derived: laid end to end, n strips joined on the diagonal reach n Wf - (n - 1) w. The plain quotient
    // P / Wf is one strip short for 444 of the 1,081 sizes with even sides from 30 to 120 in.
    int sizes = 0, short_by_one = 0;
    for (int w = 30; w <= 120; w += 2)
        for (int h = w; h <= 120; h += 2) {
            const double around = 2 * (w + h) + 10;
            int strips = 1;
            while (strips * 42 - (strips - 1) * 2.5 < around) ++strips;
            const int plain = static_cast<int>(std::ceil(around / 42));
            ++sizes;
            short_by_one += strips == plain + 1;
            REQUIRE(cutting::binding_strips(inches(w), inches(h), inches(2.5), inches(42)) == strips);
        }
    CHECK(sizes == 1081);
    CHECK(short_by_one == 444);
    CHECK(cutting::binding_strips(inches(60), inches(72), inches(2.5), inches(42)) == 7);
    CHECK(cutting::binding_strips(inches(60), inches(72), inches(2.5), inches(40)) == 8);
    CHECK_THROWS_AS(cutting::binding_strips(inches(60), inches(72), inches(42), inches(42)), Fault);
}

TEST_CASE("backing: both directions tried") {
    // Derived: 60 x 72 in with 4 in all round is 68 x 80; two panels with 1/2 in seam allowances reach 83 in
    // at 42 in (across: 2 x 68 = 136 in, 3 7/8 yd) and 79 in at 40 in (down: 2 x 80 = 160 in, 4 1/2 yd).
    layout::MakingUp asked = usual();
    const auto plan = [&](double wide) {
        asked.finish.backing.width = inches(wide);
        return cutting::backing_for(inches(60), inches(72), asked.finish.backing, asked.cloth);
    };
    CHECK(plan(42).length == inches(136));
    CHECK(plan(42).buy == inches(36 * 3.875));
    CHECK_FALSE(plan(42).along);
    CHECK(plan(40).length == inches(160));
    CHECK(plan(40).buy == inches(36 * 4.5));
    CHECK(plan(40).along);
    CHECK(plan(108).panels == 1);
}

TEST_CASE("backing on all even sizes: panels cover, and one panel fewer would not") {
    const layout::MakingUp asked = usual();
    for (int w = 30; w <= 120; w += 2)
        for (int h = w; h <= 120; h += 2) {
            const auto plan = cutting::backing_for(inches(w), inches(h), asked.finish.backing, asked.cloth);
            const double wide = 42, joint = 1;
            const double across = plan.along ? w + 8 : h + 8;
            REQUIRE(plan.panels * wide - (plan.panels - 1) * joint >= across);
            if (plan.panels > 1) REQUIRE((plan.panels - 1) * wide - (plan.panels - 2) * joint < across);
            REQUIRE(plan.panel == inches(plan.along ? h + 8 : w + 8));
            REQUIRE(plan.buy >= plan.length);
            REQUIRE(plan.buy <= plan.other_buy);
        }
}

TEST_CASE("cloth is bought in the shop's step, with slack and shrinkage") {
    layout::Cloth cloth = usual().cloth;
    CHECK(cutting::to_buy({}, cloth) == Length{});
    CHECK(cutting::to_buy(inches(80), cloth) == inches(81)); // 2 1/4 yd, 1 in to spare.
    cloth.slack = inches(2);
    CHECK(cutting::to_buy(inches(80), cloth) == inches(85.5));
    cloth.slack = {};
    cloth.shrinkage = 5; // 80 / 0.95 = 84.2
    CHECK(cutting::to_buy(inches(80), cloth) == inches(85.5));
    cloth.shrinkage = 0;
    cloth.step = Length{Length::per_millimetre * 100};
    CHECK(cutting::to_buy(Length{Length::per_millimetre * 601}, cloth) ==
          Length{Length::per_millimetre * 700});
}
