#pragma once
/// What the user asks for, as `plan.json` says it (format "motley plan 1"), with fabrics still by name.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "document/document.h"
#include "layout/board.h"
#include "layout/making_up.h"
#include "layout/setting.h"
#include "measure/length.h"
#include "unit/sewn.h"

namespace motley::layout {

enum class Touching : std::uint8_t { free, edge, corner };

/// Must hold, or the plan is refused.
struct Rules {
    Touching touching = Touching::corner;
    /// Fewest units from one use of a fabric to the next, the larger of the row and column step; 1 asks
    /// nothing.
    int apart = 1;
    bool line = false;   ///< No fabric twice in one row or column.
    double contrast = 0; ///< Least difference in L* between the roles of a unit, [0, 100].
    /// CIEDE2000 below which two fabrics count as one for touching, apart and line.
    double same_if_closer_than = 0;
    /// Patches that share less of an edge than this only meet at a corner.
    measure::Length least_contact;
    /// Fabrics that touching, apart, line and `spread` do not look at (a background).
    std::vector<std::string> exempt;
};

enum class Aim : std::uint8_t { even, across, down, diagonal, centre, picture };

/// Weighed against each other; a weight of 0 asks nothing. [0, 1000]
struct Wishes {
    double spread = 1;
    double colour = 0.5;
    double value = 1;
    Aim aim = Aim::even;
    std::string picture; ///< With Aim::picture: the file, as the plan names it.
};

/// How many patches of a fabric.
struct Count {
    enum class Kind : std::uint8_t { exact, even, between, stock };
    Kind kind = Kind::even;
    int least = 0; ///< exact, between.
    int most = 0;  ///< exact (equal to least), between.
};

/// From `pinwheel` to `streak_of_lightning` the traditional arrangements of half-square triangles (and of log
/// cabins), under their trade names; see `turn_at` in brief.cpp for what each looks like.
enum class Turns : std::uint8_t {
    fixed,
    alternate,
    any,
    pinwheel,
    broken_dishes,
    barn_raising,
    straight_furrow,
    sunshine_and_shadow,
    streak_of_lightning,
    grid
};

struct Pin {
    int row = 0, column = 0;                         ///< From 0.
    std::vector<std::optional<std::string>> fabrics; ///< By patch; may be shorter than the unit.
    std::optional<int> turn;
};

struct Plan {
    std::string file;    ///< For paths relative to it; empty when the plan came inside a layout.
    std::string place;   ///< For messages: "plan.json ", or "layout.json /plan" inside a layout.
    document::Json json; ///< As read, for the layout to carry.
    std::string name;
    measure::System measure = measure::System::inch;
    measure::Length seam;
    std::string palette;
    int columns = 0, rows = 0; ///< As `setting` says.
    Setting setting;
    std::string recipe = "plain-square"; ///< Its id.
    unit::Choices choices;               ///< For the recipe.
    measure::Length finished; ///< Side of the finished unit; 6 in (15 cm) when not said; what it comes to.
    /// Fabric ids by role; "*" is every fabric that no other role names.
    std::map<std::string, std::vector<std::string>> roles;
    Turns turns = Turns::fixed;
    /// With Turns::grid: a block of quarter turns that repeats over the top.
    std::vector<std::vector<int>> turn_grid;
    Rules rules;
    Wishes wishes;
    std::vector<std::pair<std::string, Count>> counts; ///< In file order; "*" is every fabric not named.
    std::vector<Pin> pins;
    std::uint64_t seed = 1;
    MakingUp making_up; ///< Cloth, finishing, other sizes.

    unit::Sewn sewn;              ///< The recipe, run: forms, inputs, sizes; without its steps.
    measure::Length usable_width; ///< Of cloth: how long strips are; 42 in (105 cm) when not said.

    const std::vector<unit::Form>& forms() const { return sewn.forms; }
    Board board() const { return Board(setting, finished); }
    /// A place in the file for a Problem: where("/pins/3") is "plan.json /pins/3".
    std::string where(std::string_view pointer) const { return place + std::string(pointer); }
};

inline constexpr std::string_view plan_format = "motley plan 1";

/// Reads a plan. Faults (Cause::input) name file and pointer: wrong type, unknown key with the nearest known
/// one, sizes out of range, more than 40,000 cells.
Plan read_plan(const document::Node& root);

/// A seed: a whole number of at most 64 bits.
std::uint64_t read_seed(const document::Node& node);

} // namespace motley::layout
