// What the steps say: lengths as a ruler has them, seams exactly, things one by one.

#include <algorithm>
#include <catch.hpp>

#include "workbench.h"

using namespace workbench;

namespace {

unit::Order metric() {
    unit::Order made;
    made.finished = measure::Length{150 * measure::Length::per_millimetre};
    made.seam = measure::Length{15 * measure::Length::per_millimetre / 2};
    made.measure = measure::System::metric;
    made.sizes = unit::Sizes::usual;
    return made;
}

std::string said(const unit::Sewn& sewn) {
    std::string text;
    for (const unit::Step& step : sewn.steps) text += step.text + " " + step.outcome + "\n";
    return text;
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("a seam of 7.5 mm is said so in every recipe, and no pair mixes its units") {
    for (const unit::Recipe& recipe : unit::recipes()) {
        unit::Order asked = metric();
        if (recipe.id == "strip-set-triangle") asked = with(asked, "strip", {4});
        const std::string text = said(unit::sew(recipe, asked));
        INFO(recipe.id << "\n" << text);
        CHECK_FALSE(has(text, " 8 mm from the edge"));
        CHECK_FALSE(has(text, "8 mm seams"));
        if (has(text, "from the edge")) CHECK(has(text, "7.5 mm from the edge"));
        CHECK_FALSE(has(text, " cm x 1 mm"));
        for (std::size_t at = text.find(" x "); at != std::string::npos; at = text.find(" x ", at + 1)) {
            const std::string before = text.substr(at - 2, 2);
            const std::string after = text.substr(text.find_first_of("cm", at + 3), 2);
            CHECK(before == after);
        }
    }
}

TEST_CASE("measured inches are sixteenths") {
    for (const unit::Recipe& recipe : unit::recipes()) {
        unit::Order asked = order(6, 0.25);
        asked.sizes = unit::Sizes::usual;
        const unit::Sewn made = unit::sew(recipe, asked);
        std::string text = said(made);
        for (const unit::Step& step : made.steps)
            for (const auto* figures : {&step.before, &step.after})
                for (const unit::Figure& figure : *figures)
                    for (const unit::Dimension& dimension : figure.dimensions) text += dimension.text + "\n";
        INFO(recipe.id << "\n" << text);
        CHECK_FALSE(has(text, "/32"));
        CHECK_FALSE(has(text, "/64"));
        CHECK_FALSE(has(text, " 0 in off"));
    }
}

TEST_CASE("a seam that no ruler has is told as it was given") {
    CHECK(has(said(sewn("plain-square", order(6, 0.25))), "6 1/2 in"));
    CHECK(has(said(sewn("four-patch", order(6, 0.3))), "0.3 in seams"));
    CHECK(has(said(sewn("four-patch", order(6, 7.0 / 32))), "7/32 in seams"));
    unit::Order asked = metric();
    asked.seam = measure::Length::inches(0.25);
    CHECK(has(said(sewn("four-patch", asked)), "1/4 in seams"));
}

TEST_CASE("one of a pile is said in the singular") {
    const std::string quarter = said(sewn("quarter-square-triangle", order(6, 0.25)));
    INFO(quarter);
    CHECK(has(quarter, "two-colour square 2"));
    CHECK_FALSE(has(quarter, "squares 2"));
    const std::string square = said(sewn("square-in-square", order(6, 0.25)));
    CHECK(has(square, "corner 1"));
}

TEST_CASE("where nothing is cut, nothing is said to be cut, and no blade is drawn") {
    unit::Order asked = order(6, 0.25);
    asked.sizes = unit::Sizes::usual;
    for (const std::string recipe : {"strip-set-triangle", "nine-patch", "log-cabin", "square-in-square"})
        for (const unit::Step& step : sewn(recipe, asked).steps) {
            if (step.verb != "cross-cut" && step.verb != "trim") continue;
            bool blade = false;
            for (const unit::Figure& figure : step.before)
                for (const unit::Mark& mark : figure.marks)
                    blade = blade || mark.kind == unit::Mark::Kind::cut;
            INFO(recipe << " " << step.number << " " << step.text);
            CHECK(blade == (has(step.text, "Cut across") || has(step.text, "Trim ")));
        }
    const unit::Sewn made = sewn("strip-set-triangle", asked);
    CHECK(has(made.steps.at(2).text, "one section of 10 in, used whole"));
}

TEST_CASE("the first step draws every input") {
    for (const unit::Recipe& recipe : unit::recipes()) {
        INFO(recipe.id);
        const unit::Sewn made = unit::sew(recipe, order(6, 0.25));
        std::vector<bool> drawn(made.inputs.size());
        for (const unit::Figure& figure : made.steps.front().after)
            for (const unit::Shape& shape : figure.shapes)
                drawn.at(static_cast<std::size_t>(shape.input)) = true;
        CHECK(std::count(drawn.begin(), drawn.end(), false) == 0);
    }
}
