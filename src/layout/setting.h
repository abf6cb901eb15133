#pragma once
/// How units are set into a top: side by side, on point or as bricks; with plain blocks between them,
/// sashing, borders. What `plan.json` says under "setting".

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "document/document.h"
#include "layout/complaints.h"
#include "measure/length.h"
#include "unit/sewn.h"

namespace motley::layout {

/// on_point: units stand on a corner, `rows` of `columns` with further units (or plain blocks) between them.
/// brick: every second row is moved half a unit to the right and has one unit fewer.
enum class Arrangement : std::uint8_t { straight, on_point, brick };

/// The whole top looks the same after being mirrored left to right, mirrored both ways, or given a half or a
/// quarter turn.
enum class Symmetry : std::uint8_t { none, mirror, mirror_both, half_turn, quarter_turn };

/// Strips between the units, and squares where they cross.
struct Sashing {
    measure::Length width; ///< Finished.
    std::string fabric;
    std::vector<std::string> cornerstones; ///< One fabric, or several to mix; empty: none, the strips run on.
    bool around = false;                   ///< Also along the outer edge of the units.
};

/// butted: top and bottom strips run over the side strips' ends. mitred: cut aslant at the corners. squares:
/// four plain squares at the corners.
enum class Corners : std::uint8_t { butted, mitred, squares };

/// How the units of a pieced border lie. Each side goes clockwise and has its units turned along with it: at
/// turn 0 a unit's bottom lies towards the middle of the top. from_middle: the whole border is its own mirror
/// image, left to right and top to bottom.
enum class BorderTurns : std::uint8_t { fixed, alternate, from_middle, list };

/// Units that a border is pieced from, as large as it is wide, sewn one by one. Patches of one input show one
/// fabric.
struct BorderUnits {
    unit::Recipe recipe;
    unit::Choices choices;
    std::map<std::string, std::vector<std::string>> roles; ///< Fabric ids by role; "*": no other names them.
    BorderTurns turns = BorderTurns::fixed;
    std::vector<int> turn_list; ///< With BorderTurns::list: quarter turns that repeat along each side.
    unit::Sewn sewn;            ///< The recipe, run; without its steps.

    const unit::Form& form() const { return sewn.forms.front(); }
    /// What the plan lists for a role.
    std::vector<std::string> fabrics(const std::string& role) const {
        const auto found = roles.find(role);
        return found == roles.end() ? std::vector<std::string>{"*"} : found->second;
    }
};

struct Border {
    measure::Length width;            ///< Finished; of the strips at the left and the right.
    std::vector<std::string> fabrics; ///< One, or several to mix when it is pieced; none with units.
    bool pieced = false;              ///< Sewn from patches as wide as the border, or from units.
    Corners corners = Corners::butted;
    std::string corner;                     ///< With Corners::squares: their fabric.
    std::optional<measure::Length> level{}; ///< Width of the strips at top and bottom, where it differs.
    std::optional<BorderUnits> units{};     ///< What it is pieced from, where not from plain patches.

    measure::Length level_width() const { return level.value_or(width); }
};

struct Setting {
    int columns = 0, rows = 0; ///< Units across and down.
    Arrangement arrangement = Arrangement::straight;
    std::optional<Sashing> sashing;
    std::vector<Border> borders; ///< From the inside out.
    /// Every second cell is a plain block of this fabric (on point: the cells between the rows); empty: none.
    std::string alternate;
    /// On point and brick: the fabric of the pieces that fill the edge; empty: see `edge_fabric`.
    std::string edge;
    Symmetry symmetry = Symmetry::none;
};

/// Units in a top, at most.
inline constexpr int most_cells = 40'000;

/// Reads what names a recipe; the pointer says where in the plan it stands.
using RecipeReader = std::function<unit::Recipe(const document::Node&, const std::string& pointer)>;

/// Complaints name key by key what is wrong; fabrics are not looked up yet, nothing is sewn.
Setting read_setting(const document::Node& node, measure::System system, const RecipeReader& recipes,
                     Complaints& complaints);

/// A length as files write it: a number in the file's measure, or text.
measure::Length read_length(const document::Node& node, measure::System system);

} // namespace motley::layout
