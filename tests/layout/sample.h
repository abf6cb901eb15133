#pragma once
/// Plans and fabrics for the tests of `layout`, made from JSON text.

#include <fmt/format.h>

#include <algorithm>
#include <catch.hpp>
#include <functional>
#include <initializer_list>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "document/document.h"
#include "layout/brief.h"
#include "layout/plan.h"

namespace sample {

using motley::document::Json;

inline std::string fabric_id(int number) {
    return fmt::format("f{}", number);
}

/// Fabrics f0, f1, ... with these L*, grey.
inline std::vector<motley::palette::Fabric> fabrics(const std::vector<double>& lightness) {
    std::vector<motley::palette::Fabric> made;
    for (std::size_t f = 0; f < lightness.size(); ++f) {
        motley::palette::Fabric fabric;
        fabric.id = fabric.name = fabric_id(static_cast<int>(f));
        motley::palette::FabricColour colour;
        colour.lab = {lightness[f], 0, 0};
        fabric.colour = colour;
        made.push_back(fabric);
    }
    return made;
}

inline std::vector<motley::palette::Fabric> fabrics(int many) {
    std::vector<double> lightness;
    for (int f = 0; f < many; ++f) lightness.push_back(10 + 80.0 * f / std::max(1, many - 1));
    return fabrics(lightness);
}

/// A value to put at a JSON pointer; "" takes the place away.
using Change = std::pair<std::string, std::string>;

inline Json changed(Json json, const std::vector<Change>& changes) {
    for (const auto& [pointer, text] : changes) {
        const Json::json_pointer at(pointer);
        if (!text.empty())
            json[at] = Json::parse(text);
        else if (Json& parent = json[at.parent_pointer()]; parent.is_array())
            parent.erase(std::stoul(at.back()));
        else
            parent.erase(at.back());
    }
    return json;
}

inline Json smallest() {
    return Json::parse(R"({"palette": "p", "setting": {"columns": 4, "rows": 3}})");
}

inline motley::layout::Plan plan(const std::vector<Change>& changes) {
    const Json json = changed(smallest(), changes);
    return motley::layout::read_plan(motley::document::Node(json, "plan.json"));
}

/// What a step complains about; fails the test when it does not.
inline motley::Fault complaint(const std::function<void()>& step) {
    try {
        step();
    } catch (const motley::Fault& fault) {
        return fault;
    }
    FAIL("nothing was complained about");
    throw 0; // Not reached.
}

/// Whether one of the problems is at this place and says this, in its finding or its remedy.
inline bool says(const motley::Fault& fault, const std::string& where, const std::string& fragment) {
    return std::any_of(fault.problems().begin(), fault.problems().end(), [&](const motley::Problem& problem) {
        return problem.where == where &&
               (problem.what + " (" + problem.remedy + ")").find(fragment) != std::string::npos;
    });
}

/// Chance for tests: the same numbers everywhere (ISO C++ fixes the engine; a remainder stands in for a
/// distribution).
class Chance {
public:
    explicit Chance(std::uint32_t seed) : engine_(seed) {}
    int below(int many) { return static_cast<int>(engine_() % static_cast<std::uint32_t>(many)); }
    bool one_in(int many) { return below(many) == 0; }

private:
    std::mt19937 engine_;
};

} // namespace sample
