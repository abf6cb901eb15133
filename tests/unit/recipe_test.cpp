// Recipes as files: what is refused and in which words; choices; what ships.

#include "unit/recipe.h"

#include <algorithm>
#include <catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "workbench.h"

using namespace workbench;

namespace {

std::string fault_of(const std::function<void()>& act) {
    try {
        act();
    } catch (const Fault& fault) {
        return text(fault.problems());
    }
    return "no fault";
}

/// A recipe of one input and these steps.
std::string one_square(const std::string& steps, const std::string& more = "") {
    return R"({"format": "motley recipe 1", "id": "t", "name": "t", )" + more +
           R"("inputs": [{"name": "a", "shape": "square", "width": "unfinished"},
               {"name": "b", "shape": "square", "width": "finished"},
               {"name": "s", "shape": "strip", "width": "2", "copies": 2}],
               "steps": [)" +
           steps + R"(], "makes": "a"})";
}

std::string read_fault(const std::string& recipe) {
    return fault_of([&] { recipe_of(recipe); });
}

/// The message of sewing it at 6 in with 1/4 in seams.
std::string sewing_fault(const std::string& steps) {
    return fault_of([&] { unit::sew(recipe_of(one_square(steps)), order(6, 0.25)); });
}

} // namespace

TEST_CASE("a recipe file that is wrong is refused with the place and the nearest word") {
    struct Wrong {
        std::string recipe, message;
    };
    const std::vector<Wrong> table{
        {R"({"format": "motley recipe 2"})", R"(/format: the format is "motley recipe 2")"},
        {one_square(R"({"do": "trimm", "thing": "a"})"), R"("trim")"},
        {one_square(R"({"do": "open", "thing": "c"})"), R"(/steps/0: there is nothing called "c")"},
        {one_square(R"({"do": "open", "thing": "a", "presss": "open"})"), R"("press")"},
        {one_square(R"({"do": "turn", "thing": "a", "by": 30})"), "a turn of 30 degrees"},
        {one_square(R"({"do": "turn", "thing": "a"})"), "does not say how far"},
        {one_square(R"({"do": "turn", "thing": "a", "put": "x", "at": "top"})"), R"(no input is called "x")"},
        {one_square(R"({"do": "trim", "thing": "a"})"), "a trim without a size"},
        {one_square(R"({"do": "trim", "thing": "a", "width": "finishd"})"), R"(did you mean "finished"?)"},
        {one_square(R"({"do": "trim", "thing": "a", "width": "2 +"})"), R"("2 +" is not a size)"},
        {one_square(R"({"do": "trim", "thing": "a", "width": "2 in in"})"), "2 in in"},
        {one_square(R"({"do": "sew", "thing": "a", "along": "diagonal", "where": "inside the edge"})"),
         R"("diagonal" is no edge)"},
        {one_square(R"({"do": "turn", "thing": "a", "by": 0, "as": "a.1"})"), "without a full stop"},
        {one_square(R"({"do": "turn", "thing": "a", "by": 0, "wish": {"find": "q", "width": 1}})"),
         R"(no size to be found is called "q")"},
        {one_square(R"({"do": "turn", "thing": "a", "by": 0, "when": {"q": "x"}})"),
         R"(no parameter is called "q")"},
        {one_square("", R"("find": [{"name": "q"}], )"), R"(0 wishes find "q")"},
        {one_square("", R"("find": [{"name": "seam"}], )"), R"("seam" has a meaning already)"},
        {one_square("", R"("find": [{"name": "Q"}], )"), R"("Q" cannot be used in a size)"},
        {one_square("", R"("parameters": [{"name": "p"}], )"), "a parameter must be one thing"},
        {one_square("", R"("parameters": [{"name": "p", "whole": 3, "most": 2}], )"), "3"},
        {one_square("", R"("parameters": [{"name": "p", "length": "q"}, {"name": "q", "length": 1}], )"),
         R"(/parameters: "p" is written with "q")"},
        {one_square("", R"("parameters": [{"name": "p", "length": 1}], "find": [{"name": "p"}], )"),
         R"(/find: "p" stands there twice)"},
        {one_square("", R"("find": [{"name": "p", "guess": "p"}], )"), R"(/find: "p" is written with "p")"},
        {R"({"format": "motley recipe 1", "id": "t", "name": "t", "inputs": [], "steps": [], "makes": "a"})",
         "no inputs"},
        {R"({"format": "motley recipe 1", "id": "t", "name": "t", "inputs": [{"name": "a", "shape": "sqare",
             "width": 1}], "steps": [], "makes": "a"})",
         R"("square")"},
        {R"({"format": "motley recipe 1", "id": "t", "name": "t", "inputs": [{"name": "a", "shape": "square",
             "width": 1}, {"name": "a", "shape": "square", "width": 1}], "steps": [], "makes": "a"})",
         R"("a" stands there twice)"},
        {R"({"format": "motley recipe 1", "id": "t", "name": "t", "inputs": [{"name": "a", "shape": "square",
             "width": 1}], "steps": [], "makes": "b"})",
         R"(no step makes "b")"},
    };
    for (const Wrong& wrong : table) {
        const std::string found = read_fault(wrong.recipe);
        INFO(wrong.recipe << "\n" << found);
        CHECK(found.find("test.json") == 0);
        CHECK(found.find(wrong.message) != std::string::npos);
    }
    CHECK(read_fault(one_square("")) == "no fault");
}

TEST_CASE("steps that make no sense on the cloth are refused with the step and the measurements") {
    struct Wrong {
        std::string steps, message;
    };
    const std::string lay = R"({"do": "lay", "bottom": "a", "on top": "b", "as": "p"}, )";
    const std::string set =
        R"({"do": "strip-set", "strips": "s", "sections": 1, "section": "4 in", "as": "set"}, )";
    const std::vector<Wrong> table{
        {R"({"do": "join", "first": "a", "side": "right", "second": "b"})",
         "the 1st of its steps (join): edges that do not match: the right edge of \"a\" measures 6 1/2 in, "
         "that of \"b\" "
         "beside it 6 in"},
        {R"({"do": "trim", "thing": "a", "width": "7 in", "height": "7 in"})",
         "the 1st of its steps (trim): a trim larger than the piece: \"a\" measures 6 1/2 in x 6 1/2 in, and "
         "7 in x 7 in "
         "is wanted"},
        {set + R"({"do": "cross-cut", "thing": "set", "every": "4 1/8 in"})",
         "the 2nd of its steps (cross-cut): a cut that misses: \"set\" is 4 in long, and sections of 4 1/8 "
         "in"},
        {R"({"do": "cut", "thing": "a", "along": "top"})", "the 1st of its steps (cut): a cut that misses"},
        {lay + R"({"do": "sew", "thing": "p", "along": "top", "where": "inside the edge"})",
         "the 2nd of its steps (sew): edges that do not match: below 6 1/2 in, on top 6 in"},
        {R"({"do": "lay", "bottom": "b", "on top": "a", "as": "p"})",
         "the 1st of its steps (lay): \"a\" measures 6 1/2 in x 6 1/2 in and \"b\" on which it is laid 6 in "
         "x 6 in"},
        {lay + R"({"do": "open", "thing": "p"})", "the 2nd of its steps (open): \"p\" falls apart"},
        {lay +
             R"({"do": "sew", "thing": "p", "along": ["diagonal", "counter diagonal"], "where": "either side"}, {"do": "open", "thing": "p"})",
         "the 3rd of its steps (open): \"p\" is sewn shut: 4 seams"},
        {lay + R"({"do": "sew", "thing": "p", "along": "diagonal", "where": "on the line"})",
         "the seam runs through the middle"},
        {lay + R"({"do": "sew", "thing": "p", "along": "across", "where": "either side", "of layer": 2})",
         "there is no layer 2"},
        {lay + R"({"do": "turn", "thing": "p", "by": 90})", "\"p\" still lies right sides together"},
        {lay + R"({"do": "turn", "thing": "a", "by": 90})", "\"a\" has been used by an earlier step"},
        {R"({"do": "turn", "thing": "s", "by": 90})", "\"s\" is a strip"},
        {R"({"do": "turn", "thing": "a.3", "by": 90})", "there is no \"a.3\""},
        {R"({"do": "open", "thing": "a"})", "\"a\" does not lie right sides together"},
        {R"({"do": "join-rows", "rows": [["a", "s"]]})", "there are 2 of \"s\", but 1 are wanted"},
        {R"({"do": "join-rows", "rows": [["a", "a"]]})", "1 of \"a\" cannot be shared out to 2 places"},
        {R"({"do": "trim", "thing": "a", "width": "0 in"})", "a trim larger than the piece"},
        {R"({"do": "trim", "thing": "a", "width": "4 in"})",
         "not squares of one size: one measures 4 in x 6 1/2 in"},
        {R"({"do": "cut", "thing": "a", "along": "diagonal"})", "is not filled"},
        {R"({"do": "trim", "thing": "a", "about": "seam", "width": "4 in", "height": "4 in"})",
         "there is no seam"},
        {R"({"do": "trim", "thing": "a", "width": "seam", "height": "seam"})",
         "no wider than its seam allowances"},
    };
    for (const Wrong& wrong : table) {
        const std::string found = sewing_fault(wrong.steps);
        INFO(wrong.steps << "\n" << found);
        CHECK(found.find("recipe t") == 0);
        CHECK(found.find(wrong.message) != std::string::npos);
    }
    CHECK(sewing_fault("") == "no fault");
}

TEST_CASE("a strip that is cut to fit cannot be turned, and a turn says one thing") {
    const std::string turned = sewing_fault(R"({"do": "cut", "thing": "s", "along": "top"})");
    CHECK(turned.find("the 1st of its steps (cut)") != std::string::npos);
    const std::string joined = fault_of([] {
        unit::sew(recipe_of(R"({"format": "motley recipe 1", "id": "t", "name": "t",
            "inputs": [{"name": "a", "shape": "square", "width": "unfinished"},
                       {"name": "s", "shape": "strip", "width": "2"}],
            "steps": [{"do": "turn", "thing": "a", "by": 90},
                      {"do": "join", "first": "a", "side": "right", "second": "s", "turn": 45}],
            "makes": "a"})"),
                  order(6, 0.25));
    });
    INFO(joined);
    CHECK(joined.find("the 2nd of its steps (join)") != std::string::npos);
    CHECK(joined.find("cannot be turned by 45 degrees") != std::string::npos);
    CHECK(read_fault(one_square(R"({"do": "turn", "thing": "a", "by": 90, "put": "a", "at": "top"})"))
              .find("both \"by\" and \"put\"") != std::string::npos);
    CHECK(read_fault(one_square(R"({"do": "turn", "thing": "a", "by": 90, "at": "top"})"))
              .find("\"at\" without \"put\"") != std::string::npos);
}

TEST_CASE("steps are counted as the file counts them, choices left out and logs added or not") {
    // The 4th in the file, whose 3rd is done only when the square is to be centred.
    const std::string flush = fault_of([] {
        sewn("strip-set-triangle", with_word(with(order(6, 0.25), "strips", {3}), "place", "cut flush"));
    });
    INFO(flush);
    CHECK(flush.find("the 4th of its steps (trim)") != std::string::npos);
    const std::string logs = fault_of([] { sewn("log-cabin", with(order(6, 0.25), "log", {1})); });
    INFO(logs);
    CHECK(logs.find("the 2nd of its steps (trim)") != std::string::npos);
    CHECK(logs.find("start from larger pieces") != std::string::npos);
}

TEST_CASE("sizes that come to no length are faults that name the place in the file") {
    const auto sized = [](const std::string& width) {
        return fault_of([&] {
            unit::sew(recipe_of(R"({"format": "motley recipe 1", "id": "t", "name": "t",
                "parameters": [{"name": "band", "length": 2}],
                "inputs": [{"name": "a", "shape": "square", "width": ")" +
                                width + R"("}], "steps": [], "makes": "a"})"),
                      order(6, 0.25));
        });
    };
    for (const std::string width :
         {"band / (seam - seam)", "(seam - seam) / (seam - seam)", "1 / (band - 2)"}) {
        INFO(width << ": " << sized(width));
        CHECK(sized(width).find("test.json /inputs/0/width") == 0);
        CHECK(sized(width).find("divides by nothing") != std::string::npos);
    }
    for (const std::string width : {"99999999 * band", "band / (seam / 999999999)", "-999999 * band"}) {
        INFO(width << ": " << sized(width));
        CHECK(sized(width).find("test.json /inputs/0/width") == 0);
        CHECK(sized(width).find("more than 1,000 m") != std::string::npos);
    }
    CHECK(sized("unfinished") == "no fault");
    CHECK(sewing_fault(
              R"({"do": "strip-set", "strips": "s", "sections": 1, "section": "seam - seam", "as": "c"})")
              .find("comes to nothing") != std::string::npos);
    CHECK(sewing_fault(
              R"({"do": "strip-set", "strips": "s", "sections": 999, "section": "30000 in", "as": "c"})")
              .find("more than 1,000 m long") != std::string::npos);
}

TEST_CASE("choices for a recipe that leaves none are told so") {
    unit::Recipe recipe = recipe_of(one_square(""));
    const document::Json json = document::parse(R"({"strips": 3})", "plan.json");
    const std::string found = fault_of(
        [&] { unit::read_choices(recipe, document::Node(json, "plan.json"), measure::System::inch); });
    INFO(found);
    CHECK(found.find("leaves nothing to choose") != std::string::npos);
    CHECK(found.find("known") == std::string::npos);
    const document::Json none = document::parse("{}", "plan.json");
    CHECK(unit::read_choices(recipe, document::Node(none, "plan.json"), measure::System::inch).empty());
}

TEST_CASE("sizes that cannot be met are faults, not bugs") {
    const auto fault = [](const std::string& id, const unit::Order& asked) {
        return fault_of([&] { sewn(id, asked); });
    };
    // Three strips of 2 1/2 in make 6 1/2 in; the square wants 9.692 in.
    const std::string narrow = fault("strip-set-triangle", with(order(6, 0.25), "strips", {3}));
    INFO(narrow);
    CHECK(narrow.find("the 3rd of its steps (trim): a trim larger than the piece") != std::string::npos);
    CHECK(narrow.find("6 1/2 in") != std::string::npos);
    CHECK(narrow.find("9 11/16 in") != std::string::npos);
    CHECK(narrow.find("more strips or wider ones, or ask for a smaller finished size") != std::string::npos);
    CHECK(fault("strip-set-triangle", with(order(6, 0.25), "square", {9}))
              .find("a trim larger than the piece") != std::string::npos);
    const std::string small = fault("strip-set-triangle", with(order(6, 0.25), "square", {0.25}));
    INFO(small);
    CHECK(small.find("the seam misses the cloth (it must run within 1/4 in x 1/4 in)") != std::string::npos);
    CHECK(fault("rail", with(order(6, 0.25), "strip", {0.5})).find("its seams take 1/2 in") !=
          std::string::npos);
    CHECK(fault("plain-square", order(0, 0.25)).find("above nothing") != std::string::npos);
    // Seams as wide as the unit: whatever is said, it is said as a fault; nothing breaks.
    for (const unit::Recipe& recipe : unit::recipes())
        for (const double seam : {0.0, 0.01, 0.5, 1.0, 3.0})
            for (const double finished : {0.125, 1.0, 6.0, 100.0}) {
                INFO(recipe.id << " " << finished << " " << seam);
                CHECK_NOTHROW(fault_of([&] { unit::sew(recipe, order(finished, seam)); }));
            }
}

TEST_CASE("choices are read from plans and from the command line") {
    const unit::Recipe& recipe = *unit::find_recipe("strip-set-triangle");
    const document::Json json =
        document::parse(R"({"strips": 3, "strip": ["2 1/2", 3, "4 cm"], "trim": "none"})", "p");
    const unit::Choices choices =
        unit::read_choices(recipe, document::Node(json, "p"), measure::System::inch);
    REQUIRE(choices.size() == 3);
    CHECK(choices[0].numbers == std::vector<double>{3});
    CHECK(choices[1].numbers[0] == 2.5);
    CHECK(choices[1].numbers[1] == 3);
    CHECK(choices[1].numbers[2] == Approx(4 / 2.54).epsilon(1e-4));
    CHECK(choices[2].word == "none");
    const unit::Choice list = unit::choose(recipe, "strip", "2 1/2, 3, 4 cm", measure::System::inch);
    CHECK(list.numbers == choices[1].numbers);
    CHECK(unit::choose(recipe, "strips", "3", measure::System::inch).numbers == choices[0].numbers);
    CHECK(unit::choose(recipe, "square", "10", measure::System::inch).numbers == std::vector<double>{10});
    const auto refused = [&](const std::string& name, const std::string& value) {
        return fault_of([&] { unit::choose(recipe, name, value, measure::System::inch); });
    };
    CHECK(refused("stripes", "3").find(R"(did you mean "strip)") != std::string::npos);
    CHECK(refused("strips", "three").find("no whole number") != std::string::npos);
    CHECK(refused("strips", "25").find("24") != std::string::npos);
    CHECK(refused("square", "10, 11").find("a list of lengths") != std::string::npos);
    CHECK(refused("square", "0").find("a length of nothing") != std::string::npos);
    CHECK(refused("trim", "non").find("none") != std::string::npos);
    // Lists must fit the number of strips.
    CHECK(fault_of([&] {
              sewn("strip-set-triangle", with(order(3, 0.25), "strip", {2.5, 3}));
          }).find("2 sizes for 5") != std::string::npos);
}

TEST_CASE("the recipes that ship are the files in the folder, all of them") {
    std::vector<std::string> files, built;
    for (const auto& entry : std::filesystem::directory_iterator(MOTLEY_SOURCE "/src/unit/recipes"))
        if (entry.path().extension() == ".json") files.push_back(entry.path().stem().string());
    for (const unit::Recipe& recipe : unit::recipes()) built.push_back(recipe.id);
    std::sort(files.begin(), files.end());
    std::sort(built.begin(), built.end());
    CHECK(files == built); // The id is the file's name; none is left out of src/CMakeLists.txt.
    CHECK(unit::find_recipe("rail") != nullptr);
    CHECK(unit::find_recipe("Rail") == nullptr);
    for (const unit::Recipe& recipe : unit::recipes()) {
        INFO(recipe.id);
        CHECK(recipe.name.size() > 3);
        CHECK(recipe.about.size() > 10);
    }
}

TEST_CASE("what a making yields, and which edges stretch") {
    const auto made = [](const std::string& id) { return sewn(id, order(6, 0.25)); };
    const std::vector<std::pair<std::string, std::size_t>> units{
        {"plain-square", 1}, {"half-square-triangle", 1},      {"half-square-triangle-two", 2},
        {"rail", 1},         {"half-square-triangle-four", 4}, {"half-square-triangle-eight", 8},
        {"snowball", 1},     {"quarter-square-triangle", 2},   {"flying-geese-four", 2}};
    for (const auto& [id, count] : units) {
        INFO(id);
        CHECK(made(id).copies.size() == count);
        CHECK(made(id).forms.size() == 1); // Up to turning they are all alike.
    }
    const auto bias = [&](const std::string& id) {
        int edges = 0;
        for (const auto& edge : made(id).forms[0].edges) edges += edge[0].bias;
        return edges;
    };
    // Four at a time: all outer edges on the bias (derived: the cuts are diagonal). Cut along the grain:
    // none.
    CHECK(bias("half-square-triangle-four") == 4);
    CHECK(bias("half-square-triangle-two") == 0);
    CHECK(bias("half-square-triangle-eight") == 0);
    CHECK(bias("quarter-square-triangle") == 0);
    CHECK(bias("flying-geese-four") == 0);
    CHECK(bias("square-in-square") == 0);
    CHECK(bias("rail") == 0);
}

TEST_CASE("half-square triangles keep their print above right and their ground below left") {
    for (const std::string id : {"half-square-triangle", "half-square-triangle-two",
                                 "half-square-triangle-four", "half-square-triangle-eight"}) {
        INFO(id);
        const unit::Sewn made = sewn(id, order(6, 0.25));
        const unit::Form& form = made.forms[0];
        REQUIRE(form.patches.size() == 2);
        CHECK(form.patches[0].role == "print");
        CHECK(form.patches[1].role == "ground");
        // Derived: the centroid of a triangle is the mean of its corners.
        CHECK(form.patches[0].centre.x == Approx(2.0 / 3));
        CHECK(form.patches[0].centre.y == Approx(1.0 / 3));
        CHECK(form.patches[1].centre.x == Approx(1.0 / 3));
        CHECK(form.patches[1].centre.y == Approx(2.0 / 3));
    }
}

TEST_CASE("a recipe with steps missing, doubled or in another order is sewn or refused, never a bug") {
    // Anything but a Fault (a broken promise, an exception of a library) fails the test.
    int sewn_anyway = 0, refused = 0;
    const auto attempt = [&](unit::Recipe recipe) {
        for (const double seam : {0.25, 1.5}) try {
                unit::sew(recipe, order(6, seam));
                ++sewn_anyway;
            } catch (const Fault& fault) {
                CHECK(fault.cause() == Cause::input);
                ++refused;
            }
    };
    for (const unit::Recipe& recipe : unit::recipes())
        for (std::size_t i = 0; i < recipe.steps.size(); ++i) {
            INFO(recipe.id << " step " << i);
            unit::Recipe without = recipe, doubled = recipe;
            without.steps.erase(without.steps.begin() + static_cast<std::ptrdiff_t>(i));
            doubled.steps.insert(doubled.steps.begin() + static_cast<std::ptrdiff_t>(i), recipe.steps[i]);
            attempt(without);
            attempt(doubled);
            for (std::size_t k = 0; k < i; ++k) {
                unit::Recipe swapped = recipe;
                std::swap(swapped.steps[i], swapped.steps[k]);
                attempt(swapped);
            }
        }
    CHECK(refused > 500);
    CHECK(sewn_anyway > 20);
}

TEST_CASE("recipes are found by id alone") {
    CHECK(unit::find_recipe("plain-square") == &unit::recipes()[0]);
    CHECK(unit::find_recipe("Plain square") == nullptr);
    CHECK(unit::find_recipe("") == nullptr);
}

TEST_CASE("a generous size is rounded to half an inch where the set has it, to an eighth where it has not") {
    const auto square = [](const std::string& strips) {
        const unit::Recipe& recipe = *unit::find_recipe("strip-set-triangle");
        unit::Order made;
        made.sizes = unit::Sizes::usual;
        made.choices = {unit::choose(recipe, "strip", strips, made.measure)};
        return unit::sew(recipe, made).found.at(0);
    };
    // Derived: the exact square is sqrt 2 (6 + 1/2) + 1/2 = 9.692 in; five strips of 2 1/2 in make 10 1/2 in,
    // of 2 3/8 in 9 7/8 in.
    CHECK(square("2 1/2").exact == Approx(std::sqrt(2.0) * 6.5 + 0.5));
    CHECK(square("2 1/2").usual.in_inches() == 10);
    CHECK(square("2 3/8").usual.in_inches() == 9.75);
}
