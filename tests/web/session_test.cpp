// The life of a project: what hands do, what history brings back, what a sudden end leaves.

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/uniform_int_distribution.hpp>
#include <catch.hpp>
#include <chrono>
#include <thread>

#include "web/quilt.h"

using namespace motley;
using namespace motley::tests;

namespace {

/// What a quilter might do next; the same for the same number.
class Whim {
public:
    explicit Whim(unsigned seed) : engine_(seed) {}

    Json next() {
        const int cell = below(20), other = below(20);
        const std::string fabric = "cloth-" + std::to_string(below(8)),
                          second = "cloth-" + std::to_string(below(8));
        switch (below(14)) {
            case 0:
                return {{"do", "turn"}, {"cells", {cell, other}}, {"quarters", 1 + below(3)}};
            case 1:
                return {{"do", "pin"}, {"cells", {cell}}, {"on", below(2) == 1}};
            case 2:
                return {{"do", "sewn"}, {"cells", {cell, other}}, {"on", below(3) == 0}};
            case 3:
                return {{"do", "replace"}, {"cell", cell}, {"patch", 0}, {"fabric", fabric}};
            case 4:
                return {{"do", "replace-all"}, {"from", fabric}, {"to", second}};
            case 5:
                return {{"do", "plan"}, {"set", {{"/rules/apart", 1 + below(3)}}}};
            case 6:
                return {{"do", "plan"}, {"set", {{"/counts/" + fabric, below(5)}}}};
            case 7:
                return {{"do", "follow"}};
            case 8:
                return {{"do", "fabric"},
                        {"id", fabric},
                        {"set", {{"name", "Name " + std::to_string(below(9))}}}};
            case 9:
                return {{"do", below(3) == 0 ? "redo" : "undo"}};
            default:
                return {{"do", "swap"}, {"one", cell}, {"other", other}};
        }
    }

    int below(int n) { return boost::random::uniform_int_distribution<int>(0, n - 1)(engine_); }

private:
    boost::random::mt19937 engine_;
};

/// Refused actions change nothing and are part of life.
bool attempt(web::Session& session, const Json& action) {
    try {
        session.act(action);
        return true;
    } catch (const Fault&) {
        return false;
    }
}

Json without_words(Json view) {
    for (const char* key :
         {"revision", "undo", "redo", "steps", "said", "touched", "running", "refused", "candidates"})
        view.erase(key);
    if (view["top"].is_object()) view["top"].erase("geometry"); // A number; old ones are forgotten.
    return view;
}

} // namespace

TEST_CASE("a first shuffle keeps every rule, and the files say so") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    CHECK(session.view()["top"].is_null());
    const Json view = act(session, {{"do", "shuffle"}});
    REQUIRE(view["top"].is_object());
    CHECK(view["troubles"].empty());
    CHECK(view["top"]["fabrics"].size() == 20);
    const Json layout = read_json(quilt.folder() / "layout.json");
    CHECK(layout["score"]["touching"] == 0);
    CHECK(layout["plan"] == read_json(quilt.folder() / "plan.json"));
}

TEST_CASE("the command line finds the same layout from the files") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    act(session, {{"do", "shuffle"}});
    act(session, {{"do", "shuffle"}});
    pipeline::PlaceRequest request;
    request.plan = quilt.folder() / "plan.json";
    request.common = alone();
    const Json placed = layout::write_layout(pipeline::place(request).layouts.front());
    const Json kept = read_json(quilt.folder() / "layout.json");
    CHECK(placed["cells"] == kept["cells"]);
    CHECK(placed["units"] == kept["units"]);
}

TEST_CASE("hands: swap, pin, turn, replace, and what they are told") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    const Json first = act(session, {{"do", "shuffle"}});
    const auto fabrics = [](const Json& view) { return view["top"]["fabrics"]; };
    Json view = act(session, {{"do", "swap"}, {"one", 0}, {"other", 19}});
    CHECK(fabrics(view)[0] == fabrics(first)[19]);
    CHECK(fabrics(view)[19] == fabrics(first)[0]);
    view = act(session, {{"do", "pin"}, {"cells", {7}}, {"on", true}});
    CHECK(view["pinned"] == Json({7}));
    CHECK(view["plan"]["pins"][0]["row"] == 2);
    CHECK(view["plan"]["pins"][0]["column"] == 3);
    const Json pinned = fabrics(view)[7];
    view = act(session, {{"do", "shuffle"}});
    CHECK(fabrics(view)[7] == pinned);
    view = act(session, {{"do", "sewn"}, {"cells", {3}}, {"on", true}});
    CHECK_THROWS_AS(session.act({{"do", "swap"}, {"one", 3}, {"other", 4}}), Fault);
    const Json sewn = fabrics(view)[3];
    CHECK(fabrics(act(session, {{"do", "shuffle"}}))[3] == sewn);
    // A neighbour's fabric: the rule is broken on the wall, with ways out.
    const int neighbour = fabrics(session.view())[11].get<int>();
    view = act(
        session,
        {{"do", "replace"}, {"cell", 12}, {"patch", 0}, {"fabric", "cloth-" + std::to_string(neighbour)}});
    REQUIRE_FALSE(view["troubles"].empty());
    CHECK_FALSE(view["troubles"].back()["ways"].empty());
    bool marked = false;
    for (const Json& pair : view["conflicts"]) marked = marked || pair == Json({11, 12});
    CHECK(marked);
    view = act(session, {{"do", "mend"}});
    CHECK(view["troubles"].empty());
    CHECK(view["conflicts"].empty());
}

TEST_CASE("a shuffle of a part leaves the rest where it was") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    const Json before = act(session, {{"do", "shuffle"}});
    const std::vector<int> part{0, 1, 2, 5, 6, 7};
    const Json after = act(session, {{"do", "shuffle"}, {"cells", part}});
    CHECK(after["troubles"].empty());
    for (int cell = 0; cell < 20; ++cell)
        if (std::find(part.begin(), part.end(), cell) == part.end())
            CHECK(after["top"]["fabrics"][static_cast<std::size_t>(cell)] ==
                  before["top"]["fabrics"][static_cast<std::size_t>(cell)]);
}

TEST_CASE("what cannot be is said in words, with ways that lift it") {
    const Quilt quilt(3, {{"rules", {{"touching", "corner"}}}});
    web::Session session(quilt.folder(), alone());
    const Json view = act(session, {{"do", "shuffle"}});
    CHECK(view["top"].is_null());
    REQUIRE(view.contains("refused"));
    // Four squares around a corner need four fabrics (derived); edges alone need two.
    const Json ways = view["refused"].back()["ways"];
    REQUIRE_FALSE(ways.empty());
    act(session, ways[0]["act"]);
    CHECK(act(session, {{"do", "shuffle"}})["top"].is_object());
}

TEST_CASE("a plan names no file from the page") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    const std::vector<Json> hostile{
        {{"/palette", "/etc"}},
        {{"/unit/recipe", "../../secret.json"}},
        {{"/unit/recipe", {{"format", "motley recipe 1"}}}},
        {{"/wishes/value_aim", {{"picture", "/etc/passwd"}}}},
        {{"/setting/borders", {{{"width", "2"}, {"pieced", {{"recipe", "/etc/passwd"}}}}}}},
        {{"/setting", {{"columns", 5}}}},
        {{"/setting/columns", 1000000}},
        {{"/rules", {{"touching", "perhaps"}}}},
    };
    const Json before = without_words(session.view());
    for (const Json& set : hostile) {
        INFO(set.dump());
        CHECK_THROWS_AS(session.act({{"do", "plan"}, {"set", set}}), Fault);
    }
    CHECK_THROWS_AS(session.act({{"do", "bring-back"}, {"file", "../plan.json"}}), Fault);
    CHECK_THROWS_AS(session.act({{"do", "drop-version"}, {"file", "../plan.json"}}), Fault);
    CHECK_THROWS_AS(session.exported("../plan.json"), Fault);
    CHECK(without_words(session.view()) == before);
}

TEST_CASE("versions are kept, brought back, dropped") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    const Json first = act(session, {{"do", "shuffle"}});
    act(session, {{"do", "keep"}, {"name", "../blue/one"}});
    const Json changed = act(session, {{"do", "shuffle"}});
    CHECK(changed["top"]["fabrics"] != first["top"]["fabrics"]);
    REQUIRE(changed["versions"].size() == 1);
    const Json file = changed["versions"][0]["file"];
    CHECK(fs::exists(quilt.folder() / "versions" / file.get<std::string>()));
    CHECK(act(session, {{"do", "bring-back"}, {"file", file}})["top"]["fabrics"] == first["top"]["fabrics"]);
    CHECK(act(session, {{"do", "drop-version"}, {"file", file}})["versions"].empty());
}

TEST_CASE("a thousand whims, undone, leave the first state, and done again the last") {
    const Quilt quilt;
    web::Session session(quilt.folder(), alone());
    const std::string plan_before = document::read_text(quilt.folder() / "plan.json");
    const Json first = without_words(session.view());
    act(session, {{"do", "shuffle"}});
    Whim whim(5);
    int done = 0;
    for (int i = 0; i < 1000; ++i) {
        done += attempt(session, whim.next());
        if (i % 100 == 50 && attempt(session, {{"do", "shuffle"}})) session.settle();
    }
    CHECK(done > 700);
    while (!session.act({{"do", "redo"}})["redo"].is_null()) {
    }
    const Json last = without_words(session.view());
    const std::string layout_last = document::read_text(quilt.folder() / "layout.json");
    while (!session.act({{"do", "undo"}})["undo"].is_null()) {
    }
    CHECK((without_words(session.view()) == first));
    CHECK(read_json(quilt.folder() / "plan.json") == document::parse(plan_before, "plan"));
    CHECK_FALSE(fs::exists(quilt.folder() / "layout.json"));
    while (!session.act({{"do", "redo"}})["redo"].is_null()) {
    }
    const Json again = without_words(session.view());
    for (const auto& [key, value] : last.items()) {
        INFO(key);
        CHECK((again[key] == value));
    }
    CHECK(document::read_text(quilt.folder() / "layout.json") == layout_last);
}

TEST_CASE("history goes on after the program was closed, and is let go when files were changed by hand") {
    const Quilt quilt;
    Json before, after;
    {
        web::Session session(quilt.folder(), alone());
        before = without_words(act(session, {{"do", "shuffle"}}));
        after = without_words(act(session, {{"do", "swap"}, {"one", 1}, {"other", 2}}));
    }
    {
        web::Session session(quilt.folder(), alone());
        CHECK(without_words(session.view())["top"]["fabrics"] == after["top"]["fabrics"]);
        CHECK(act(session, {{"do", "undo"}})["top"]["fabrics"] == before["top"]["fabrics"]);
        CHECK(act(session, {{"do", "redo"}})["top"]["fabrics"] == after["top"]["fabrics"]);
    }
    Json plan = read_json(quilt.folder() / "plan.json");
    plan["name"] = "By hand";
    put(quilt.folder(), "plan.json", plan);
    web::Session session(quilt.folder(), alone());
    CHECK(session.view()["undo"].is_null());
    CHECK(session.view()["name"] == "By hand");
}

TEST_CASE("killed at fifty moments, a project loses at most its last action") {
    const Quilt quilt;
    {
        web::Session session(quilt.folder(), alone());
        act(session, {{"do", "shuffle"}});
    }
    Whim moments(77);
    for (int round = 0; round < 50; ++round) {
        int pipe_ends[2];
        REQUIRE(::pipe(pipe_ends) == 0);
        const pid_t child = ::fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            ::close(pipe_ends[0]);
            try {
                web::Session session(quilt.folder(), alone());
                Whim whim(static_cast<unsigned>(1000 + round));
                for (;;)
                    if (attempt(session, whim.next())) {
                        const int steps = session.view()["steps"].get<int>();
                        (void)!::write(pipe_ends[1], &steps, sizeof steps);
                    }
            } catch (...) {
            }
            ::_exit(1);
        }
        ::close(pipe_ends[1]);
        int steps = -1;
        REQUIRE(::read(pipe_ends[0], &steps, sizeof steps) == sizeof steps); // It is under way.
        std::this_thread::sleep_for(std::chrono::microseconds(200 + moments.below(12'000)));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        CHECK(WIFSIGNALED(status));
        for (int more = 0; ::read(pipe_ends[0], &more, sizeof more) == sizeof more;) steps = more;
        ::close(pipe_ends[0]);
        INFO("round " << round);
        const Json plan = read_json(quilt.folder() / "plan.json"); // Whole, or this throws.
        const Json layout = read_json(quilt.folder() / "layout.json");
        const Json palette = read_json(quilt.folder() / "cloths/palette.json");
        web::Session session(quilt.folder(), alone());
        const Json view = session.view();
        CHECK(std::abs(view["steps"].get<int>() - steps) <= 1); // An undo counts one down.
        CHECK(view["steps"].get<int>() > 0);                    // The history is not lost.
        CHECK(view["top"].is_object());
    }
}
