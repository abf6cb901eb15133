#pragma once
/// What is sewn for a top whose units come off the machine several at a time: strip sets, makings and the
/// units they give. Words: a *making* is one run of the recipe: so many pieces in, so many units out, all of
/// the same fabrics. A *set* is strips sewn together and cut across into sections; one set serves several
/// makings. A *slot* is a piece to be cut that has one fabric: strip 3 of set 2, the ground of making 7.

#include <functional>
#include <string>
#include <vector>

#include "layout/plan.h"
#include "unit/sewn.h"

namespace motley::layout {

struct Slot {
    int input = 0;  ///< Into Sewn::inputs.
    int role = 0;   ///< Into Kit::roles.
    int making = 0; ///< The first it serves.
};

struct KitUnit {
    int form = 0;
    int making = 0;
    int twins = 0;          ///< Units with one number show the same cloth, as twins or mirror images.
    std::vector<int> slots; ///< By patch of the form.
    int copy = 0;           ///< Into Sewn::copies.
};

struct Kit {
    std::vector<std::string> roles; ///< Of the inputs.
    std::vector<Slot> slots;
    std::vector<std::vector<int>> makings; ///< [making][input] slot.
    std::vector<KitUnit> units;            ///< As many as there are cells, or a few more: those are spare.
    int cells = 0;

    int spare() const { return static_cast<int>(units.size()) - cells; }
    int places(int role) const; ///< Slots of a role.
};

/// Whether a recipe must be sewn in batches: several units from one making or strip set, or one piece of
/// cloth in several patches. Otherwise every patch is a piece of its own and can be any fabric.
bool sewn_in_batches(const unit::Sewn& sewn);

/// Whether one run of a recipe makes one unit, no cloth of which goes into another. Patches may share a
/// piece.
bool makes_one_unit(const unit::Sewn& sewn);

/// The program's recipes of which that holds at standard sizes, for people: names in quotes.
std::string recipes_that(const std::function<bool(const unit::Sewn&)>& holds);

/// The fewest makings that give as many units as there are cells; sets of strips as long as the usable width.
Kit make_kit(const unit::Sewn& sewn, int cells, measure::Length usable_width);

} // namespace motley::layout
