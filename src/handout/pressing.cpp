// Pressing: the rules, the map of the seams, what could not be had.
#include "handout/part.h"
#include "handout/sheets.h"

namespace motley::handout {

void write_pressing(const Writer& writer) {
    render::Pages& pages = writer.pages;
    const assembly::Pressing& pressing = writer.of.assembly.pressing;
    pages.part(names::pressing, 0.9);
    for (const std::string& rule : pressing.rules) pages.say(rule);
    pages.caution("Never leave a hot iron on or within reach of children; let it stand until it is cold.");
    if (!pressing.seams.empty()) {
        pages.say(
            "Arrows point to the side on which the allowances lie. Arrows in the accent colour lead to the "
            "lighter fabric; rings mark joints that do not nest.");
        const double heading = pages.types().heading.size * 3, arrow = pages.large_print() ? 16 : 7.5;
        std::vector<render::MapSheet> sheets = render::seam_sheets(
            writer.map(), pages.room(), pages.left() - pages.types().body.size * 1.2, arrow);
        if (sheets.size() > 1 || pages.left() < pages.full_height() * 0.5)
            sheets = render::seam_sheets(writer.map(), pages.room(), pages.full_height() - heading, arrow);
        put_sheets(writer, sheets, [&](const render::MapSheet& sheet) {
            return render::draw_pressing(
                writer.map(), sheet,
                "Map of the seams with the side to which each is pressed; exceptions are "
                "named below, row by row.");
        });
    }
    if (!pressing.towards_lighter.empty()) {
        pages.heading("Towards the lighter fabric");
        for (const std::string& line : pressing.towards_lighter) pages.item("•", line);
    }
    if (!pressing.not_nested.empty()) {
        pages.heading("Joints that do not nest");
        for (const std::string& line : pressing.not_nested) pages.item("•", line);
    }
}

} // namespace motley::handout
