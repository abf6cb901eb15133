// Finishing, and the same quilt in other sizes.
#include <fmt/format.h>

#include <algorithm>

#include "handout/part.h"

namespace motley::handout {

namespace {

using render::Side;

/// The fabric of the palette that the plan names, or null.
const palette::Fabric* chosen(const Writer& writer, const std::string& id) {
    const auto& fabrics = writer.of.layout.fabrics;
    const auto found =
        std::find_if(fabrics.begin(), fabrics.end(), [&](const auto& fabric) { return fabric.id == id; });
    return id.empty() || found == fabrics.end() ? nullptr : &*found;
}

/// "A Harbour blue".
std::string named(const Writer& writer, const palette::Fabric& fabric) {
    const auto at = static_cast<std::size_t>(&fabric - writer.of.layout.fabrics.data());
    return fmt::format("{} {}", writer.of.assembly.letters.at(at), fabric.name);
}

void binding(const Writer& writer) {
    const cutting::BindingPlan& plan = writer.of.finishing.binding;
    const layout::Binding& asked = writer.plan().making_up.finish.binding;
    const std::string strips =
        fmt::format("{} {} wide", counted(plan.strips, "strip"), writer.length(asked.width));
    const palette::Fabric* fabric = chosen(writer, asked.fabric);
    const std::string first =
        fabric ? fmt::format(
                     "Take the {} of {}: they stand on its card under “{}” and are counted there, "
                     "nothing more is bought for them.",
                     strips, named(writer, *fabric), names::cutting)
               : fmt::format(
                     "The plan names no fabric for it. Cut {} across the cloth of your choice, {}, "
                     "which “{}” lists.",
                     strips, writer.cloth(plan.buy), names::materials);
    writer.pages.item(
        "3.",
        render::Text()
            .strong("Binding. ")
            .add(fmt::format(
                "{} Join them on the diagonal, press in half along the length, and sew on double. The way "
                "round, with the corners and the last join, takes {}.",
                first, writer.length(plan.around))));
}

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
    const palette::Fabric* fabric = chosen(writer, asked.fabric);
    words +=
        fabric ? fmt::format("Its fabric is {}; buy {} of it", named(writer, *fabric), writer.cloth(plan.buy))
               : fmt::format("The plan names no fabric for it; buy {}", writer.cloth(plan.buy));
    words += plan.other_buy > plan.buy ? fmt::format("; with the panels the other way it would be {}.",
                                                     writer.cloth(plan.other_buy))
                                       : ".";
    writer.pages.item("1.", render::Text().strong("Backing. ").add(words));
}

/// "8 × 11 = 88"; on point and as bricks there are more or fewer than that.
std::string units_of(const Writer& writer, const cutting::SizeRow& row) {
    if (row.columns * row.rows == row.units)
        return fmt::format("{} × {} = {}", row.columns, row.rows, row.units);
    const layout::Arrangement how = writer.plan().setting.arrangement;
    return fmt::format("{}: {} × {}{}", row.units, row.columns, row.rows,
                       how == layout::Arrangement::on_point ? " on point"
                       : how == layout::Arrangement::brick  ? " as bricks"
                                                            : ", plain blocks between");
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
    binding(writer);
    if (asked.label.empty())
        pages.item("4.",
                   render::Text().strong("Label. ").add("Sign it: who made it, for whom, where and when."));
    else
        pages.item("4.", render::Text().strong("Label. ").add(asked.label));
}

void write_sizes(const Writer& writer) {
    if (writer.of.sizes.empty()) return;
    render::Pages& pages = writer.pages;
    // The table, its caution and its remarks stay together.
    const double lines = static_cast<double>(writer.of.sizes.size()) * pages.types().table.size * 1.9;
    pages.part(names::sizes, std::min(0.9, (lines + 21 * pages.types().body.size) / pages.full_height()));
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
                               {units_of(writer, row)},
                               {std::to_string(row.pieces)},
                               {writer.cloth(row.cloth)},
                               {writer.cloth(row.backing_buy)},
                               {row.binding_buy.ticks > 0
                                    ? fmt::format("{}, {}", row.binding_strips, writer.cloth(row.binding_buy))
                                    : std::to_string(row.binding_strips)},
                               {writer.sides(row.batting_width, row.batting_height)}}});
    }
    if (infant)
        pages.caution(
            "Loose bedding, quilts among it, does not belong in an infant's sleeping place. A crib quilt is "
            "for the floor, the wall or the carriage under your eyes; follow the safety rules of where you "
            "live.");
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
}

} // namespace motley::handout
