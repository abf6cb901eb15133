#include "layout/setting.h"

#include <fmt/format.h>

#include <algorithm>

namespace motley::layout {

namespace {

using document::Node;
using measure::Length;

constexpr Length widest_strip{Length::per_inch * 40}; // The width of cloth: a strip is not pieced across.

/// A fabric, or a list of them.
std::vector<std::string> fabrics(const Node& node) {
    std::vector<std::string> ids;
    if (node.is_text()) {
        ids.push_back(node.text());
    } else {
        for (const Node& item : node.items()) ids.push_back(item.text());
        if (ids.empty()) node.refuse("no fabric is named", "name one fabric or a list of them");
    }
    return ids;
}

class Reader {
public:
    Reader(measure::System system, const RecipeReader& recipes, Complaints& complaints)
        : system_(system), recipes_(recipes), complaints_(complaints) {}

    Setting read(const Node& node) {
        known_keys(node,
                   {"columns", "rows", "arrangement", "sashing", "borders", "alternate", "edge", "symmetry"});
        complaints_.required(node, "columns", [&](const Node& n) {
            setting_.columns = static_cast<int>(n.integer(1, most_cells));
        });
        complaints_.required(
            node, "rows", [&](const Node& n) { setting_.rows = static_cast<int>(n.integer(1, most_cells)); });
        complaints_.optional(node, "arrangement", [&](const Node& n) {
            setting_.arrangement = static_cast<Arrangement>(n.choice({"straight", "on-point", "brick"}));
        });
        complaints_.optional(node, "sashing", [&](const Node& n) { sashing(n); });
        complaints_.optional(node, "borders", [&](const Node& n) {
            const std::vector<Node> items = n.items();
            for (std::size_t i = 0; i < items.size(); ++i) complaints_.attempt([&] { border(items[i], i); });
        });
        complaints_.optional(node, "alternate", [&](const Node& n) { setting_.alternate = n.text(); });
        complaints_.optional(node, "edge", [&](const Node& n) { setting_.edge = n.text(); });
        complaints_.optional(node, "symmetry", [&](const Node& n) {
            setting_.symmetry = static_cast<Symmetry>(
                n.choice({"none", "mirror", "mirror-both", "half-turn", "quarter-turn"}));
        });
        check_together(node);
        return std::move(setting_);
    }

private:
    void known_keys(const Node& node, const std::vector<std::string>& keys) {
        if (!node.is_object()) node.allow_only(keys);
        complaints_.attempt([&] { node.allow_only(keys); });
    }

    Length width(const Node& node) {
        const Length found = read_length(node, system_);
        if (found.ticks < Length::per_inch / 8 || found > widest_strip)
            node.refuse(
                fmt::format("a width of {} cannot be sewn", measure::print(found, system_)),
                fmt::format("it may be {} to {}, finished", measure::print({Length::per_inch / 8}, system_),
                            measure::print(widest_strip, system_)));
        return found;
    }

    void sashing(const Node& node) {
        known_keys(node, {"width", "fabric", "cornerstone", "around"});
        Sashing made;
        complaints_.required(node, "width", [&](const Node& n) { made.width = width(n); });
        complaints_.required(node, "fabric", [&](const Node& n) { made.fabric = n.text(); });
        complaints_.optional(node, "cornerstone", [&](const Node& n) { made.cornerstones = fabrics(n); });
        complaints_.optional(node, "around", [&](const Node& n) { made.around = n.boolean(); });
        setting_.sashing = std::move(made);
    }

    /// One width, or two: of the strips left and right, and of those at top and bottom.
    void widths(const Node& node, Border& border) {
        if (!node.is_list()) {
            border.width = width(node);
            return;
        }
        const std::vector<Node> both = node.items();
        if (both.size() != 2)
            node.refuse(fmt::format("{} widths are named", both.size()),
                        "write one, or two: of the strips left and right, and of those at top and bottom");
        border.width = width(both[0]);
        if (const Length level = width(both[1]); level != border.width) border.level = level;
    }

    void border(const Node& node, std::size_t index) {
        known_keys(node, {"width", "fabric", "pieced", "corners", "corner"});
        Border made;
        complaints_.required(node, "width", [&](const Node& n) { widths(n, made); });
        complaints_.optional(node, "pieced", [&](const Node& n) {
            made.pieced = n.is_object() || n.boolean();
            if (n.is_object())
                made.units = border_units(n, fmt::format("/setting/borders/{}/pieced/recipe", index));
        });
        if (made.units && node.find("fabric"))
            node.at("fabric").refuse("the units of this border have their own fabrics",
                                     "leave \"fabric\" out; name fabrics under \"pieced\", \"roles\"");
        const auto pieced = node.find("pieced");
        if (!pieced || !pieced->is_object())
            complaints_.required(node, "fabric", [&](const Node& n) { made.fabrics = fabrics(n); });
        complaints_.optional(node, "corners", [&](const Node& n) {
            made.corners = static_cast<Corners>(n.choice({"butted", "mitred", "squares"}));
        });
        complaints_.optional(node, "corner", [&](const Node& n) {
            made.corner = n.text();
            made.corners = Corners::squares;
        });
        check_border(node, made);
        setting_.borders.push_back(std::move(made));
    }

    static void check_border(const Node& node, const Border& made) {
        const bool mixes = made.fabrics.size() > 1 || (!made.fabrics.empty() && made.fabrics[0] == "*");
        if (mixes && !made.pieced)
            node.refuse("this border is one strip a side, of several fabrics",
                        "name one fabric, or say \"pieced\": true for a border sewn from patches");
        if (made.pieced && made.corners == Corners::mitred)
            node.refuse("a pieced border cannot be mitred", "leave \"corners\" out");
        if (made.corners == Corners::squares && made.corner.empty() && !made.pieced)
            node.refuse("the squares at the corners have no fabric", "name it under \"corner\"");
        if (made.level && (made.pieced || made.corners == Corners::mitred))
            node.at("width").refuse(
                fmt::format("a {} border is equally wide on all sides", made.pieced ? "pieced" : "mitred"),
                "name one width");
        if (made.level && made.corners == Corners::squares)
            node.at("width").refuse("the corners of a border with two widths are no squares",
                                    "name one width, or leave \"corner\" and \"corners\" out");
    }

    BorderUnits border_units(const Node& node, const std::string& pointer) {
        known_keys(node, {"recipe", "roles", "turns", "choices"});
        BorderUnits made;
        made.recipe = recipes_(node.at("recipe"), pointer);
        complaints_.optional(node, "choices", [&](const Node& n) {
            made.choices = unit::read_choices(made.recipe, n, system_);
        });
        complaints_.optional(node, "roles", [&](const Node& n) {
            for (const auto& [role, list] : n.members())
                complaints_.attempt([&] { made.roles[role] = fabrics(list); });
        });
        complaints_.optional(node, "turns", [&](const Node& n) {
            if (n.is_text()) {
                made.turns = static_cast<BorderTurns>(n.choice({"fixed", "alternate", "from-middle"}));
                return;
            }
            if (!n.is_list())
                n.refuse("the turns of this border are neither a word nor a list",
                         "write \"fixed\", \"alternate\", \"from-middle\", or quarter turns that repeat "
                         "along each side, such as [0, 1]");
            made.turns = BorderTurns::list;
            for (const Node& turn : n.items()) made.turn_list.push_back(static_cast<int>(turn.integer(0, 3)));
            if (made.turn_list.empty())
                n.refuse("the list of turns is empty", "it needs at least one quarter turn, 0 to 3");
        });
        return made;
    }

    void check_together(const Node& node) {
        const std::int64_t cells = std::int64_t{setting_.columns} * setting_.rows;
        if (cells > most_cells) {
            complaints_.add(
                node.where(),
                fmt::format("{} columns by {} rows are {} units", setting_.columns, setting_.rows, cells),
                fmt::format("a top may have at most {} units", most_cells));
            return;
        }
        if (setting_.arrangement == Arrangement::straight && !setting_.edge.empty())
            complaints_.add(node.where() + "/edge", "a straight setting has no pieces to fill its edge",
                            "leave \"edge\" out, or add a border");
        if (setting_.arrangement == Arrangement::on_point && setting_.sashing && setting_.sashing->around)
            complaints_.add(node.where() + "/sashing/around",
                            "on point the triangles at the edge lie where sashing around the units would",
                            "leave \"around\" out, and add a border instead");
        if (setting_.arrangement == Arrangement::brick && setting_.sashing)
            complaints_.add(node.where() + "/sashing", "bricks have no sashing between them",
                            "leave \"sashing\" out, or use the arrangement \"straight\"");
        if (setting_.arrangement == Arrangement::brick && !setting_.alternate.empty())
            complaints_.add(node.where() + "/alternate", "bricks have no plain blocks between them",
                            "leave \"alternate\" out, or use the arrangement \"straight\"");
        if (setting_.arrangement == Arrangement::brick && setting_.symmetry >= Symmetry::mirror_both &&
            setting_.rows % 2 == 0)
            complaints_.add(node.where() + "/symmetry",
                            "with an even number of rows a brick setting looks different upside down",
                            "use an odd number of rows, or \"symmetry\": \"mirror\"");
        if (setting_.symmetry == Symmetry::quarter_turn &&
            (setting_.columns != setting_.rows || setting_.arrangement == Arrangement::brick))
            complaints_.add(node.where() + "/symmetry",
                            "only a top with as many rows as columns, not of bricks, can look the same after "
                            "a quarter turn",
                            "use \"half-turn\", or make columns and rows equal");
        if (setting_.symmetry == Symmetry::quarter_turn &&
            std::any_of(setting_.borders.begin(), setting_.borders.end(),
                        [](const Border& border) { return border.level.has_value(); }))
            complaints_.add(node.where() + "/symmetry",
                            "a border of two widths looks different after a quarter turn",
                            "use \"half-turn\", or give every border one width");
    }

    measure::System system_;
    const RecipeReader& recipes_;
    Complaints& complaints_;
    Setting setting_;
};

} // namespace

Setting read_setting(const Node& node, measure::System system, const RecipeReader& recipes,
                     Complaints& complaints) {
    return Reader(system, recipes, complaints).read(node);
}

Length read_length(const Node& node, measure::System system) {
    if (node.is_number()) return measure::length_of(node.number(), system, node.where());
    if (node.is_text()) return measure::read_length(node.text(), system, node.where());
    node.refuse("this should be a length", "write a number, or text such as \"6 1/2\" or \"16 cm\"");
}

} // namespace motley::layout
