#pragma once
/// Plans, fabrics and tops for the tests of `cutting`. All fabrics are invented.

#include <fmt/format.h>

#include <string>
#include <vector>

#include "document/document.h"
#include "layout/heap.h"
#include "layout/plan.h"

namespace plans {

inline motley::measure::Length inches(double n) {
    return motley::measure::Length::inches(n);
}

/// f0, f1, ...: greys.
inline std::vector<motley::palette::Fabric> fabrics(int many) {
    std::vector<motley::palette::Fabric> made;
    for (int f = 0; f < many; ++f) {
        motley::palette::Fabric fabric;
        fabric.id = fabric.name = fmt::format("f{}", f);
        const auto grey = static_cast<std::uint8_t>(40 + f * 150 / many);
        fabric.colour = motley::palette::typed_colour(motley::colour::Srgb{grey, grey, grey});
        made.push_back(fabric);
    }
    return made;
}

/// The text of a plan without its outermost braces.
inline motley::layout::Plan plan(const std::string& text) {
    const motley::document::Json json =
        motley::document::parse("{\"palette\": \"p\", " + text + "}", "plan.json");
    return motley::layout::read_plan(motley::document::Node(json, "plan.json"));
}

inline motley::layout::Layout top(const std::string& text, int many) {
    return motley::layout::heaped(plan(text), fabrics(many));
}

} // namespace plans
