// Sewing the units: the recipe's steps, each with its drawing; cards for piles that are sewn together.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"
#include "render/diagram_steps.h"

namespace motley::handout {

namespace {

using render::BlockPtr;
using render::Text;

void legend(const Writer& writer) {
    render::Table table{{{"In the drawings", render::Side::left, true}, {"Cut", render::Side::left, true}},
                        {}};
    const unit::Sewn& sewn = writer.of.sewn;
    for (std::size_t i = 0; i < sewn.inputs.size(); ++i) {
        const unit::Input& input = sewn.inputs[i];
        const int number = static_cast<int>(i);
        const bool strip = input.shape == unit::Cut::strip;
        table.rows.push_back(
            {{{capital(input.name), render::Swatch{render::step_tint(number), std::to_string(number + 1)}},
              {strip ? fmt::format("strip {} wide", writer.length(input.width_cut))
                     : fmt::format("{}, {}", input.where_from.empty() ? "piece" : input.where_from,
                                   writer.sides(input.width_cut, input.height_cut))}}});
    }
    writer.pages.table(std::move(table));
}

} // namespace

void caution_needles(const Writer& writer) {
    writer.pages.caution(
        "Count pins and needles before and after; keep them, and thread, away from children and pets.");
}

void write_units(const Writer& writer) {
    const unit::Sewn& sewn = writer.of.sewn;
    if (!units_are_sewn(sewn)) return;
    render::Pages& pages = writer.pages;
    pages.part(names::units);
    const int copies = static_cast<int>(sewn.copies.size());
    pages.say(fmt::format("{}: these steps make {}, {} finished. The top takes {}. All seams are {}.",
                          capital(writer.of.recipe), counted(copies, "unit"),
                          writer.length(writer.plan().finished), writer.of.cutting.take_off.units,
                          measure::print_set(writer.plan().seam, writer.plan().measure)));
    caution_needles(writer);
    legend(writer);
    for (const unit::Step& step : sewn.steps)
        pages.card(
            [&](double width) {
                std::vector<BlockPtr> blocks;
                const render::Type& type = pages.types().body;
                Text words = step.text;
                if (!step.outcome.empty()) words.add(" ").strong(step.outcome);
                blocks.push_back(render::item_block(render::strong(fmt::format("{}.", step.number)),
                                                    std::move(words), type, type.size * 1.9, width));
                return blocks;
            },
            [&](double width) { return render::draw_step_lines(step, width, writer.drawing_type()); }, 0.42);
}

namespace {

BlockPtr set_card(const Writer& writer, const assembly::SetCard& card, double width) {
    const render::PageTypes& types = writer.pages.types();
    const double pad = types.body.size * 0.9, inside = width - 2 * pad;
    std::vector<BlockPtr> blocks;
    blocks.push_back(render::text_block(
        Text()
            .strong(fmt::format("Set {}", card.number))
            .add(fmt::format(", sew {}",
                             card.sets == 1 ? std::string("once") : fmt::format("{} alike", card.sets))),
        types.heading, inside, "H3"));
    std::vector<render::DrawnStrip> strips;
    std::string alt = "Strips from the top: ";
    const double seam = writer.plan().seam.in_inches();
    for (std::size_t i = 0; i < card.strips.size(); ++i) {
        const assembly::Ingredient& strip = card.strips[i];
        const double hidden = i == 0 || i + 1 == card.strips.size() ? seam : 2 * seam;
        strips.push_back({std::max(0.1, strip.width.in_inches() - (card.strips.size() == 1 ? 0 : hidden)),
                          writer.ink(strip.fabric), strip.letter});
        alt += strip.letter + ", ";
    }
    blocks.push_back(render::figure_block(
        render::draw_strip_set(strips, card.section.in_inches(), 2, inside, types.body.size * 12, alt)));
    std::vector<std::string> cut;
    for (const assembly::Ingredient& strip : card.strips)
        cut.push_back(fmt::format("{} {}, {}", strip.letter, writer.fabric(strip.fabric).name,
                                  writer.length(strip.width)));
    blocks.push_back(render::text_block(fmt::format("{}.", fmt::join(cut, "; ")), types.small, inside));
    for (const std::string& line : card.lines) {
        // What a pile is sewn to stands on the pile's own card.
        const auto& makings = writer.of.assembly.cards.makings;
        if (std::none_of(makings.begin(), makings.end(),
                         [&](const auto& making) { return making.text == line; }))
            blocks.push_back(render::text_block(line, types.body, inside));
    }
    return render::boxed(render::stack(std::move(blocks), types.body.size * 0.45), width, pad, std::nullopt,
                         {0.7, render::inks::hairline});
}

BlockPtr making_card(const Writer& writer, const assembly::MakingCard& card, double width) {
    const render::PageTypes& types = writer.pages.types();
    const double pad = types.body.size * 0.9, inside = width - 2 * pad;
    std::vector<BlockPtr> blocks;
    blocks.push_back(render::text_block(Text()
                                            .strong(fmt::format("Pile {}", card.number))
                                            .add(fmt::format(", {}", counted(card.units, "unit"))),
                                        types.heading, inside, "H3"));
    std::vector<BlockPtr> chips;
    const double side = types.heading.size * 1.5;
    double used = 0;
    for (const assembly::Ingredient& part : card.ingredients) {
        used += side + 4;
        if (used > inside) break; // The words name them all.
        chips.push_back(
            render::ornament(side, side, [swatch = writer.swatch(part.fabric), side](render::Canvas& canvas) {
                draw_swatch(canvas, swatch, {0, 0}, side);
            }));
    }
    blocks.push_back(render::beside(std::move(chips), 4));
    blocks.push_back(render::text_block(card.text, types.body, inside));
    return render::boxed(render::stack(std::move(blocks), types.body.size * 0.45), width, pad, std::nullopt,
                         {0.7, render::inks::hairline});
}

/// Two beside each other where the print is small.
void put_cards(const Writer& writer, std::size_t count, const auto& card) {
    render::Pages& pages = writer.pages;
    const std::size_t columns = pages.large_print() ? 1 : 2;
    const double gap = 14, width = columns == 1 ? pages.room() : (pages.room() - gap) / 2;
    for (std::size_t i = 0; i < count; i += columns) {
        std::vector<BlockPtr> row;
        for (std::size_t k = i; k < std::min(i + columns, count); ++k) row.push_back(card(k, width));
        pages.put(render::beside(std::move(row), gap), gap);
    }
}

} // namespace

void write_sets(const Writer& writer) {
    const assembly::Cards& cards = writer.of.assembly.cards;
    if (cards.sets.empty() && cards.makings.empty()) return;
    render::Pages& pages = writer.pages;
    pages.part(names::sets);
    pages.say("Lay each pile of cut cloth on its card. Letters are those of the layout.");
    if (!cards.sets.empty()) {
        pages.heading("Strip sets");
        put_cards(writer, cards.sets.size(),
                  [&](std::size_t k, double width) { return set_card(writer, cards.sets[k], width); });
    }
    if (!cards.makings.empty()) {
        pages.heading("Units from one pile");
        put_cards(writer, cards.makings.size(),
                  [&](std::size_t k, double width) { return making_card(writer, cards.makings[k], width); });
    }
}

} // namespace motley::handout
