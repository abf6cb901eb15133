// The layout: every patch with its fabric's letter, the key to the letters, the values.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"
#include "handout/sheets.h"

namespace motley::handout {

namespace {

using render::Side;

void key(const Writer& writer) {
    writer.pages.heading("Key to the letters");
    render::Table table{{{"Fabric", Side::left, true},
                         {"Value", Side::left},
                         {"Lightness", Side::right},
                         {"Units", Side::right},
                         {"Patches", Side::right},
                         {"Share of the top", Side::right}},
                        {}};
    std::vector<const cutting::FabricCount*> shown;
    for (const cutting::FabricCount& count : writer.of.counts)
        if (count.patches > 0) shown.push_back(&count);
    // By letter: the order of the letters is from dark to light.
    std::sort(shown.begin(), shown.end(),
              [&](const auto* a, const auto* b) { return writer.rank(a->fabric) < writer.rank(b->fabric); });
    const bool values = std::any_of(shown.begin(), shown.end(), [&](const cutting::FabricCount* count) {
        const palette::Fabric& fabric = writer.fabric(count->fabric);
        return fabric.value_said || fabric.colour->value;
    });
    if (!values) table.columns.erase(table.columns.begin() + 1);
    int patches = 0;
    for (const cutting::FabricCount* count : shown) {
        const palette::Fabric& fabric = writer.fabric(count->fabric);
        const auto value = fabric.value_said ? fabric.value_said : fabric.colour->value;
        table.rows.push_back({{{fabric.name, writer.swatch(count->fabric)},
                               {value ? std::string(colour::name(*value)) : std::string()},
                               {fmt::format("{:.0f}", fabric.colour->lab.l)},
                               {std::to_string(count->units)},
                               {std::to_string(count->patches)},
                               {fmt::format("{:.1f} %", count->share * 100)}}});
        if (!values) table.rows.back().cells.erase(table.rows.back().cells.begin() + 1);
        patches += count->patches;
    }
    render::TableRow sum{{{"In all"}, {""}, {""}, {""}, {std::to_string(patches)}, {"100 %"}}, true};
    if (!values) sum.cells.erase(sum.cells.begin() + 1);
    table.rows.push_back(std::move(sum));
    writer.pages.table(std::move(table));
}

} // namespace

void write_map(const Writer& writer) {
    render::Pages& pages = writer.pages;
    pages.part(names::map, 0.9);
    const bool diagonal = writer.of.assembly.rows.diagonal;
    pages.say(
        diagonal
            ? "Each letter is a fabric; the key follows. Numbers around the edge count the diagonal rows."
            : "Each letter is a fabric; the key follows. Rows are numbered from the top, columns from "
              "the left.");
    if (writer.of.assembly.cards.numbered)
        pages.say(
            "Framed in the corner of each unit stands the pile it comes from and which unit of that pile it "
            "is: 12-3 is unit 3 of pile 12. The cards of the piles draw them, not turned.");
    const double least = pages.large_print() ? 10 : 5.4;
    const double heading = pages.types().heading.size * 3;
    std::vector<render::MapSheet> sheets =
        render::map_sheets(writer.map(), pages.room(), pages.left() - pages.types().body.size * 1.2, least);
    if (sheets.size() > 1)
        sheets = render::map_sheets(writer.map(), pages.room(), pages.left() - heading, least);
    int bare = 0;
    for (const render::MapSheet& sheet : sheets) bare += render::unlettered(writer.map(), sheet, least);
    put_sheets(writer, sheets, [&](const render::MapSheet& sheet) {
        return render::draw_letters(
            writer.map(), sheet, least,
            "Map of the top: each patch with the letter of its fabric. The row lists under "
            "“Sewing the top” say the same in words.");
    });
    if (bare > 0)
        pages.small(fmt::format("{} too small for a letter; {} what {}.",
                                bare == 1 ? "One patch is" : fmt::format("{} patches are", bare),
                                writer.of.assembly.cards.makings.empty() ? "the lists of the rows name"
                                                                         : "the cards of the piles show",
                                bare == 1 ? "it is" : "they are"));
    key(writer);
    pages.heading("The values alone");
    pages.say(
        "Light and dark as they will lie. Squint at this: no clump should catch your eye that you did not "
        "plan.",
        true);
    // What is left of the page will do where it is a good part of it.
    const double words = pages.types().body.size * 9, left = pages.left() - words;
    const double high = left > pages.full_height() * 0.3 ? left : pages.full_height() * 0.5;
    pages.figure(render::draw_greys(writer.map(), pages.room() * 0.62,
                                    std::min(high, pages.full_height() * 0.5),
                                    "The top in greys: the lightness of each fabric."));
}

} // namespace motley::handout
