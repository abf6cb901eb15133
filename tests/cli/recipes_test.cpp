#include <catch.hpp>
#include <cmath>

#include "workshop.h"

using namespace motley;
using tests::Told;
using tests::Workshop;

namespace {

document::Json asked(const std::vector<std::string>& words) {
    std::vector<std::string> all{"recipes"};
    all.insert(all.end(), words.begin(), words.end());
    all.push_back("--json");
    const Told ran = tests::say(all);
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    return document::parse(ran.out, "out");
}

} // namespace

TEST_CASE("recipes tells every recipe, with figures that the trade knows") {
    // Common practice, no source: round-ups of the handbooks at 1/4 in seams; the strip set's yields at 42 in
    // and 39 1/2 in are derived: 4 and 3 squares of 10 in to a set.
    for (const document::Json& one : asked({})) {
        const document::Json told = asked({one.at("recipe").get<std::string>()});
        CHECK(told.at("finished").get<double>() == Approx(6));
        double area = 0;
        for (const document::Json& shown : told.at("units")[0].at("areas")) area += shown.get<double>();
        CHECK(area == Approx(36));
        CHECK(told.at("steps").size() > 0);
    }
    CHECK(asked({"half-square-triangle-two"}).at("pieces")[0].at("cut")[0].get<double>() == 6.875);
    CHECK(asked({"quarter-square-triangle"}).at("pieces")[0].at("cut")[0].get<double>() == 7.25);
    const document::Json wide = asked({"strip-set-triangle", "--units", "120"});
    CHECK(wide.at("batch").at("sets")[0].at("sets") == 8);
    CHECK(wide.at("batch").at("sets")[0].at("strips") == 40);
    const document::Json narrow = asked({"strip-set-triangle", "--units", "120", "--width", "39 1/2"});
    CHECK(narrow.at("batch").at("sets")[0].at("sets") == 10);
    CHECK(narrow.at("units")[0].at("areas")[0].get<double>() == Approx(21 * std::sqrt(2.0) / 2 - 49.0 / 16));
}

TEST_CASE("recipes says what it does not know, and draws what it knows") {
    Told ran = tests::say({"recipes", "log-cabine"});
    CHECK(ran.code == 2);
    CHECK(ran.err.find("log-cabin") != std::string::npos);
    ran = tests::say({"recipes", "rail", "--choose", "stripes=4"});
    CHECK(ran.code == 2);
    ran = tests::say({"recipes", "rail", "--finished", "six"});
    CHECK(ran.code == 2);
    CHECK(ran.err.find("six") != std::string::npos);
    const Workshop workshop;
    ran = tests::say({"recipes", "half-square-triangle-two", "--draw", workshop.path("steps")});
    CHECK(ran.code == 0);
    CHECK(std::filesystem::exists(workshop.folder() / "steps" / "step-01.png"));
}

TEST_CASE("recipes tells how much of a strip there is in all, and the measure of its figures") {
    const Told ran = tests::say({"recipes", "nine-patch"});
    CHECK(ran.code == 0);
    CHECK(ran.out.find("strip 2 1/2 in wide, 12 1/2 in of it in all") != std::string::npos);
    CHECK(ran.out.find("2 1/2 in x 12 1/2 in") == std::string::npos);
    CHECK(ran.out.find("pieces from one width of cloth") != std::string::npos);
    const document::Json metric = asked({"nine-patch", "--metric"});
    CHECK(metric.at("measure") == "inch");
    CHECK(metric.at("finished").get<double>() == Approx(150 / 25.4));
    const Told cabin = tests::say({"recipes", "log-cabin"});
    CHECK(cabin.out.find("exactly 1.3571 in, cut a little less than 1 3/8 in") != std::string::npos);
}
