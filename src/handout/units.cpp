// Sewing the units: the recipe's steps, each with its drawing; cards for piles that are sewn together.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"
#include "render/diagram_steps.h"

namespace motley::handout {

namespace {

using render::BlockPtr;
using render::Text;

void legend(const Writer& writer, const unit::Sewn& sewn) {
    render::Table table{{{"In the drawings", render::Side::left, true}, {"Cut", render::Side::left, true}},
                        {}};
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

void steps(const Writer& writer, const unit::Sewn& sewn) {
    render::Pages& pages = writer.pages;
    legend(writer, sewn);
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

void say_units(const Writer& writer, const std::string& recipe, const unit::Sewn& sewn,
               measure::Length finished, const std::string& takes) {
    writer.pages.say(fmt::format("{}: these steps make {}, {} finished. {}. All seams are {}.",
                                 capital(recipe), counted(static_cast<int>(sewn.copies.size()), "unit"),
                                 writer.length(finished), takes,
                                 measure::print_set(writer.plan().seam, writer.plan().measure)));
}

void units_of_border(const Writer& writer, const BorderUnits& of) {
    const layout::Border& border = writer.plan().setting.borders.at(static_cast<std::size_t>(of.border));
    writer.pages.heading(fmt::format("The units of border {}", of.border + 1));
    say_units(
        writer, of.recipe, of.sewn, border.width,
        fmt::format("Border {} takes {}; the layout shows the fabrics of each", of.border + 1, of.units));
    steps(writer, of.sewn);
}

} // namespace

void caution_needles(const Writer& writer) {
    writer.pages.caution(
        "Count pins and needles before and after; keep them, and thread, away from children and pets.");
}

void write_units(const Writer& writer) {
    if (!has_units(writer.of)) return;
    render::Pages& pages = writer.pages;
    pages.part(names::units);
    caution_needles(writer);
    if (units_are_sewn(writer.of.sewn)) {
        if (!writer.of.border_units.empty()) pages.heading("The units of the rows");
        say_units(writer, writer.of.recipe, writer.of.sewn, writer.plan().finished,
                  fmt::format("The top takes {}", writer.of.cutting.take_off.units));
        steps(writer, writer.of.sewn);
    }
    for (const BorderUnits& border : writer.of.border_units) units_of_border(writer, border);
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

/// The different units of a pile with their numbers, at turn 0.
render::Figure draw_units(const Writer& writer, const assembly::MakingCard& card, double width) {
    const double type = writer.pages.types().body.size, gap = type;
    const auto many = static_cast<double>(card.kinds.size());
    const double side = std::min(type * 4.6, (width - gap * (many - 1)) / many);
    std::vector<std::string> alt;
    for (const assembly::PileUnit& kind : card.kinds) {
        const auto& patches = writer.plan().forms().at(static_cast<std::size_t>(kind.form)).patches;
        std::vector<std::string> shows;
        for (const unit::Patch& patch : patches)
            shows.push_back(card.ingredients.at(static_cast<std::size_t>(patch.input)).letter);
        alt.push_back(fmt::format("unit {} shows {}", kind.number, fmt::join(shows, ", ")));
    }
    return {.width = width,
            .height = side + type * 1.3,
            .draw =
                [&writer, &card, side, gap, type](render::Canvas& canvas) {
                    double x = 0;
                    for (const assembly::PileUnit& kind : card.kinds) {
                        const auto& form = writer.plan().forms().at(static_cast<std::size_t>(kind.form));
                        for (const unit::Patch& patch : form.patches) {
                            std::vector<unit::Point> outline;
                            for (const unit::Point p : patch.outline)
                                outline.push_back({x + p.x * side, p.y * side});
                            const auto& part = card.ingredients.at(static_cast<std::size_t>(patch.input));
                            canvas.outline(outline, writer.ink(part.fabric), {0.4, render::inks::text});
                        }
                        canvas.write({x + side / 2, side + type * 1.1}, std::to_string(kind.number),
                                     {.size = type, .bold = true, .side = render::Side::middle},
                                     render::Hold::baseline);
                        x += side + gap;
                    }
                },
            .alt = fmt::format("The different units of pile {}: {}.", card.number, fmt::join(alt, "; "))};
}

/// The pile's number and the chips of its fabrics, beside each other where that leaves the number room.
void pile_title(const Writer& writer, const assembly::MakingCard& card, double inside,
                std::vector<BlockPtr>& blocks) {
    const render::PageTypes& types = writer.pages.types();
    constexpr double gap = 4;
    const double side = types.heading.size * 1.5, least = types.heading.size * 9;
    std::vector<BlockPtr> chips;
    double used = 0;
    for (const assembly::Ingredient& part : card.ingredients) {
        if (used + side > inside) break; // The words name them all.
        used += side + gap;
        chips.push_back(
            render::ornament(side, side, [swatch = writer.swatch(part.fabric), side](render::Canvas& canvas) {
                draw_swatch(canvas, swatch, {0, 0}, side);
            }));
    }
    const bool one_line = used + least <= inside;
    BlockPtr title = render::text_block(Text()
                                            .strong(fmt::format("Pile {}", card.number))
                                            .add(fmt::format(", {}", counted(card.units, "unit"))),
                                        types.heading, one_line ? inside - used - gap : inside, "H3");
    if (one_line) {
        chips.push_back(std::move(title));
    } else {
        blocks.push_back(std::move(title));
    }
    blocks.push_back(render::beside(std::move(chips), gap));
}

BlockPtr making_card(const Writer& writer, const assembly::MakingCard& card, double width) {
    const render::PageTypes& types = writer.pages.types();
    const double pad = types.body.size * (writer.pages.large_print() ? 0.5 : 0.9), inside = width - 2 * pad;
    std::vector<BlockPtr> blocks;
    pile_title(writer, card, inside, blocks);
    if (card.kinds.size() > 1) blocks.push_back(render::figure_block(draw_units(writer, card, inside)));
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
    pages.say(std::string("Lay each pile of cut cloth on its card. Letters are those of the layout.") +
              (cards.numbered
                   ? " A pile gives different units, drawn with their numbers on its card; lay them "
                     "apart. The layout and the lists of rows call unit 3 of pile 12 “12-3”."
                   : ""));
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
