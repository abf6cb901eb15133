// The cover: the quilt, its size, the essentials, what is on which page.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "handout/part.h"
#include "handout/preview.h"

namespace motley::handout {

namespace {

using render::BlockPtr;
using render::Side;

std::string setting_of(const layout::Plan& plan) {
    const layout::Setting& setting = plan.setting;
    std::string words = fmt::format("{} across, {} down", setting.columns, setting.rows);
    if (setting.arrangement == layout::Arrangement::on_point) words += ", on point";
    if (setting.arrangement == layout::Arrangement::brick) words += ", as bricks";
    if (!setting.alternate.empty()) words += ", with plain blocks between";
    if (setting.sashing) words += ", with sashing";
    if (!setting.borders.empty()) words += ", " + counted(static_cast<int>(setting.borders.size()), "border");
    return words;
}

int fabrics_shown(const Material& material) {
    return static_cast<int>(
        std::count_if(material.counts.begin(), material.counts.end(),
                      [](const cutting::FabricCount& count) { return count.patches > 0; }));
}

std::string yardage(const Writer& writer) {
    measure::Length top;
    for (const cutting::FabricCuts& cuts : writer.of.cutting.fabrics) top = top + cuts.buy;
    return top.ticks == 0 ? "all on hand" : writer.cloth(top) + " to buy";
}

std::vector<std::pair<std::string, std::string>> essentials(const Writer& writer) {
    const Material& of = writer.of;
    const layout::Plan& plan = writer.plan();
    std::vector<std::pair<std::string, std::string>> facts;
    facts.emplace_back("Unit", fmt::format("{}, {} finished", of.recipe, writer.length(plan.finished)));
    facts.emplace_back("Setting", setting_of(plan));
    facts.emplace_back("Units", std::to_string(of.cutting.take_off.units));
    facts.emplace_back("Fabrics", std::to_string(fabrics_shown(of)));
    facts.emplace_back("Seam allowance", measure::print_set(plan.seam, plan.measure));
    facts.emplace_back("Cloth for the top", yardage(writer));
    facts.emplace_back("Backing", writer.cloth(of.finishing.backing.buy));
    facts.emplace_back("Batting", writer.sides(of.finishing.batting_width, of.finishing.batting_height));
    facts.emplace_back("Binding", counted(of.finishing.binding.strips, "strip"));
    return facts;
}

/// Two columns of facts; one in large print.
BlockPtr facts_block(const Writer& writer) {
    const auto facts = essentials(writer);
    const bool one = writer.pages.large_print();
    const double gap = 26, width = one ? writer.pages.room() : (writer.pages.room() - gap) / 2;
    const std::size_t half = one ? facts.size() : (facts.size() + 1) / 2;
    std::vector<BlockPtr> columns;
    for (std::size_t from = 0; from < facts.size(); from += half) {
        render::Table table{{{"", Side::left, false}, {"", Side::left, true}}, {}};
        for (std::size_t i = from; i < std::min(from + half, facts.size()); ++i)
            table.rows.push_back({{{render::strong(facts[i].first)}, {facts[i].second}}});
        columns.push_back(render::table_block(std::move(table), writer.pages.types().table, width));
    }
    return render::beside(std::move(columns), gap);
}

} // namespace

void write_cover(const Writer& writer) {
    render::Pages& pages = writer.pages;
    const layout::Extent size = layout::extent_of(writer.plan());
    pages.put(render::text_block(writer.quilt(), pages.types().title, pages.room(), "H1"), 0);
    render::Type type = pages.types().heading;
    type.bold = false;
    type.ink = render::inks::quiet;
    pages.put(render::text_block(
                  fmt::format("A quilt of {}, {} finished", counted(writer.of.cutting.take_off.units, "unit"),
                              writer.sides(measure::Length::inches(size.width),
                                           measure::Length::inches(size.height))),
                  type, pages.room()),
              type.size * 0.4);
    BlockPtr facts = facts_block(writer);
    const std::vector<std::string> parts = parts_of(writer.of);
    // The picture takes what the words leave, within reason.
    const double lines = static_cast<double>(parts.size()) * pages.types().body.size * 1.7;
    const double both = facts->height() + lines + 70;
    const double high = std::max(pages.left() - (pages.large_print() ? facts->height() + 50 : both),
                                 pages.full_height() * 0.34);
    const photo::Raster picture = reduced(writer.of.preview, 1700);
    const double scale =
        std::min(pages.room() / picture.width, std::min(high, pages.left() - 30) / picture.height);
    const double wide = picture.width * scale, tall = picture.height * scale;
    pages.figure({.width = wide,
                  .height = tall,
                  .draw = [picture, wide,
                           tall](render::Canvas& canvas) { canvas.picture(picture, {0, 0, wide, tall}); },
                  .alt = fmt::format("The finished quilt “{}”, as it will look.", writer.quilt())});
    pages.put(std::move(facts), pages.types().body.size * 1.4);
    pages.put(render::ornament(1, pages.types().body.size * 0.8, {}), 0);
    pages.contents(parts);
    if (!pages.large_print()) pages.turn_page();
}

} // namespace motley::handout
