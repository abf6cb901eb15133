// What holds for every recipe at every size: cloth is neither made nor lost nor used twice, units fit their
// neighbours, and patches know where on their piece they were cut.

#include <algorithm>
#include <catch.hpp>

#include "workbench.h"

using namespace workbench;

namespace {

struct Case {
    const unit::Recipe* recipe;
    unit::Order order;
    std::string words;
};

double inches_of(double millimetres) {
    return measure::Length{static_cast<std::int64_t>(millimetres * 320)}.in_inches();
}

/// Every recipe at several sizes and seams; the one with strips of a given width gets strips that suffice.
std::vector<Case> cases() {
    std::vector<Case> all;
    const std::vector<std::pair<double, double>> sizes{{6, 0.25},
                                                       {12.25, 0.25},
                                                       {3, 0.375},
                                                       {4.5, 0.125},
                                                       {inches_of(150), inches_of(7)},
                                                       {inches_of(80), inches_of(6)}};
    for (const unit::Recipe& recipe : unit::recipes())
        for (const auto& [finished, seam] : sizes)
            for (const unit::Sizes kind : {unit::Sizes::exact, unit::Sizes::usual}) {
                Case made{&recipe, order(finished, seam), {}};
                made.order.sizes = kind;
                if (recipe.id == "strip-set-triangle")
                    made.order = with(made.order, "strip", {finished / 2 + 3 * seam});
                made.words = recipe.id + " at " + std::to_string(finished) + " with " + std::to_string(seam) +
                             (kind == unit::Sizes::usual ? " rounded up" : "");
                all.push_back(std::move(made));
            }
    return all;
}

bool inside(const unit::Input& input, unit::Point p) {
    constexpr double near = 1e-7;
    const double width = input.shape == unit::Cut::strip ? input.height : input.width;
    const double height = input.shape == unit::Cut::strip ? input.width : input.height;
    bool in = p.x > -near && p.y > -near && p.x < width + near && p.y < height + near;
    if (input.per_square > 1) in = in && p.y > p.x - near;               // Below the diagonal.
    if (input.per_square > 2) in = in && p.y > input.width - p.x - near; // And below the other.
    return in;
}

unit::Polygon on_cloth(const unit::Patch& patch, const unit::Lie& lie, double finished) {
    unit::Polygon outline;
    for (const unit::Point p : patch.outline) outline.push_back(lie.at(p * finished));
    return outline;
}

} // namespace

TEST_CASE("law: cloth in = showing + seam allowances + trimmings, after every step") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn made = unit::sew(*c.recipe, c.order);
        double pieces = 0;
        for (const unit::Input& input : made.inputs)
            pieces += input.shape == unit::Cut::strip
                          ? input.width * input.height
                          : input.width * input.height * input.pieces / input.per_square;
        CHECK(std::abs(made.ledger.cloth - pieces) < 1e-9 * pieces);
        for (const unit::Step& step : made.steps) {
            const unit::Ledger& books = step.ledger;
            CHECK(std::abs(books.cloth - books.showing - books.allowances - books.trimmings) <
                  1e-9 * (1 + books.cloth));
            CHECK(books.trimmings >= 0);
        }
        // What shows at the end is the units with the seam allowances around them still to see.
        const double raw = made.finished + 2 * c.order.seam.in_inches();
        CHECK(std::abs(made.ledger.showing - static_cast<double>(made.copies.size()) * raw * raw) < 1e-6);
    }
}

TEST_CASE("law: units fit their neighbours: exactly as large as ordered, filled, edge to edge") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn made = unit::sew(*c.recipe, c.order);
        CHECK(made.finished == c.order.finished.in_inches());
        int copies = 0;
        for (const unit::Form& form : made.forms) {
            copies += form.count;
            double area = 0, x = 0, y = 0;
            for (const unit::Patch& patch : form.patches) {
                CHECK(std::abs(unit::area(patch.outline) - patch.area) < 1e-12);
                area += patch.area;
                x += patch.area * patch.centre.x;
                y += patch.area * patch.centre.y;
                for (const unit::Point p : patch.outline)
                    CHECK((p.x > -1e-9 && p.y > -1e-9 && p.x < 1 + 1e-9 && p.y < 1 + 1e-9));
            }
            CHECK(std::abs(area - 1) < 1e-9);
            CHECK(std::abs(x - 0.5) < 1e-9); // Moments: the patches do not lie over each other.
            CHECK(std::abs(y - 0.5) < 1e-9);
            for (const auto& edge : form.edges) {
                double at = 0;
                for (const unit::EdgeShare& share : edge) {
                    CHECK(std::abs(share.from - at) < 1e-6);
                    CHECK(share.to > share.from);
                    at = share.to;
                }
                CHECK(std::abs(at - 1) < 1e-6);
            }
        }
        CHECK(copies == static_cast<int>(made.copies.size()));
    }
}

TEST_CASE("law: every patch lies, printed side up, on its own piece, and no cloth shows twice") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn made = unit::sew(*c.recipe, c.order);
        struct Used {
            int input, piece;
            unit::Polygon outline;
        };
        std::vector<Used> used;
        double shown_twice = 0;
        for (const unit::Copy& copy : made.copies) {
            const unit::Form& form = made.forms[static_cast<std::size_t>(copy.form)];
            REQUIRE(copy.lies.size() == form.patches.size());
            for (std::size_t i = 0; i < form.patches.size(); ++i) {
                const unit::Lie& lie = copy.lies[i];
                CHECK(std::abs(lie.cos * lie.cos + lie.sin * lie.sin - 1) < 1e-12);
                Used use{form.patches[i].input, copy.pieces[i],
                         on_cloth(form.patches[i], lie, made.finished)};
                for (const unit::Point p : use.outline)
                    CHECK(inside(made.inputs[static_cast<std::size_t>(use.input)], p));
                for (const Used& other : used)
                    if (other.input == use.input && other.piece == use.piece) {
                        const unit::Polygon both = unit::common(other.outline, use.outline);
                        if (!both.empty()) shown_twice += unit::area(both);
                    }
                used.push_back(std::move(use));
            }
        }
        CHECK(shown_twice < 1e-6);
    }
}

TEST_CASE("law: the same order gives the same unit, to the last bit") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn a = unit::sew(*c.recipe, c.order), b = unit::sew(*c.recipe, c.order);
        REQUIRE(a.forms.size() == b.forms.size());
        for (std::size_t i = 0; i < a.forms.size(); ++i) {
            REQUIRE(a.forms[i].patches.size() == b.forms[i].patches.size());
            for (std::size_t k = 0; k < a.forms[i].patches.size(); ++k) {
                const unit::Patch &p = a.forms[i].patches[k], &q = b.forms[i].patches[k];
                CHECK(std::equal(p.outline.begin(), p.outline.end(), q.outline.begin(), q.outline.end(),
                                 [](unit::Point s, unit::Point t) { return s.x == t.x && s.y == t.y; }));
                CHECK(p.lie.x == q.lie.x);
            }
        }
        REQUIRE(a.steps.size() == b.steps.size());
        for (std::size_t i = 0; i < a.steps.size(); ++i) CHECK(a.steps[i].text == b.steps[i].text);
    }
}

TEST_CASE("law: sizes rounded up are never too small and less than a mark too large") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn made = unit::sew(*c.recipe, c.order);
        for (const unit::Found& found : made.found) {
            CHECK(found.exact > 0);
            const auto unknown = std::find_if(c.recipe->unknowns.begin(), c.recipe->unknowns.end(),
                                              [&](const unit::Unknown& u) { return u.name == found.name; });
            if (!unknown->rounds || unknown->generous) continue;
            CHECK(found.usual.in_inches() > found.exact - 1e-6);
            CHECK(found.usual.in_inches() < found.exact + 0.125);
        }
        for (const unit::Input& input : made.inputs) {
            CHECK(input.width_cut.in_inches() > input.width - 1.0 / 8000);
            CHECK(input.width_cut.in_inches() < input.width + 1.5);
        }
    }
}

TEST_CASE("every step can be said and drawn") {
    for (const Case& c : cases()) {
        INFO(c.words);
        const unit::Sewn made = unit::sew(*c.recipe, c.order);
        int number = 0;
        for (const unit::Step& step : made.steps) {
            CHECK(step.number == ++number);
            CHECK(step.text.size() > 10);
            if (number > 1) CHECK(step.before.size() + step.after.size() > 0);
            for (const auto* figures : {&step.before, &step.after})
                for (const unit::Figure& figure : *figures) {
                    CHECK(figure.copies > 0);
                    CHECK_FALSE(figure.shapes.empty());
                    CHECK(figure.dimensions.size() == 2);
                    for (const unit::Shape& shape : figure.shapes) {
                        CHECK(unit::area(shape.outline) > 0);
                        // Right side up as long as it is not the top of a stack.
                        if (!shape.hidden) CHECK(shape.to_cloth.mirrors() == shape.wrong_side);
                    }
                }
        }
    }
}
