#include "unit/form.h"

#include <catch.hpp>

using namespace motley;

TEST_CASE("turns go clockwise and four of them come home") {
    const unit::Point top_left{0, 0};
    const unit::Point once = unit::turned(top_left, 1);
    CHECK(once.x == 1); // Clockwise on the screen: top left goes to top right.
    CHECK(once.y == 0);
    for (const unit::Point start : {unit::Point{0.2, 0.7}, unit::Point{1, 0}, unit::Point{0.5, 0.5}}) {
        unit::Point point = start;
        for (int turn = 0; turn < 4; ++turn) {
            const unit::Point direct = unit::turned(start, turn);
            CHECK(direct.x == Approx(point.x));
            CHECK(direct.y == Approx(point.y));
            point = unit::turned(point, 1);
        }
        CHECK(point.x == Approx(start.x));
        CHECK(point.y == Approx(start.y));
    }
}
