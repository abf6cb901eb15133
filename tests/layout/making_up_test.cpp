#include "layout/making_up.h"

#include <catch.hpp>

#include "sample.h"

using namespace motley;
using measure::Length;

namespace {

Length inches(double n) {
    return Length::inches(n);
}

} // namespace

TEST_CASE("what is not said about cloth and finishing is as usual") {
    const layout::MakingUp inch = sample::plan({}).making_up;
    CHECK(inch.cloth.step == inches(4.5)); // 1/8 yd.
    CHECK(inch.cloth.slack == Length{});
    CHECK(inch.finish.backing.overhang == inches(4));
    CHECK(inch.finish.backing.width == inches(42));
    CHECK(inch.finish.binding.width == inches(2.5));
    CHECK(inch.page.paper == layout::Paper::letter);
    CHECK(inch.sizes.size() == 6);
    CHECK(inch.sizes.front().infant);
    // 16 CFR 1219: the inside of a full-size crib is 28 +- 5/8 x 52 3/8 +- 5/8 in.
    CHECK(inch.sizes.front().width == inches(28));
    CHECK(inch.sizes.front().length == inches(52.375));
    const layout::MakingUp metric = sample::plan({{"/measure", "\"metric\""}}).making_up;
    CHECK(metric.cloth.step.ticks == 100 * Length::per_millimetre);
    CHECK(metric.page.paper == layout::Paper::a4);
}

TEST_CASE("cloth, finishing, sizes and paper are read as said") {
    const layout::MakingUp said =
        sample::plan(
            {{"/cloth", R"({"usable_width": "40", "ends": "1/2", "slack": "3", "step": "1/4 yd",
                                     "shrinkage": 3.5, "price": 11.5, "currency": "$"})"},
             {"/finish", R"({"backing": {"width": "108", "overhang": "3", "seam": "3/8", "fabric": "f1"},
                                      "binding": {"fabric": "f2", "width": "2 1/4"}, "label": "For Ada"})"},
             {"/sizes", R"(["twin", {"name": "guest bed", "mattress": ["48", "72"], "drop": "12"},
                                     {"name": "wall", "finished": ["36", "36"]}, {"name": "king", "drop": "16"}])"},
             {"/handout", R"({"paper": "a4", "large_print": true})"}})
            .making_up;
    CHECK(said.cloth.ends == inches(0.5));
    CHECK(said.cloth.slack == inches(3));
    CHECK(said.cloth.step == inches(9));
    CHECK(said.cloth.shrinkage == 3.5);
    CHECK(said.cloth.price == 11.5);
    CHECK(said.finish.backing.width == inches(108));
    CHECK(said.finish.batting_overhang == inches(3)); // As the backing's.
    CHECK(said.finish.binding.fabric == "f2");
    CHECK(said.finish.label == "For Ada");
    REQUIRE(said.sizes.size() == 4);
    CHECK(said.sizes[0].wanted_width() == inches(39 + 2 * 10));
    CHECK(said.sizes[0].wanted_length() == inches(75 + 10));
    CHECK(said.sizes[1].wanted_width() == inches(48 + 24));
    CHECK(said.sizes[2].wanted_length() == inches(36));
    CHECK(said.sizes[3].wanted_width() == inches(76 + 32));
    CHECK(said.page.large_print);
    CHECK(said.page.paper == layout::Paper::a4);
}

TEST_CASE("the cloth's width may be said in either place, but not twice differently") {
    CHECK(sample::plan({{"/cloth", R"({"usable_width": "40"})"}}).usable_width == inches(40));
    CHECK(sample::plan({{"/unit", R"({"usable_width": "40"})"}, {"/cloth", R"({"usable_width": 40})"}})
              .usable_width == inches(40));
    const Fault fault = sample::complaint([] {
        sample::plan({{"/unit", R"({"usable_width": "40"})"}, {"/cloth", R"({"usable_width": 42})"}});
    });
    CHECK(sample::says(fault, "plan.json /cloth/usable_width", "say it once"));
}

TEST_CASE("mistakes about cloth and finishing are named where they stand") {
    const std::vector<std::tuple<std::string, std::string, std::string, std::string>> mistakes{
        {"/cloth", R"({"usable_width": 0})", "plan.json /cloth/usable_width", "too small"},
        {"/cloth", R"({"slak": 2})", "plan.json /cloth/slak", "slack"},
        {"/cloth", R"({"step": 0})", "plan.json /cloth/step", "too small"},
        {"/cloth", R"({"shrinkage": 30})", "plan.json /cloth/shrinkage", "20"},
        {"/cloth", R"({"price": -1})", "plan.json /cloth/price", "0"},
        {"/cloth", "7", "plan.json /cloth", "object"},
        {"/finish", R"({"binding": {"width": "42"}})", "plan.json /finish/binding/width", "too large"},
        {"/finish", R"({"backing": {"overhang": "30"}})", "plan.json /finish/backing/overhang", "too large"},
        {"/finish", R"({"back": {}})", "plan.json /finish/back", "backing"},
        {"/sizes", R"(["twinn"])", "plan.json /sizes/0", "twin"},
        {"/sizes", R"([{"name": "x"}])", "plan.json /sizes/0", "mattress"},
        {"/sizes", R"([{"name": "x", "finished": ["3"]}])", "plan.json /sizes/0/finished", "two"},
        {"/sizes", R"([{"name": "x", "finished": ["3", "4"], "mattress": ["3", "4"]}])", "plan.json /sizes/0",
         "not both"},
        {"/handout", R"({"paper": "A5"})", "plan.json /handout/paper", "a4"},
        {"/handout", R"({"large_print": "yes"})", "plan.json /handout/large_print", "true"},
    };
    for (const auto& [key, text, where, fragment] : mistakes) {
        CAPTURE(key, text);
        const Fault fault = sample::complaint([&] { sample::plan({{key, text}}); });
        CAPTURE(fault.what());
        CHECK(sample::says(fault, where, fragment));
    }
}
