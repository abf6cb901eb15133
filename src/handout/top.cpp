// Sewing the top: the steps with what everything measures, the rows with their pieces.
#include <fmt/format.h>

#include <algorithm>

#include "handout/codes.h"
#include "handout/part.h"

namespace motley::handout {

namespace {

using render::Side;

bool equally_large(const assembly::Rows& rows) {
    return std::all_of(rows.rows.begin(), rows.rows.end(), [&](const assembly::Row& row) {
        return row.raw_width == rows.rows[0].raw_width && row.raw_height == rows.rows[0].raw_height;
    });
}

/// Rows with the same note together.
void notes(const Writer& writer) {
    std::vector<std::pair<std::string, std::vector<std::string>>> notes;
    for (const assembly::Row& row : writer.of.assembly.rows.rows) {
        if (row.note.empty()) continue;
        auto same = std::find_if(notes.begin(), notes.end(),
                                 [&](const auto& note) { return note.first == row.note; });
        if (same == notes.end()) same = notes.insert(notes.end(), {row.note, {}});
        same->second.push_back(row.name);
    }
    for (const auto& [note, names] : notes)
        writer.pages.item("•", render::Text().strong(fmt::format("{}. ", fmt::join(names, ", "))).add(note));
}

/// Whether the lists of rows say it too.
bool said_with_a_row(const Writer& writer, const std::string& caution) {
    const auto& rows = writer.of.assembly.rows.rows;
    return std::any_of(rows.begin(), rows.end(), [&](const assembly::Row& row) {
        return !row.note.empty() && caution.find(row.note) != std::string::npos;
    });
}

void rows_table(const Writer& writer, const Codes& codes) {
    const assembly::Rows& rows = writer.of.assembly.rows;
    const bool alike = equally_large(rows);
    render::Table table{{{rows.diagonal ? "Diagonal row" : "Row", Side::left},
                         {"From left to right", Side::left, true},
                         {"Pick", Side::left, true}},
                        {}};
    if (!alike) table.columns.push_back({"Should measure", Side::left});
    for (const assembly::Row& row : rows.rows) {
        render::TableRow line{{{render::strong(row.sashing ? row.name : std::to_string(row.number))},
                               {codes.sequence(row)},
                               {codes.picks(row)}}};
        if (!alike) line.cells.push_back({writer.sides(row.raw_width, row.raw_height)});
        table.rows.push_back(std::move(line));
    }
    std::string words =
        codes.piles()     ? writer.of.assembly.cards.numbered
                                ? "12-3 is unit 3 of pile 12, as its card draws it; the layout shows how each "
                                  "is turned. "
                                : "Numbers are those of the piles the units come from; the layout shows how "
                                  "each is turned. "
        : codes.numbers() ? "Numbers are those of the table of units below; the layout shows how each is "
                            "turned. "
                          : "";
    if (alike && !rows.rows.empty())
        words += fmt::format("Each row should measure {}.",
                             writer.sides(rows.rows[0].raw_width, rows.rows[0].raw_height));
    if (!words.empty()) writer.pages.say(words);
    writer.pages.table(std::move(table));
    notes(writer);
}

/// Everything that lies in the rows, in columns beside each other. A unit of one patch is its fabric: the key
/// to the letters counts those; units from piles stand on the cards.
void kinds_table(const Writer& writer, const Codes& codes) {
    const assembly::Rows& rows = writer.of.assembly.rows;
    std::vector<int> told;
    for (std::size_t k = 0; k < rows.kinds.size(); ++k)
        if (rows.kinds[k].part != layout::Part::unit || (rows.kinds[k].fabrics.size() > 1 && !codes.piles()))
            told.push_back(static_cast<int>(k));
    if (told.empty()) return;
    writer.pages.heading("What lies in the rows");
    const bool spelled = codes.numbers() || codes.piles();
    const std::size_t columns = writer.pages.large_print() || codes.numbers() ? 1 : spelled ? 3 : 6;
    const std::size_t high = (told.size() + columns - 1) / columns;
    render::Table table;
    table.columns.assign(columns, {"", Side::left, true});
    for (std::size_t r = 0; r < high; ++r) {
        render::TableRow row;
        for (std::size_t c = 0; c < columns; ++c) {
            const std::size_t at = c * high + r;
            render::Text words;
            if (at < told.size()) {
                const assembly::Kind& kind = rows.kinds[static_cast<std::size_t>(told[at])];
                const bool unit = kind.part == layout::Part::unit;
                words.add(fmt::format("{} × ", kind.count));
                if (unit && codes.numbers()) words.strong(codes.of_kind(told[at])).add(": ");
                // What kind of unit it is goes without saying where all are of one.
                words.add(unit && kind.form == 0 && !spelled ? kind.code : kind.name);
            }
            row.cells.push_back({std::move(words)});
        }
        table.rows.push_back(std::move(row));
    }
    writer.pages.table(std::move(table));
}

} // namespace

void write_top(const Writer& writer) {
    render::Pages& pages = writer.pages;
    const assembly::Assembly& assembly = writer.of.assembly;
    pages.part(names::top, 0.33);
    if (!has_units(writer.of)) caution_needles(writer);
    for (const assembly::AssemblyStep& step : assembly.steps) {
        render::Text words = render::strong(step.title + ". ");
        words.add(step.text);
        if (!step.outcome.empty()) words.add(" ").strong(step.outcome);
        pages.item(fmt::format("{}.", step.number), std::move(words));
        for (const std::string& caution : step.cautions)
            if (!said_with_a_row(writer, caution)) pages.caution(caution);
    }
    const Codes codes(writer.of);
    pages.heading(assembly.rows.diagonal ? "Diagonal rows" : "Row by row");
    rows_table(writer, codes);
    kinds_table(writer, codes);
}

} // namespace motley::handout
