#pragma once
/// The quilt top: which unit lies in which cell, turned how; its file (`layout.json`, format "motley layout
/// 1").

#include <cstdint>
#include <string>
#include <vector>

#include "layout/brief.h"
#include "layout/contact.h"
#include "layout/kit.h"
#include "layout/score.h"

namespace motley::layout {

/// A fabric for every patch and a turn for every cell; numbered as in Brief.
struct Assignment {
    std::vector<FabricId> patches;   ///< [cell * P + p]
    std::vector<std::uint8_t> turns; ///< [cell], quarter turns clockwise, 0 to 3.
    std::vector<std::uint8_t> forms; ///< [cell], into Brief::forms; empty: all of the first.
    /// Where units are sewn in batches: which one of Kit::units lies in a cell (-1 where it is absent), and
    /// the fabric of each Kit::slots. `patches` and `forms` follow from them.
    std::vector<int> units;
    std::vector<FabricId> slots;

    int form(std::size_t cell) const { return forms.empty() ? 0 : forms[cell]; }
    int pose(std::size_t cell) const { return layout::pose(form(cell), turns[cell]); }
    bool operator==(const Assignment&) const = default;
};

/// A placed top that carries all that is needed to draw, count and mend it.
struct Layout {
    Plan plan;
    std::uint64_t seed = 1;
    std::string version;
    std::vector<palette::Fabric> fabrics; ///< The palette, each with its colour; FabricId indexes it.
    Assignment assignment;
    /// Where several fabrics may be: row by row on the lattice; by border, clockwise from the top left
    /// corner.
    std::vector<FabricId> cornerstones;
    std::vector<std::vector<FabricId>> borders;
    std::vector<char> pinned; ///< [cell]
    std::vector<char> sewn;   ///< [cell] already sewn into the top: never moves.
    Score score;
};

/// Fills `patches` and `forms` from `units` and `slots`; a patch that is not there gets `none`.
void spell_out(const Kit& kit, int places, FabricId none, Assignment& assignment);

/// Faults (Cause::input) with file and pointer: anything that does not fit together.
Layout read_layout(const document::Node& root);
document::Json write_layout(const Layout& layout);

} // namespace motley::layout
