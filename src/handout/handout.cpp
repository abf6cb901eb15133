#include "handout/handout.h"

#include <fmt/format.h>

#include "colour/space.h"
#include "fault/fault.h"
#include "handout/part.h"

namespace motley::handout {

std::string counted(int count, const std::string& one, const std::string& many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string capital(std::string words) {
    if (!words.empty() && words[0] >= 'a' && words[0] <= 'z')
        words[0] = static_cast<char>(words[0] - 'a' + 'A');
    return words;
}

std::string said_stock(const std::string& name) {
    return name == "yardage" ? "length of cloth" : name;
}

std::string counted_stock(int count, const std::string& name) {
    return name == "yardage" ? counted(count, "length of cloth", "lengths of cloth") : counted(count, name);
}

Writer::Writer(const Material& material, render::Pages& onto)
    : of(material), pages(onto), top(layout::top_of(material.layout)) {}

const palette::Fabric& Writer::fabric(palette::FabricId id) const {
    return of.layout.fabrics.at(palette::index(id));
}

const std::string& Writer::letter(palette::FabricId id) const {
    return of.assembly.letters.at(palette::index(id));
}

std::pair<int, std::string> Writer::rank(palette::FabricId id) const {
    const std::string& name = letter(id);
    return {name.size() > 1 ? std::stoi(name.substr(1)) : 1, name.substr(0, 1)};
}

render::Ink Writer::ink(palette::FabricId id) const {
    const auto& colour = fabric(id).colour;
    expects(colour.has_value());
    return {colour->srgb.r / 255.0, colour->srgb.g / 255.0, colour->srgb.b / 255.0};
}

render::Swatch Writer::swatch(palette::FabricId id) const {
    return {ink(id), letter(id)};
}

std::string Writer::length(measure::Length said) const {
    return measure::print(said, plan().measure);
}

std::string Writer::sides(measure::Length width, measure::Length height) const {
    const auto both = measure::print_sides(width, height, plan().measure);
    return fmt::format("{} × {}", both[0], both[1]);
}

std::string Writer::cloth(measure::Length said) const {
    return cutting::print_cloth(said, plan().measure);
}

std::string Writer::price(double amount) const {
    return fmt::format("{}{:.2f}", plan().making_up.cloth.currency, amount);
}

std::string Writer::quilt() const {
    return plan().name.empty() ? "A quilt without a name" : plan().name;
}

bool units_are_sewn(const unit::Sewn& sewn) {
    return sewn.steps.size() > 1;
}

bool has_units(const Material& material) {
    return units_are_sewn(material.sewn) || !material.border_units.empty();
}

std::vector<std::string> parts_of(const Material& material) {
    std::vector<std::string> parts{names::materials, names::cutting};
    if (has_units(material)) parts.push_back(names::units);
    if (!material.assembly.cards.sets.empty() || !material.assembly.cards.makings.empty())
        parts.push_back(names::sets);
    parts.insert(parts.end(), {names::map, names::top, names::pressing, names::finishing});
    if (!material.sizes.empty()) parts.push_back(names::sizes);
    return parts;
}

std::vector<std::byte> make_handout(const Material& material) {
    const layout::Plan& plan = material.layout.plan;
    const layout::Page& page = plan.making_up.page;
    render::PageSetup setup;
    if (page.paper == layout::Paper::a4) {
        setup.width = 595.28;
        setup.height = 841.89;
    }
    setup.large_print = page.large_print;
    setup.title = plan.name.empty() ? "A quilt without a name" : plan.name;
    setup.author = "Motley " + material.version;
    setup.subject = "Materials, cutting, sewing, pressing and finishing of a scrappy quilt";
    setup.language = "en";
    render::Pages pages(setup);
    const Writer writer(material, pages);
    write_cover(writer);
    write_materials(writer);
    write_cutting(writer);
    write_units(writer);
    write_sets(writer);
    write_map(writer);
    write_top(writer);
    write_pressing(writer);
    write_finishing(writer);
    write_sizes(writer);
    pages.small(fmt::format("Planned with Motley {}.", material.version));
    return pages.print();
}

} // namespace motley::handout
