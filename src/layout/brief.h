#pragma once
/// The plan made exact: fabrics by number, counts as ranges, turns and aims by cell. What the search must
/// meet and the score judges.

#include <algorithm>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "layout/board.h"
#include "layout/kit.h"
#include "layout/plan.h"
#include "palette/palette.h"
#include "unit/form.h"

namespace motley::layout {

using palette::FabricId;
using palette::index;

/// Stands for "no fabric said".
inline constexpr FabricId no_fabric{std::numeric_limits<std::uint16_t>::max()};

struct Range {
    int least = 0;
    int most = 0;
    bool operator==(const Range&) const = default;
};

/// Cells are those of the board's lattice, numbered row by row from the top left; patches of cell c are c * P
/// + p, P patches to the form that has the most. Patches that are not there (of cells that are absent, of
/// forms with fewer) are pinned to a fabric that is none: the last one, exempt and without light.
struct Brief {
    int columns = 0, rows = 0; ///< Of the lattice.
    Board board{1, 1};
    std::vector<unit::Form> forms; ///< Of the units; the first unless the assignment says otherwise.
    /// Where units are sewn in batches. Counts are then of slots, by the kit's roles: "[p]" below means role
    /// p.
    std::optional<Kit> kit;
    std::vector<std::string> names; ///< Fabric ids, by FabricId.
    std::vector<colour::Lab> labs;  ///< By FabricId.
    std::vector<char> exempt;       ///< By FabricId.
    /// [p][fabric]; most = 0 where the role does not take the fabric.
    std::vector<std::vector<Range>> role_counts;
    std::vector<Range> counts; ///< [fabric], over all roles.
    /// [p][fabric]: one way to meet all of these, pins included, as even as the limits allow.
    std::vector<std::vector<int>> shares;
    std::vector<int> turns;        ///< By cell: 0 to 3, or -1 where the search chooses.
    std::vector<FabricId> pinned;  ///< By patch; no_fabric where free.
    std::vector<char> pinned_turn; ///< By cell: the pin says the turn.
    Rules rules;
    Wishes wishes;
    std::vector<double> aim; ///< By cell, L*; empty with Aim::even.

    Symmetry symmetry = Symmetry::none; ///< Even counts are then even up to an orbit's size.
    double least_edge = 0; ///< Unit widths: patches that share less of an edge only meet at a corner.

    int cells() const { return columns * rows; }
    int patches_per_unit() const {
        std::size_t most = 0;
        for (const unit::Form& form : forms) most = std::max(most, form.patches.size());
        return static_cast<int>(most);
    }
    const std::string& role(int p) const {
        return kit ? kit->roles[static_cast<std::size_t>(p)]
                   : forms.front().patches[static_cast<std::size_t>(p)].role;
    }
    FabricId none() const { return FabricId{static_cast<std::uint16_t>(names.size() - 1)}; }
    int patches() const { return cells() * patches_per_unit(); }
};

/// A lightness map to aim at, 0 dark to 1 light, by cell of the lattice (any number where absent).
struct AimPicture {
    std::vector<double> light;
};

/// Makes the brief. `fabrics` all carry a colour. `yields[f]` is how many patches the stock of fabric f gives
/// (looked at where a count says "stock"); `picture` is used with Aim::picture.
/// Faults (Cause::input), all of them at once: unknown fabric or role (nearest name), a pin outside the
/// top, two pins on one cell that differ, a pinned fabric that the role does not take, pins that break a rule
/// between themselves, counts that do not add up. Fault (Cause::unmet): nothing but the stock is short.
///
/// Counts: "even" holds within each role (they differ by at most one there), and over the roles between
/// fabrics that the same roles take. Fabrics whose number is left open keep the range they are allowed; their
/// `shares` are as even as their limits allow. Aims run linearly from the darkest to the lightest a unit can
/// be (the mean by area of the least and the greatest L* in each role): across light left to dark right, down
/// light top to dark bottom, diagonal light top left to dark bottom right in bands of one row plus column,
/// centre light middle to dark edge in rings like the top's outline.
Brief make_brief(const Plan& plan, const std::vector<palette::Fabric>& fabrics,
                 const std::vector<int>& yields, const AimPicture& picture = {});

/// Which fabrics a role may show, counts aside: [p][fabric], by patch, or by the kit's roles where units are
/// sewn in batches. A role that the plan does not mention takes "*".
std::vector<std::vector<char>> takers(const Plan& plan, const std::vector<palette::Fabric>& fabrics);

} // namespace motley::layout
