// The strip-set half-square triangle, four at a time: what of each strip shows, where, and how many come of
// it.

#include <catch.hpp>

#include "oracle/areas.h"
#include "workbench.h"

using namespace workbench;

namespace {

const double root = std::sqrt(2.0);
constexpr double exactly = 1e-9;

void check_areas(const std::vector<double>& found, const std::vector<double>& wanted,
                 double within = exactly) {
    REQUIRE(found.size() == wanted.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        INFO("input " << i);
        CHECK(std::abs(found[i] - wanted[i]) < within);
    }
}

std::vector<std::pair<int, double>> lengths(const unit::Sewn& made,
                                            const std::vector<unit::EdgeShare>& edge) {
    std::vector<std::pair<int, double>> found;
    for (const unit::EdgeShare& share : edge)
        found.emplace_back(share.input, (share.to - share.from) * made.finished);
    return found;
}

void check_edge(const std::vector<std::pair<int, double>>& found,
                const std::vector<std::pair<int, double>>& wanted) {
    REQUIRE(found.size() == wanted.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        CHECK(found[i].first == wanted[i].first);
        CHECK(std::abs(found[i].second - wanted[i].second) < exactly);
    }
}

unit::Order example() {
    return with(order(6, 0.25), "square", {10});
}

} // namespace

TEST_CASE("the worked example: five strips of 2 1/2 in, a 10 in square, units of 6 in") {
    // Derived: the square shows 2 in of each strip; a seam takes 1/4 in all round, so the first strip keeps
    // 7/4 in beside it. The finished triangle has the height 3 sqrt 2 above its long side, and what lies
    // above the height h has the area (3 sqrt 2 - h)^2. Parallel: 18 - (3 sqrt 2 - 7/4)^2 = 21 sqrt 2 / 2 -
    // 49/16; the next with h = 15/4: 12 sqrt 2 - 11; the rest (3 sqrt 2 - 15/4)^2 = 513/16 - 45 sqrt 2 / 2.
    // Perpendicular: the middle strip lies 1 in to both sides of the middle of the long side, so it shows
    // 18 - (3 sqrt 2 - 1)^2 = 6 sqrt 2 - 1; then (3 sqrt 2 - 1)^2 / 2 - (3 sqrt 2 - 3)^2 / 2 = 6 sqrt 2 - 4;
    // the outer ones (3 sqrt 2 - 3)^2 / 2 = 27/2 - 9 sqrt 2.
    const unit::Sewn made = sewn("strip-set-triangle", example());
    REQUIRE(made.inputs.size() == 6);
    REQUIRE(made.forms.size() == 4);
    REQUIRE(made.copies.size() == 4);
    const double first = 21 * root / 2 - 49.0 / 16, second = 12 * root - 11,
                 third = 513.0 / 16 - 45 * root / 2;
    check_areas(visible(made, made.forms[0]), {first, second, third, 0, 0, 18});
    check_areas(visible(made, made.forms[3]), {0, 0, third, second, first, 18});
    const std::vector<double> perpendicular{13.5 - 9 * root, 6 * root - 4,    6 * root - 1,
                                            6 * root - 4,    13.5 - 9 * root, 18};
    check_areas(visible(made, made.forms[1]), perpendicular);
    check_areas(visible(made, made.forms[2]), perpendicular);
    // The two with stripes across the seam are mirror images of each other; the other two, strip by strip, of
    // nothing.
    CHECK(made.forms[0].mirror_of == -1);
    CHECK(made.forms[1].mirror_of == -1);
    CHECK(made.forms[2].mirror_of == 1);
    CHECK(made.forms[3].mirror_of == -1);
    for (const unit::Form& form : made.forms) CHECK(form.count == 1);
}

TEST_CASE("the worked example: how long each strip lies on the outer edges, all of them on the bias") {
    // Derived: parallel stripes meet the edge at 45 degrees, a stripe h high takes h sqrt 2: 7 sqrt 2 / 4, 2
    // sqrt 2 and the rest. Perpendicular: from the corner at the end of the long side, 3 sqrt 2 - 3 along it:
    // 6 - 3 sqrt 2.
    const unit::Sewn made = sewn("strip-set-triangle", example());
    const double a = 7 * root / 4, b = 2 * root, c = 6 - 15 * root / 4, d = 6 - 3 * root;
    check_edge(lengths(made, made.forms[0].edges[0]), {{0, a}, {1, b}, {2, c}});
    check_edge(lengths(made, made.forms[0].edges[1]), {{2, c}, {1, b}, {0, a}});
    check_edge(lengths(made, made.forms[1].edges[0]), {{0, d}, {1, b}, {2, root}});
    check_edge(lengths(made, made.forms[1].edges[1]), {{2, root}, {3, b}, {4, d}});
    check_edge(lengths(made, made.forms[2].edges[0]), {{4, d}, {3, b}, {2, root}});
    for (const unit::Form& form : made.forms)
        for (int side = 0; side < 4; ++side) {
            for (const unit::EdgeShare& share : form.edges[static_cast<std::size_t>(side)]) CHECK(share.bias);
            if (side >= 2) check_edge(lengths(made, form.edges[static_cast<std::size_t>(side)]), {{5, 6}});
        }
}

TEST_CASE("the worked example: 120 units from 8 sets at 42 in, from 10 at 39 1/2 in") {
    const unit::Sewn made = sewn("strip-set-triangle", example());
    const unit::Batch wide = unit::batch(made, 120, measure::Length::inches(42));
    CHECK(wide.makings == 30);
    CHECK(wide.spare_units == 0);
    CHECK(wide.sets[0].per_strip == 4);
    CHECK(wide.sets[0].sets == 8);
    CHECK(wide.sets[0].strips == 40);
    CHECK(wide.sets[0].spare == 2); // Squares: 8 units.
    CHECK(wide.inputs[0].pieces == 8);
    CHECK(wide.inputs[5].pieces == 30);
    CHECK(wide.inputs[5].strips == 8);
    CHECK(wide.inputs[5].length == measure::Length::inches(80));
    const unit::Batch narrow = unit::batch(made, 120, measure::Length::inches(39.5));
    CHECK(narrow.sets[0].per_strip == 3);
    CHECK(narrow.sets[0].sets == 10);
    CHECK(narrow.sets[0].strips == 50);
    CHECK(narrow.inputs[5].length == measure::Length::inches(100));
    CHECK_THROWS_AS(unit::batch(made, 120, measure::Length::inches(9)), Fault);
}

TEST_CASE("other strip counts, widths, seams and squares: areas by Boost.Geometry") {
    // The oracle lays the strips down as they show in the square, cuts the finished triangle out of them with
    // Boost.Geometry, and knows nothing of sewing. A square cut at `offset` into the set; the triangle's long
    // side lies s inside one side of the square, centred, its height is F / sqrt 2.
    struct Variant {
        double finished, seam, square;
        std::vector<double> widths;
        bool flush;
    };
    const std::vector<Variant> variants{{6, 0.25, 10, {2.5, 2.5, 2.5, 2.5, 2.5}, false},
                                        {6, 0.25, 10, {2.5, 2.5, 2.5, 2.5, 2.5}, true},
                                        {6, 0.25, 10.5, {2.5, 2.5, 2.5, 2.5, 2.5}, true},
                                        {4, 0.375, 8, {3, 3, 3, 3}, false},
                                        {5, 0.125, 9, {1.5, 4, 2, 3.25}, false},
                                        {5, 0.125, 9, {1.5, 4, 2, 3.25}, true},
                                        {3, 0.25, 5.75, {6.5}, false},
                                        {8, 0.3, 13, {2, 1.75, 2, 1.5, 2, 2.5, 2, 3, 2}, false}};
    for (const Variant& v : variants) {
        INFO(v.finished << " " << v.seam << " " << v.square);
        unit::Order asked = with(order(v.finished, v.seam), "square", {v.square});
        asked = with(asked, "strips", {static_cast<double>(v.widths.size())});
        asked = with(asked, "strip", v.widths);
        if (v.flush) asked = with_word(asked, "place", "cut flush");
        const unit::Sewn made = sewn("strip-set-triangle", asked);
        const double s = asked.seam.in_inches(), l = v.square, f = v.finished, h = f / root;
        double set = s * 2;
        for (const double width : v.widths) set += width - 2 * s;
        const double offset = v.flush ? 0 : (set - l) / 2;
        // Long side at the top, left, right and bottom of the square.
        const unit::Polygon top{{l / 2 - h, s}, {l / 2 + h, s}, {l / 2, s + h}};
        const std::vector<unit::Polygon> triangles{top, moved(top, {0, 1, 1, 0, 0, 0}),
                                                   moved(top, {0, -1, 1, 0, l, 0}),
                                                   moved(top, {1, 0, 0, -1, 0, l})};
        for (std::size_t t = 0; t < 4; ++t) {
            double from = -offset;
            std::vector<double> wanted;
            for (std::size_t i = 0; i < v.widths.size(); ++i) {
                const double outer = (i == 0 ? s : 0) + (i + 1 == v.widths.size() ? s : 0);
                const double to = from + v.widths[i] - 2 * s + outer;
                wanted.push_back(oracle::common_area(triangles[t], unit::Box{0, from, l, to}.outline()));
                from = to;
            }
            wanted.push_back(f * f / 2);
            check_areas(visible(made, made.forms[static_cast<std::size_t>(made.copies[t].form)]), wanted,
                        oracle::grid);
        }
    }
}

TEST_CASE("untrimmed units are as large as they come") {
    // Derived: U = (L/2 - s) sqrt 2.
    for (const std::string trim : {"none", "cut flush"})
        for (const double square : {8.0, 10.0, 10.5}) {
            const unit::Sewn made =
                sewn("strip-set-triangle", with_word(with(order(6, 0.25), "square", {square}), "trim", trim));
            CHECK(std::abs(made.finished - ((square / 2 - 0.25) * root - 0.5)) < exactly);
        }
    // With the dog-ears off, nothing of an allowance sticks out; the ears are little triangles 2s long and s
    // high, one each of four layers' ends (two a seam's end, as both layers have one): 8 of s^2 in the
    // making.
    const double flush =
        sewn("half-square-triangle-four", with_word(order(6, 0.25), "trim", "cut flush")).ledger.trimmings;
    const double none =
        sewn("half-square-triangle-four", with_word(order(6, 0.25), "trim", "none")).ledger.trimmings;
    CHECK(none == Approx(0).margin(exactly));
    CHECK(flush == Approx(4 * 2 * 2 * 0.25 * 0.25 / 2 * 2).margin(1e-9));
}

TEST_CASE("patches of all recipes by Boost.Geometry: they tile the unit") {
    for (const unit::Recipe& recipe : unit::recipes()) {
        INFO(recipe.id);
        const unit::Sewn made = unit::sew(recipe, order(6, 0.25));
        for (const unit::Form& form : made.forms) {
            double sum = 0;
            for (std::size_t i = 0; i < form.patches.size(); ++i) {
                const unit::Patch& patch = form.patches[i];
                CHECK(std::abs(oracle::area(patch.outline) - patch.area) < 1e-12);
                CHECK(std::abs(oracle::common_area(patch.outline, unit::Box{0, 0, 1, 1}.outline()) -
                               patch.area) < oracle::grid / 20);
                sum += patch.area;
                for (std::size_t j = 0; j < i; ++j)
                    CHECK(oracle::common_area(patch.outline, form.patches[j].outline) < oracle::grid / 20);
            }
            CHECK(std::abs(sum - 1) < 1e-9);
        }
    }
}
