#include "render/scale.h"

#include <catch.hpp>

#include "tops.h"

using namespace motley;
using namespace motley::render;

namespace {

const std::vector<palette::Fabric> five{
    made_up::fabric("a", {0.9, 0.9, 0.9}), made_up::fabric("b", {0.1, 0.1, 0.1}),
    made_up::fabric("c", {0.5, 0.1, 0.1}), made_up::fabric("d", {0.1, 0.5, 0.1}),
    made_up::fabric("e", {0.1, 0.1, 0.5})};

double off_whole(double pixels) {
    return std::abs(pixels - std::round(pixels));
}

} // namespace

TEST_CASE("units side by side are whole pixels, as many as fit") {
    for (const int side : {64, 100, 333, 1001, 1600}) {
        const Scale plain = scale_of(made_up::top(7, 5, "plain-square", five).plan, side);
        CHECK(plain.unit == std::max(4, side / 7));
        CHECK(plain.width == 7 * plain.unit);
        CHECK(plain.height == 5 * plain.unit);
        CHECK(plain.ppi == Approx(plain.unit / 6));
        const Scale halved = scale_of(made_up::top(7, 5, "half-square-triangle", five).plan, side);
        CHECK(static_cast<int>(halved.unit) % 2 == 0); // Diagonals halve.
        CHECK(halved.unit >= plain.unit - 1);
    }
}

TEST_CASE("strips and borders are whole pixels where they can be") {
    for (const int side : {700, 1600, 2345}) {
        layout::Setting setting;
        setting.columns = 6;
        setting.rows = 7;
        setting.sashing = layout::Sashing{made_up::inches(1.5), "a", {"b"}, true};
        setting.borders = {{made_up::inches(4), {"c"}, false, layout::Corners::mitred, ""}};
        const layout::Layout top = made_up::top(setting, "plain-square", five, 6);
        const Scale scale = scale_of(top.plan, side);
        for (const double length : {6.0, 1.5, 4.0}) CHECK(off_whole(length * scale.ppi) < 1e-6);
        const double high = 7 * 6 + 8 * 1.5 + 2 * 4;
        CHECK(scale.height == Approx(high * scale.ppi));
        CHECK(scale.height <= side);
        CHECK(scale.height >= 0.8 * side - high / 4);
    }
}

TEST_CASE("a nine-patch is cut into whole pixels") {
    const Scale scale = scale_of(made_up::top(10, 10, "nine-patch", five).plan, 1600);
    CHECK(scale.unit == 159); // 160 pixels to a unit would fit.
}

TEST_CASE("units on point are whole pixels across their corners") {
    layout::Setting setting;
    setting.columns = 4;
    setting.rows = 5;
    setting.arrangement = layout::Arrangement::on_point;
    setting.borders = {{made_up::inches(5), {"c"}, false, layout::Corners::butted, ""}};
    const layout::Layout top = made_up::top(setting, "plain-square", five, 6);
    const Scale scale = scale_of(top.plan, 1600);
    CHECK(off_whole(scale.unit * std::sqrt(0.5)) < 1e-6);
    CHECK(off_whole(5 * scale.ppi) < 0.1); // Irrational beside them: nearly whole.
    CHECK(scale.height == Approx((5 * 6 * std::sqrt(2.0) + 10) * scale.ppi).margin(0.51));
    CHECK(scale.height > 1250);
}
