#include "cli/lists.h"

#include <fmt/format.h>

#include "cli/table.h"
#include "document/document.h"

namespace motley::cli {

namespace {

using document::Json;
using measure::Length;

const palette::Fabric& fabric_of(const layout::Layout& top, palette::FabricId id) {
    return top.fabrics[palette::index(id)];
}

std::string sides(const cutting::Need& need, measure::System system) {
    const auto [width, length] = measure::print_sides(need.width, need.length, system);
    return fmt::format("{} x {}", width, length);
}

/// What the cutting plan could not get for nothing.
std::string slack_words(const layout::Plan& plan) {
    const layout::Cloth& cloth = plan.making_up.cloth;
    std::string words = cloth.slack.ticks == 0 ? std::string("Nothing is added for mistakes")
                                               : fmt::format("Each has {} added for mistakes",
                                                             measure::print_set(cloth.slack, plan.measure));
    if (cloth.shrinkage > 0) words += fmt::format("; {:g} % for shrinking in the wash", cloth.shrinkage);
    return words + " (\"cloth\" in the plan: \"slack\", \"shrinkage\", \"ends\").";
}

} // namespace

void tell_counts(const layout::Layout& top, const std::vector<cutting::FabricCount>& counts,
                 const Streams& streams) {
    const bool metric = top.plan.measure == measure::System::metric;
    constexpr double sq_cm = 2.54 * 2.54;
    Table table({"fabric", ">units", ">patches", metric ? ">sq cm" : ">sq in", ">share", "value", ">L*"});
    int patches = 0;
    double area = 0;
    for (const cutting::FabricCount& count : counts) {
        const palette::Fabric& fabric = top.fabrics[palette::index(count.fabric)];
        patches += count.patches;
        const double own = metric ? count.area_sq_in * sq_cm : count.area_sq_in;
        area += own;
        table.add(
            {fabric.name, std::to_string(count.units), std::to_string(count.patches),
             fmt::format("{:.1f}", own), fmt::format("{:.1f} %", 100 * count.share),
             fabric.colour && fabric.colour->value ? std::string(colour::name(*fabric.colour->value)) : "",
             fabric.colour ? fmt::format("{:.0f}", fabric.colour->lab.l) : ""});
    }
    table.add({"in all", "", std::to_string(patches), fmt::format("{:.1f}", area), "100.0 %", "", ""});
    streams.out << table.text();
}

void tell_cutting(const layout::Layout& top, const cutting::Cutting& cutting, const Streams& streams) {
    Table table({"fabric", "piece", "size, across x along the cloth", ">cut", ">gives", ">used", ">spare"});
    for (const cutting::Need& need : cutting.take_off.needs)
        table.add({fabric_of(top, need.fabric).name, need.name, sides(need, top.plan.measure),
                   std::to_string(need.count), std::to_string(need.count * need.cut_into),
                   std::to_string(need.used), std::to_string(need.spare())});
    streams.out << table.text();
    if (cutting.take_off.strip_sets > 0)
        streams.out << fmt::format("{} strip set{} to sew; {} unit{} more than the top takes.\n",
                                   cutting.take_off.strip_sets, cutting.take_off.strip_sets == 1 ? "" : "s",
                                   cutting.take_off.spare_units,
                                   cutting.take_off.spare_units == 1 ? "" : "s");
}

void tell_buying(const layout::Layout& top, const cutting::BuyingList& buying, const Streams& streams) {
    const measure::System system = top.plan.measure;
    bool priced = false;
    for (const cutting::BuyLine& line : buying.lines) priced = priced || line.price;
    std::vector<std::string> headings{
        "to buy",
        ">cloth",
        ">takes",
        ">to spare",
        fmt::format(">on cloth {}", measure::print_set(buying.narrow_width, system)),
        "from stock"};
    if (priced) headings.push_back(">price");
    Table table(headings);
    const std::string& currency = top.plan.making_up.cloth.currency;
    for (const cutting::BuyLine& line : buying.lines) {
        const bool none = line.buy.ticks == 0;
        std::vector<std::string> row{line.what,
                                     none ? "nothing" : cutting::print_cloth(line.buy, system),
                                     none ? "" : measure::print_measured(line.length, system),
                                     none ? "" : measure::print_measured(line.spare, system),
                                     !line.narrow_buy ? "not possible"
                                     : line.narrow_buy->ticks > 0
                                         ? cutting::print_cloth(*line.narrow_buy, system)
                                         : "nothing",
                                     !line.from_stock ? ""
                                     : none           ? "all"
                                                      : "in part"};
        if (priced) row.push_back(line.price ? fmt::format("{}{:.2f}", currency, *line.price) : "");
        table.add(std::move(row));
    }
    streams.out << table.text();
    for (const cutting::Precut& precut : buying.precuts)
        streams.out << fmt::format("Or from a {}: each gives {} ({}); {} needed, {}.\n", precut.name,
                                   precut.each, precut.piece, precut.cuts,
                                   precut.packs == 1 ? "one pack" : fmt::format("{} packs", precut.packs));
    tell_purchase(top, buying, streams);
}

void tell_purchase(const layout::Layout& top, const cutting::BuyingList& buying, const Streams& streams) {
    const measure::System system = top.plan.measure;
    int fabrics = 0;
    for (const cutting::BuyLine& line : buying.lines) fabrics += line.buy.ticks > 0;
    const auto [width, height] = measure::print_sides(buying.batting_width, buying.batting_height, system);
    streams.out << fmt::format(
        "To buy: {} of cloth {} wide in {} piece{}, binding and backing included; "
        "batting {} x {}.{}\n",
        cutting::print_cloth(buying.total, system), measure::print_set(buying.usable_width, system), fabrics,
        fabrics == 1 ? "" : "s", width, height,
        buying.cost ? fmt::format(" {}{:.2f} in all.", top.plan.making_up.cloth.currency, *buying.cost) : "");
    streams.out << slack_words(top.plan) << '\n';
}

namespace {

Json counts_json(const layout::Layout& top, const std::vector<cutting::FabricCount>& counts) {
    Json list = Json::array();
    for (const cutting::FabricCount& count : counts) {
        Json row = Json::object();
        row["fabric"] = top.fabrics[palette::index(count.fabric)].id;
        row["units"] = count.units;
        row["patches"] = count.patches;
        row["finished_area_sqin"] = count.area_sq_in;
        row["share"] = count.share;
        list.push_back(std::move(row));
    }
    return list;
}

double inches(Length length) {
    return length.in_inches();
}

Json cutting_json(const layout::Layout& top, const cutting::Cutting& cutting) {
    Json list = Json::array();
    for (const cutting::Need& need : cutting.take_off.needs) {
        Json row = Json::object();
        row["fabric"] = fabric_of(top, need.fabric).id;
        row["for"] = cutting::name_of(need.use);
        row["piece"] = need.name;
        row["width_in"] = inches(need.width);
        row["length_in"] = inches(need.length);
        row["cut"] = need.count;
        row["cut_into"] = need.cut_into;
        row["used"] = need.used;
        row["spare"] = need.spare();
        list.push_back(std::move(row));
    }
    return list;
}

Json buying_json(const cutting::BuyingList& buying) {
    Json list = Json::array();
    for (const cutting::BuyLine& line : buying.lines) {
        Json row = Json::object();
        row["fabric"] = line.id.empty() ? line.what : line.id;
        row["takes_in"] = inches(line.length);
        row["buy_yd"] = inches(line.buy) / 36;
        row["spare_in"] = inches(line.spare);
        row["least_proved"] = line.proved;
        row["stock_used"] = line.from_stock;
        row["narrow_buy_yd"] = line.narrow_buy ? Json(inches(*line.narrow_buy) / 36) : Json();
        row["price"] = line.price ? Json(*line.price) : Json();
        list.push_back(std::move(row));
    }
    return list;
}

} // namespace

Json lists_json(const layout::Layout& top, const pipeline::Lists& lists) {
    Json json = Json::object();
    json["counts"] = counts_json(top, lists.counts);
    json["cutting"] = cutting_json(top, lists.cutting);
    json["buying"] = buying_json(lists.buying);
    return json;
}

} // namespace motley::cli
