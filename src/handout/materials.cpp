// What you need: what to buy, what the stock gives, what may be bought instead.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"

namespace motley::handout {

namespace {

using render::Cell;
using render::Side;

std::string narrow_buy(const Writer& writer, const cutting::BuyLine& line) {
    return line.narrow_buy ? writer.cloth(*line.narrow_buy) : "not possible";
}

void buying_table(const Writer& writer) {
    const cutting::BuyingList& list = writer.of.buying;
    // A column for a price or two would be dashes: those are told below.
    int bought = 0;
    std::vector<std::string> known;
    for (const cutting::BuyLine& line : list.lines) {
        bought += line.buy.ticks > 0;
        if (line.price && line.buy.ticks > 0)
            known.push_back(fmt::format("{} {}", line.what, writer.price(*line.price)));
    }
    const bool prices = !known.empty() && 2 * static_cast<int>(known.size()) >= bought;
    render::Table table{{{"Cloth", Side::left, true},
                         {"Cutting takes", Side::right},
                         {"Buy", Side::right},
                         {"Spare", Side::right},
                         {"Buy if only " + writer.length(list.narrow_width) + " wide", Side::right}},
                        {}};
    if (prices) table.columns.push_back({"Price", Side::right});
    for (const cutting::BuyLine& line : list.lines) {
        const bool on_hand = line.buy.ticks == 0 && (!line.narrow_buy || line.narrow_buy->ticks == 0);
        if (on_hand) continue; // Told with the stock.
        render::TableRow row;
        Cell name{line.id.empty() ? capital(line.what) : line.what};
        for (std::size_t f = 0; f < writer.of.layout.fabrics.size(); ++f)
            if (!line.id.empty() && writer.of.layout.fabrics[f].id == line.id)
                name.swatch = writer.swatch(palette::FabricId{static_cast<std::uint16_t>(f)});
        if (line.from_stock) name.text.add(line.buy.ticks == 0 ? ", from what is on hand" : ", part on hand");
        row.cells = {name,
                     {line.length.ticks == 0 ? "–" : writer.length(line.length)},
                     {line.buy.ticks == 0 ? "–" : writer.cloth(line.buy)},
                     {line.buy.ticks == 0 ? "–" : writer.length(line.spare)},
                     {line.narrow_buy && line.narrow_buy->ticks == 0 ? "–" : narrow_buy(writer, line)}};
        if (prices) row.cells.push_back({line.price ? writer.price(*line.price) : "–"});
        table.rows.push_back(std::move(row));
    }
    render::TableRow sum{{{"In all"}, {""}, {writer.cloth(list.total)}, {""}, {""}}, true};
    if (prices) sum.cells.push_back({list.cost ? writer.price(*list.cost) : ""});
    table.rows.push_back(std::move(sum));
    const std::size_t on_hand = list.lines.size() + 1 - table.rows.size();
    writer.pages.table(std::move(table));
    if (!prices && !known.empty())
        writer.pages.small(fmt::format("Prices known: {}.", fmt::join(known, ", ")));
    if (on_hand > 0)
        writer.pages.small(
            fmt::format("Of {} everything is on hand; see below.",
                        on_hand == 1 ? "one more fabric" : fmt::format("{} more fabrics", on_hand)));
}

/// What the figures of the table rest on.
void assumptions(const Writer& writer) {
    const layout::Cloth& cloth = writer.plan().making_up.cloth;
    const cutting::BuyingList& list = writer.of.buying;
    std::string words = fmt::format(
        "For cloth of {} usable width, sold in steps of {}.", writer.length(list.usable_width),
        writer.cloth(cloth.step.ticks > 0 ? cloth.step : cutting::usual_step(writer.plan().measure)));
    words +=
        cloth.slack.ticks > 0
            ? fmt::format(" Slack: of each, {} more than the cutting takes is bought.",
                          writer.length(cloth.slack))
            : " Slack: none. What is spare comes only of the shop's steps; with nothing to spare a slip of "
              "the cutter means another trip to the shop.";
    if (cloth.ends.ticks > 0)
        words += fmt::format(" {} is counted for squaring the end of each piece.", writer.length(cloth.ends));
    if (cloth.shrinkage > 0)
        words += fmt::format(" The cloth is washed first and shrinks by {} percent, which is added.",
                             cloth.shrinkage);
    writer.pages.small(words);
    std::vector<std::string> open;
    for (const cutting::BuyLine& line : list.lines)
        if (!line.proved && line.buy.ticks > 0) open.push_back(line.what);
    writer.pages.small(
        open.empty()
            ? std::string("No way of cutting takes less from the shop, of any of these: that is proved.")
            : fmt::format("That no way of cutting buys less is proved for all but {}.",
                          fmt::join(open, ", ")));
}

/// Why a piece of stock is not cut, in brackets; empty where all of it is.
std::string left_whole(const cutting::FabricCuts& cuts, const cutting::Sheet& sheet) {
    const auto number = &sheet - cuts.list.sheets.data();
    const auto cut = static_cast<int>(std::count_if(
        cuts.plan.sheets.begin(), cuts.plan.sheets.end(),
        [&](const cutting::SheetCuts& one) { return one.sheet == number && !one.strips.empty(); }));
    if (cut == sheet.count) return {};
    const bool fits = std::any_of(
        cuts.list.pieces.begin(), cuts.list.pieces.end(), [&](const cutting::CutListPiece& piece) {
            return (piece.width <= sheet.width && piece.height <= sheet.length) ||
                   (piece.turn && piece.height <= sheet.width && piece.width <= sheet.length);
        });
    const char* why = !fits             ? "too small for any piece"
                      : cuts.bought > 0 ? "what must be bought holds what it could give"
                                        : "not needed";
    return cut == 0 ? fmt::format(" ({})", why) : fmt::format(" ({} cut; the rest {})", cut, why);
}

void stock_table(const Writer& writer) {
    render::Table table{{{"Fabric", Side::left, true},
                         {"On hand", Side::left, true},
                         {"Pieces cut from it", Side::right},
                         {"Pieces cut from what is bought", Side::right}},
                        {}};
    for (const cutting::FabricCuts& cuts : writer.of.cutting.fabrics) {
        if (!cuts.by_stock) continue;
        std::vector<std::string> stock;
        for (const cutting::Sheet& sheet : cuts.list.sheets)
            stock.push_back(fmt::format("{} {}{}", counted_stock(sheet.count, sheet.name),
                                        writer.sides(sheet.width, sheet.length), left_whole(cuts, sheet)));
        table.rows.push_back({{{writer.fabric(cuts.fabric).name, writer.swatch(cuts.fabric)},
                               {fmt::format("{}", fmt::join(stock, "; "))},
                               {std::to_string(cuts.from_stock)},
                               {std::to_string(cuts.bought)}}});
    }
    if (table.rows.empty()) return;
    writer.pages.heading("On hand, and used first");
    writer.pages.table(std::move(table));
}

void precuts_table(const Writer& writer) {
    if (writer.of.buying.precuts.empty()) return;
    writer.pages.heading("Precut cloth instead");
    writer.pages.say(
        "Where you would rather not cut yardage, these give the same pieces. One line is enough for "
        "its pieces; choose packs with enough different fabrics.");
    render::Table table{{{"Pack", Side::left, true},
                         {"Gives", Side::left, true},
                         {"From each", Side::right},
                         {"Wanted", Side::right},
                         {"Takes", Side::right},
                         {"Packs", Side::right}},
                        {}};
    for (const cutting::Precut& precut : writer.of.buying.precuts)
        table.rows.push_back({{{capital(precut.name)},
                               {precut.piece},
                               {std::to_string(precut.each)},
                               {std::to_string(precut.wanted)},
                               {std::to_string(precut.cuts)},
                               {std::to_string(precut.packs)}}});
    writer.pages.table(std::move(table));
}

} // namespace

void write_materials(const Writer& writer) {
    render::Pages& pages = writer.pages;
    pages.part(names::materials);
    buying_table(writer);
    assumptions(writer);
    pages.say(
        fmt::format("Batting: one piece, {}. Besides: thread, a rotary cutter with mat and ruler, an iron, "
                    "pins, and a label.",
                    writer.sides(writer.of.buying.batting_width, writer.of.buying.batting_height)));
    pages.caution(
        "New dark and red cloth may run. Wet a corner, press it on something white, and wash what "
        "leaves a mark before you cut it.");
    stock_table(writer);
    precuts_table(writer);
}

} // namespace motley::handout
