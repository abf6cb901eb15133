#pragma once
/// Cards to lay on a pile of cut cloth, for tops whose units are sewn several at a time: what is sewn
/// together how often, and where it ends up. Empty for all other tops.

#include <string>
#include <vector>

#include "layout/layout.h"
#include "measure/length.h"

namespace motley::assembly {

/// Something that goes into a set or a making.
struct Ingredient {
    std::string name; ///< "strip 3", "ground", as the recipe calls it.
    palette::FabricId fabric{};
    std::string letter;
    measure::Length width, height; ///< As cut; of a strip in a set: its width, and zero.
    int pieces = 1;                ///< For one making.
};

/// Units of a pile that look alike, but for how they are turned.
struct PileUnit {
    int number = 0;                  ///< From 1, on the card.
    int form = 0;                    ///< Into the plan's forms.
    int units = 0, spare = 0;        ///< Spare ones lie in no cell.
    std::vector<int> cells;          ///< Lattice cells, in reading order.
    std::vector<std::string> labels; ///< Of those: "row 3, column 4".
};

/// Runs of the recipe that start from the same fabrics.
struct MakingCard {
    int number = 0;                      ///< From 1.
    std::vector<Ingredient> ingredients; ///< All inputs, those from sets included.
    int makings = 0;                     ///< Alike.
    int units = 0, spare = 0;            ///< That they give; spare ones lie in no cell.
    std::vector<int> cells;              ///< Lattice cells, in reading order.
    std::vector<std::string> labels;     ///< Of those: "row 3, column 4".
    std::vector<PileUnit> kinds;         ///< The different units; adds up to `units`.
    std::string text;                    ///< "Sew 2 times: strip set 1 with ground C. ..."
};

/// Strip sets of the same fabrics in the same order.
struct SetCard {
    int number = 0;                 ///< From 1.
    std::string name;               ///< As the recipe calls it: "set".
    std::vector<Ingredient> strips; ///< In order.
    int sets = 0;                   ///< To sew.
    measure::Length strip_length;   ///< The usable width of the cloth.
    measure::Length raw_width;      ///< Across the strips, sewn.
    measure::Length section;        ///< Cut off along the strips.
    int sections = 0, spare = 0;    ///< That are used; that the sets give besides.
    std::vector<int> makings;       ///< Into Cards::makings: where the sections go.
    std::vector<std::string> lines; ///< The card as sentences: sew, press, measure, cut.
};

struct Cards {
    std::vector<SetCard> sets;
    std::vector<MakingCard> makings;
    /// By lattice cell, what its unit is called: the pile, "12", or where a pile gives different units also
    /// which of them, "12-3". Empty where no unit lies, and without makings.
    std::vector<std::string> codes;
    bool numbered = false; ///< A pile gives different units.
};

Cards cards_of(const layout::Layout& layout);

} // namespace motley::assembly
