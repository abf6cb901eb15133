// Finishing, and the same quilt in other sizes.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"

namespace motley::handout {

namespace {

using render::Side;

void backing(const Writer& writer) {
    const cutting::BackingPlan& plan = writer.of.finishing.backing;
    const layout::Backing& asked = writer.plan().making_up.finish.backing;
    std::string words = fmt::format("The backing measures at least {}: the top and {} on every side. ",
                                    writer.sides(plan.width, plan.height), writer.length(asked.overhang));
    words += plan.panels == 1
                 ? fmt::format("One panel of {} is enough, from cloth {} wide. ", writer.length(plan.panel),
                               writer.length(asked.width))
                 : fmt::format(
                       "Cut {} of {} from cloth {} wide and join them with {} seams that run {} the quilt. ",
                       counted(plan.panels, "panel"), writer.length(plan.panel), writer.length(asked.width),
                       writer.length(asked.seam), plan.along ? "down" : "across");
    words += fmt::format("Buy {}", writer.cloth(plan.buy));
    words += plan.other_buy > plan.buy ? fmt::format("; with the panels the other way it would be {}.",
                                                     writer.cloth(plan.other_buy))
                                       : ".";
    writer.pages.item("1.", render::Text().strong("Backing. ").add(words));
}

} // namespace

void write_finishing(const Writer& writer) {
    render::Pages& pages = writer.pages;
    const layout::Finish& asked = writer.plan().making_up.finish;
    const cutting::FinishingPlan& plan = writer.of.finishing;
    pages.part(names::finishing);
    backing(writer);
    pages.item(
        "2.",
        render::Text()
            .strong("Batting. ")
            .add(fmt::format(
                "One piece of {}. Lay backing, batting and top on each other, smooth them from the middle, "
                "baste, and quilt.",
                writer.sides(plan.batting_width, plan.batting_height))));
    pages.item(
        "3.",
        render::Text()
            .strong("Binding. ")
            .add(fmt::format(
                "Cut {} {} wide across the cloth ({}), join them on the diagonal, press in half along the "
                "length, and sew on double. The way round, with the corners and the last join, takes {}.",
                counted(plan.binding.strips, "strip"), writer.length(asked.binding.width),
                writer.cloth(plan.binding.buy), writer.length(plan.binding.around))));
    if (asked.label.empty())
        pages.item("4.",
                   render::Text().strong("Label. ").add("Sign it: who made it, for whom, where and when."));
    else
        pages.item("4.", render::Text().strong("Label. ").add(asked.label));
}

void write_sizes(const Writer& writer) {
    if (writer.of.sizes.empty()) return;
    render::Pages& pages = writer.pages;
    // The table and its caution stay together.
    const double lines = static_cast<double>(writer.of.sizes.size()) * pages.types().table.size * 1.9;
    pages.part(names::sizes, std::min(0.9, (lines + 16 * pages.types().body.size) / pages.full_height()));
    pages.say(
        "The same quilt planned anew at each size, from the same fabrics, nothing taken from what is on "
        "hand.");
    render::Table table{{{"Size", Side::left, true},
                         {"Finished", Side::left, true},
                         {"Units", Side::left},
                         {"Pieces to cut", Side::right},
                         {"Cloth", Side::right},
                         {"Backing", Side::right},
                         {"Binding", Side::right},
                         {"Batting", Side::left, true}},
                        {}};
    std::vector<std::string> troubles;
    bool infant = false;
    for (const cutting::SizeRow& row : writer.of.sizes) {
        if (!row.trouble.empty()) {
            troubles.push_back(fmt::format("{}: {}", capital(row.asked.name), row.trouble));
            continue;
        }
        infant = infant || row.asked.infant;
        table.rows.push_back({{{render::strong(capital(row.asked.name))},
                               {writer.sides(row.width, row.height)},
                               {fmt::format("{} × {} = {}", row.columns, row.rows, row.units)},
                               {std::to_string(row.pieces)},
                               {writer.cloth(row.cloth)},
                               {writer.cloth(row.backing_buy)},
                               {row.binding_buy.ticks > 0
                                    ? fmt::format("{}, {}", row.binding_strips, writer.cloth(row.binding_buy))
                                    : std::to_string(row.binding_strips)},
                               {writer.sides(row.batting_width, row.batting_height)}}});
    }
    if (!table.rows.empty()) pages.table(std::move(table));
    std::vector<std::string> beds;
    for (const cutting::SizeRow& row : writer.of.sizes)
        if (row.asked.mattress)
            beds.push_back(fmt::format("{} {} with a drop of {}", row.asked.name,
                                       writer.sides(row.asked.width, row.asked.length),
                                       writer.length(row.asked.drop)));
    if (!beds.empty())
        pages.small(
            fmt::format("Mattresses: {}. Measure yours; they differ. Binding: strips, and cloth where it is "
                        "not one of the top's fabrics.",
                        fmt::join(beds, "; ")));
    for (const std::string& trouble : troubles) pages.item("•", trouble);
    if (infant)
        pages.caution(
            "Loose bedding, quilts among it, does not belong in an infant's sleeping place. A crib quilt is "
            "for the floor, the wall or the carriage under your eyes; follow the safety rules of where you "
            "live.");
}

} // namespace motley::handout
