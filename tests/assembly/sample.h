#pragma once
/// Placed tops for the tests of `assembly`: plans from JSON text, fabrics of chance.

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "document/document.h"
#include "layout/kit.h"
#include "layout/layout.h"
#include "layout/top.h"
#include "oracle/tops.h"

namespace sample {

namespace layout = motley::layout;

/// Greys f0, f1, ... from dark to light; with `colours` fewer than fabrics several are equally light.
inline std::vector<motley::palette::Fabric> fabrics(int many, int colours = 0) {
    std::vector<motley::palette::Fabric> made;
    const int lightnesses = colours > 0 ? colours : many;
    for (int f = 0; f < many; ++f) {
        motley::palette::Fabric fabric;
        fabric.id = fabric.name = fmt::format("f{}", f);
        fabric.colour = motley::palette::FabricColour{};
        fabric.colour->lab = {10 + 80.0 * (f % lightnesses) / lightnesses, 0, 0};
        made.push_back(fabric);
    }
    return made;
}

inline layout::Plan plan(const std::string& setting, const std::string& unit = R"({"finished": "6"})",
                         const std::string& more = {}) {
    const std::string text =
        fmt::format(R"({{"palette": "p", "setting": {}, "unit": {}{}}})", setting, unit, more);
    const motley::document::Json json = motley::document::parse(text, "plan.json");
    return layout::read_plan(motley::document::Node(json, "plan.json"));
}

/// Every patch a fabric of chance, every unit a turn of chance; of units from batches which lies where.
inline layout::Layout placed(layout::Plan plan, std::vector<motley::palette::Fabric> fabrics,
                             oracle::Dice& dice) {
    layout::Layout made;
    made.plan = std::move(plan);
    made.fabrics = std::move(fabrics);
    const int many = static_cast<int>(made.fabrics.size());
    const layout::Board board = made.plan.board();
    std::size_t places = 0;
    for (const motley::unit::Form& form : made.plan.forms()) places = std::max(places, form.patches.size());
    layout::Assignment& shown = made.assignment;
    shown.turns.resize(oracle::at(board.cells()));
    for (auto& turn : shown.turns) turn = static_cast<std::uint8_t>(dice.below(4));
    if (layout::sewn_in_batches(made.plan.sewn)) {
        const layout::Kit kit = layout::make_kit(made.plan.sewn, board.units(), made.plan.usable_width);
        for (std::size_t s = 0; s < kit.slots.size(); ++s)
            shown.slots.push_back(oracle::id(dice.below(many)));
        std::vector<int> units;
        for (std::size_t u = 0; u < kit.units.size(); ++u) units.push_back(static_cast<int>(u));
        dice.shuffle(units);
        std::size_t next = 0;
        for (int cell = 0; cell < board.cells(); ++cell)
            shown.units.push_back(board.present(cell) ? units[next++] : -1);
        layout::spell_out(kit, static_cast<int>(places), oracle::id(many), shown);
        return made;
    }
    for (int cell = 0; cell < board.cells(); ++cell)
        for (std::size_t p = 0; p < places; ++p)
            shown.patches.push_back(oracle::id(board.present(cell) ? dice.below(many) : many));
    return made;
}

/// A setting, and what its units are.
struct Case {
    std::string setting;
    std::string unit = R"({"finished": "6"})";
};

inline const std::vector<Case>& cases() {
    static const std::vector<Case> all{
        {R"({"columns": 5, "rows": 4})"},
        {R"({"columns": 1, "rows": 1})"},
        {R"({"columns": 1, "rows": 4, "borders": [{"width": "2", "fabric": "f1"}]})"},
        {R"({"columns": 4, "rows": 1})"},
        {R"({"columns": 5, "rows": 4, "alternate": "f3"})"},
        {R"({"columns": 4, "rows": 5, "arrangement": "on-point"})"},
        {R"({"columns": 5, "rows": 2, "arrangement": "on-point", "alternate": "f1",
             "borders": [{"width": "3", "fabric": "f2"}]})"},
        {R"({"columns": 3, "rows": 4, "arrangement": "on-point",
             "sashing": {"width": "1 1/2", "fabric": "f0", "cornerstone": ["f1", "f2"]}})"},
        {R"({"columns": 4, "rows": 2, "arrangement": "on-point", "sashing": {"width": "1", "fabric": "f0"}})"},
        {R"({"columns": 1, "rows": 3, "arrangement": "on-point"})"},
        {R"({"columns": 5, "rows": 4, "arrangement": "brick"})"},
        {R"({"columns": 4, "rows": 5, "sashing": {"width": "1", "fabric": "f0"}})"},
        {R"({"columns": 4, "rows": 3, "sashing": {"width": "1 1/4", "fabric": "f0", "around": true}})"},
        {R"({"columns": 4, "rows": 3, "sashing": {"width": "1", "fabric": "f0", "around": true,
             "cornerstone": "f1"}})"},
        {R"({"columns": 4, "rows": 3, "alternate": "f2", "sashing": {"width": "1", "fabric": "f0",
             "cornerstone": "f1"}})"},
        {R"({"columns": 5, "rows": 4, "borders": [{"width": "1", "fabric": "f0"},
             {"width": "4 1/2", "fabric": "f1", "corners": "mitred"},
             {"width": "2", "fabric": ["*"], "pieced": true},
             {"width": "3", "fabric": "f2", "corner": "f3"}]})"},
        {R"({"columns": 4, "rows": 4, "borders": [{"width": ["2", "3"], "fabric": "f0"},
             {"width": "2", "fabric": ["*"], "pieced": true, "corner": "f1"}]})"},
        {R"({"columns": 4, "rows": 4, "borders": [{"width": "6", "pieced": {"recipe": "half-square-triangle"}}]})"},
        {R"({"columns": 3, "rows": 3, "arrangement": "on-point"})", R"({"recipe": "half-square-triangle"})"},
        {R"({"columns": 4, "rows": 3})", R"({"recipe": "strip-set-triangle"})"},
        {R"({"columns": 5, "rows": 3, "arrangement": "brick"})", R"({"recipe": "four-patch"})"},
        {R"({"columns": 5, "rows": 3, "arrangement": "brick"})", R"({"recipe": "log-cabin"})"},
        {R"({"columns": 4, "rows": 4})", R"({"recipe": "rail"})"},
        {R"({"columns": 4, "rows": 4})", R"({"recipe": "half-square-triangle-eight"})"},
    };
    return all;
}

} // namespace sample
