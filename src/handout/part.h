#pragma once
/// What the parts share: the pages, the material, and how things are said. Private to this folder.

#include <string>

#include "handout/handout.h"
#include "layout/top.h"
#include "render/diagram_map.h"
#include "render/page.h"

namespace motley::handout {

/// "1 strip", "5 strips".
std::string counted(int count, const std::string& one, const std::string& many);
inline std::string counted(int count, const std::string& one) {
    return counted(count, one, one + "s");
}
std::string capital(std::string words);
/// A piece of stock as people say it; `name` is the cutting plan's.
std::string said_stock(const std::string& name);
std::string counted_stock(int count, const std::string& name);

class Writer {
public:
    Writer(const Material& material, render::Pages& pages);

    const Material& of;
    render::Pages& pages;
    const layout::Top top;

    const layout::Plan& plan() const { return of.layout.plan; }
    const palette::Fabric& fabric(palette::FabricId id) const;
    const std::string& letter(palette::FabricId id) const;
    std::pair<int, std::string> rank(palette::FabricId id) const; ///< Of its letter: A to Z, then A2.
    render::Swatch swatch(palette::FabricId id) const;
    render::Ink ink(palette::FabricId id) const;
    std::string length(measure::Length said) const;                         ///< "6 1/2 in"
    std::string sides(measure::Length width, measure::Length height) const; ///< "6 1/2 in × 6 1/2 in"
    std::string cloth(measure::Length said) const;                          ///< "2 1/4 yd"
    std::string price(double amount) const;
    std::string quilt() const; ///< The plan's name, or a stand-in.
    render::MapSource map() const { return {of.layout, top, of.assembly}; }
    double drawing_type() const { return pages.large_print() ? 13 : 7.5; } ///< Words in drawings.
};

/// The parts, in the order in which they come; each adds nothing where there is nothing to say.
void write_cover(const Writer& writer);
void write_materials(const Writer& writer);
void write_cutting(const Writer& writer);
void write_units(const Writer& writer);
void write_sets(const Writer& writer);
void write_map(const Writer& writer);
void write_top(const Writer& writer);
void write_pressing(const Writer& writer);
void write_finishing(const Writer& writer);
void write_sizes(const Writer& writer);

/// Not where a unit is one piece, cut and done.
bool units_are_sewn(const unit::Sewn& sewn);
/// Whether there are steps for units, of the top or of a border.
bool has_units(const Material& material);

/// Where the act happens: at the first sewing there is.
void caution_needles(const Writer& writer);

/// Names of the parts that this top has, in order.
std::vector<std::string> parts_of(const Material& material);

namespace names {
inline constexpr const char *materials = "What you need", *cutting = "Cutting", *units = "Sewing the units",
                            *sets = "Cards for the piles", *map = "The layout", *top = "Sewing the top",
                            *pressing = "Pressing", *finishing = "Finishing", *sizes = "Other sizes";
}

} // namespace motley::handout
