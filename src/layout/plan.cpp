#include "layout/plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <limits>

#include "layout/complaints.h"
#include "layout/kit.h"
#include "layout/ring.h"
#include "unit/recipe.h"

namespace motley::layout {

namespace {

using document::Json;
using document::Node;
using measure::Length;

constexpr int no_limit = std::numeric_limits<int>::max();
constexpr int most_asked = 1'000'000; // Far above what 40,000 cells can show; the counts are added up later.

std::vector<std::string> texts(const Node& list) {
    std::vector<std::string> words;
    for (const Node& item : list.items()) words.push_back(item.text());
    return words;
}

void check_format(const Node& root) {
    const auto format = root.find("format");
    if (!format) return;
    const std::string said = format->text();
    if (said == plan_format) return;
    const std::string remedy = fmt::format("this version of motley reads {}", in_quotes(plan_format));
    if (said.starts_with("motley plan "))
        format->refuse(
            fmt::format("this plan has the format {}, which this version does not know", in_quotes(said)),
            remedy);
    format->refuse(fmt::format("this file is not a plan: its format is {}", in_quotes(said)), remedy);
}

/// Collects into one plan; every section stands on its own, so that all complaints come at once.
class Reader {
public:
    explicit Reader(const Node& root) : root_(root) {}

    Plan read() {
        plan_.file = root_.file();
        plan_.place = root_.where() == root_.file() ? root_.file() + " " : root_.where();
        plan_.json = root_.json();
        known_keys(root_, {"format", "name", "measure", "seam", "palette", "setting", "unit", "rules",
                           "wishes", "counts", "pins", "seed", "cloth", "finish", "sizes", "handout"});
        complaints_.optional(root_, "name", [&](const Node& node) { plan_.name = node.text(); });
        complaints_.optional(root_, "measure", [&](const Node& node) {
            plan_.measure =
                node.choice({"inch", "metric"}) == 0 ? measure::System::inch : measure::System::metric;
        });
        complaints_.required(root_, "palette", [&](const Node& node) {
            plan_.palette = node.text();
            if (plan_.palette.empty())
                node.refuse("the palette has no name",
                            "name the folder with the photos, or its palette.json");
        });
        complaints_.required(root_, "setting", [&](const Node& node) {
            plan_.setting = read_setting(
                node, plan_.measure,
                [&](const Node& n, const std::string& pointer) { return read_recipe(n, pointer); },
                complaints_);
        });
        plan_.columns = plan_.setting.columns;
        plan_.rows = plan_.setting.rows;
        read_sizes();
        complaints_.optional(root_, "unit", [&](const Node& node) { read_unit(node); });
        read_cloth_width();
        complaints_.attempt([&] { sew(); });
        sew_borders();
        complaints_.optional(root_, "rules", [&](const Node& node) { read_rules(node); });
        complaints_.optional(root_, "wishes", [&](const Node& node) { read_wishes(node); });
        complaints_.optional(root_, "counts", [&](const Node& node) {
            for (const auto& [key, value] : node.members())
                complaints_.attempt([&] { plan_.counts.emplace_back(key, read_count(value)); });
        });
        complaints_.optional(root_, "pins", [&](const Node& node) {
            for (const Node& item : node.items()) complaints_.attempt([&] { read_pin(item); });
        });
        complaints_.optional(root_, "seed", [&](const Node& node) { plan_.seed = read_seed(node); });
        plan_.making_up = read_making_up(root_, plan_.measure, plan_.usable_width, complaints_);
        complaints_.raise();
        return std::move(plan_);
    }

private:
    /// Unknown keys are complained about and read past; what is not an object is refused.
    void known_keys(const Node& node, const std::vector<std::string>& keys) {
        if (!node.is_object()) node.allow_only(keys);
        complaints_.attempt([&] { node.allow_only(keys); });
    }

    /// Seam and finished size, each on its own and together.
    void read_sizes() {
        const bool inch = plan_.measure == measure::System::inch;
        plan_.seam = inch ? Length{Length::per_inch / 4} : Length{Length::per_millimetre * 15 / 2};
        plan_.finished = inch ? Length{Length::per_inch * 6} : Length{Length::per_millimetre * 150};
        plan_.usable_width = inch ? Length{Length::per_inch * 42} : Length{Length::per_millimetre * 1050};
        complaints_.optional(root_, "seam", [&](const Node& node) {
            plan_.seam = within(node, "a seam allowance", {0}, {Length::per_inch * 2}, plan_.seam);
        });
        complaints_.attempt([&] {
            const auto unit = root_.find("unit");
            if (!unit || !unit->is_object()) return; // read_unit says what is wrong with it.
            if (const auto node = unit->find("finished"))
                plan_.finished = within(*node, "the finished size of a unit", {Length::per_inch / 2},
                                        {Length::per_inch * 60}, plan_.finished);
        });
        if (plan_.seam * 2 >= plan_.finished)
            complaints_.add(plan_.where(root_.find("seam") ? "/seam" : "/unit/finished"),
                            fmt::format("a seam allowance of {} is too wide for units of {}",
                                        measure::print_set(plan_.seam, plan_.measure),
                                        measure::print_set(plan_.finished, plan_.measure)),
                            "it must be less than half the finished size");
    }

    /// The length of a node, or `instead` with a complaint where it lies outside [least, most].
    Length within(const Node& node, std::string_view noun, Length least, Length most, Length instead) {
        const Length found = read_length(node, plan_.measure);
        if (found >= least && found <= most) return found;
        complaints_.add(node.where(),
                        fmt::format("{} of {} is {}", noun, measure::print_set(found, plan_.measure),
                                    found < least ? "too small" : "too large"),
                        fmt::format("it may be {} to {}", measure::print(least, plan_.measure),
                                    measure::print(most, plan_.measure)));
        return instead;
    }

    void read_unit(const Node& unit) {
        known_keys(unit, {"recipe", "finished", "roles", "turns", "choices", "usable_width"});
        complaints_.optional(unit, "recipe", [&](const Node& node) {
            recipe_ = read_recipe(node, "/unit/recipe");
            plan_.recipe = recipe_.id;
        });
        complaints_.optional(unit, "choices", [&](const Node& node) {
            plan_.choices = unit::read_choices(recipe_, node, plan_.measure);
        });
        complaints_.optional(unit, "usable_width", [&](const Node& node) {
            plan_.usable_width = within(node, "the usable width of cloth", {Length::per_inch * 6},
                                        {Length::per_inch * 130}, plan_.usable_width);
        });
        complaints_.optional(unit, "roles", [&](const Node& node) {
            for (const auto& [role, list] : node.members())
                complaints_.attempt([&] { plan_.roles[role] = texts(list); });
        });
        complaints_.optional(unit, "turns", [&](const Node& node) { read_turns(node); });
    }

    /// The cloth's usable width may be said with the unit or with the cloth.
    void read_cloth_width() {
        complaints_.attempt([&] {
            const auto cloth = root_.find("cloth");
            if (!cloth || !cloth->is_object()) return; // Whoever reads the cloth says what is wrong with it.
            const auto node = cloth->find("usable_width");
            if (!node) return;
            const Length width = within(*node, "the usable width of cloth", {Length::per_inch * 6},
                                        {Length::per_inch * 130}, plan_.usable_width);
            const auto unit = root_.find("unit");
            if (unit && unit->is_object() && unit->find("usable_width") && width != plan_.usable_width)
                node->refuse(fmt::format("the cloth is {} wide here and {} under /unit/usable_width",
                                         measure::print_set(width, plan_.measure),
                                         measure::print_set(plan_.usable_width, plan_.measure)),
                             "say it once");
            plan_.usable_width = width;
        });
    }

    /// An id; or a recipe of the user's own, written here or in a file. The layout carries it.
    unit::Recipe read_recipe(const Node& node, const std::string& pointer) {
        if (node.is_object()) return unit::read_recipe(node);
        if (const std::string said = node.text(); said.ends_with(".json")) {
            const std::filesystem::path path = std::filesystem::path(plan_.file).parent_path() / said;
            Json& carried = plan_.json[Json::json_pointer(pointer)];
            carried = document::parse(document::read_text(path), path.string());
            return unit::read_recipe(Node(carried, path.string()));
        }
        std::vector<std::string> known;
        for (const unit::Recipe& one : unit::recipes()) known.push_back(one.id);
        return unit::recipes()[node.choice(known)];
    }

    void sew() {
        plan_.sewn = sewn(recipe_, plan_.finished, plan_.choices, "/unit");
        plan_.finished = Length::inches(plan_.sewn.finished); // Untrimmed units are larger than asked.
    }

    /// The recipe, run with the plan's seam and sizes as one would cut them; without its steps.
    unit::Sewn sewn(const unit::Recipe& recipe, Length finished, const unit::Choices& choices,
                    const std::string& pointer) const {
        unit::Order order;
        order.finished = finished;
        order.seam = plan_.seam;
        order.measure = plan_.measure;
        order.choices = choices;
        order.sizes = unit::Sizes::usual;
        try {
            unit::Sewn made = unit::sew(recipe, order);
            unit::batch(made, 1, plan_.usable_width); // Refuses what is wider than the cloth.
            made.steps.clear();
            return made;
        } catch (const Fault& fault) {
            std::vector<Problem> problems = fault.problems();
            for (Problem& problem : problems)
                problem.where = plan_.where(pointer) + (problem.where.empty() ? "" : ", " + problem.where);
            throw Fault(fault.cause(), std::move(problems));
        }
    }

    /// The units that borders are pieced from, once all sizes are known.
    void sew_borders() {
        for (std::size_t i = 0; i < plan_.setting.borders.size(); ++i) {
            if (!plan_.setting.borders[i].units) continue;
            Border& border = plan_.setting.borders[i];
            const std::string pointer = fmt::format("/setting/borders/{}/pieced", i);
            if (plan_.seam * 2 >= border.width)
                return complaints_.add(
                    plan_.where(fmt::format("/setting/borders/{}/width", i)),
                    fmt::format("a seam allowance of {} is too wide for units of {}",
                                measure::print_set(plan_.seam, plan_.measure),
                                measure::print_measured(border.width, plan_.measure)),
                    "a border that is pieced from units must be wider than two seam allowances");
            const bool good = complaints_.attempt([&] {
                border.units->sewn = sewn(border.units->recipe, border.width, border.units->choices, pointer);
                check_border_units(border, pointer);
            });
            if (!good || plan_.columns < 1 || plan_.rows < 1) return;
            if (const std::optional<Problem> misfit = ring_misfit(plan_, i))
                complaints_.add(misfit->where, misfit->what, misfit->remedy);
        }
    }

    void check_border_units(const Border& border, const std::string& pointer) const {
        const BorderUnits& units = *border.units;
        if (const Length comes_to = Length::inches(units.sewn.finished); comes_to != border.width)
            throw Fault(Cause::input, plan_.where(pointer),
                        fmt::format("these units come to {}, the border is {} wide",
                                    measure::print_measured(comes_to, plan_.measure),
                                    measure::print_measured(border.width, plan_.measure)),
                        "make the border as wide as its units, or trim them");
        if (!makes_one_unit(units.sewn))
            throw Fault(
                Cause::input, plan_.where(pointer + "/recipe"),
                "several of these units come from the same pieces (sewn in batches); those of a border "
                "are sewn one by one",
                fmt::format("use one of these recipes: {}", recipes_that(makes_one_unit)));
        std::vector<std::string> known;
        for (const unit::Patch& patch : units.form().patches) known.push_back(patch.role);
        for (const auto& [role, list] : units.roles)
            if (std::find(known.begin(), known.end(), role) == known.end())
                throw Fault(Cause::input,
                            plan_.where(fmt::format("{}/roles/{}", pointer, pointer_step(role))),
                            fmt::format("a {} has no role {}", units.form().name, in_quotes(role)),
                            suggestion(role, known, "see motley recipes"));
    }

    void read_turns(const Node& node) {
        if (node.is_text()) {
            plan_.turns = static_cast<Turns>(
                node.choice({"fixed", "alternate", "any", "pinwheel", "broken-dishes", "barn-raising",
                             "straight-furrow", "sunshine-and-shadow", "streak-of-lightning"}));
            return;
        }
        if (!node.is_list())
            node.refuse("the turns are neither a word nor a grid",
                        "write \"fixed\", \"alternate\", \"pinwheel\", \"any\", or a list of rows of quarter "
                        "turns such as [[0, 1], [3, 2]]");
        plan_.turns = Turns::grid;
        for (const Node& row : node.items()) {
            std::vector<int> turns;
            for (const Node& turn : row.items()) turns.push_back(static_cast<int>(turn.integer(0, 3)));
            if (turns.empty())
                row.refuse("a row of turns is empty", "each row needs at least one quarter turn, 0 to 3");
            if (!plan_.turn_grid.empty() && turns.size() != plan_.turn_grid.front().size())
                row.refuse(fmt::format("this row has {} turns, the first has {}", turns.size(),
                                       plan_.turn_grid.front().size()),
                           "all rows of the grid must be equally long");
            plan_.turn_grid.push_back(std::move(turns));
        }
        if (plan_.turn_grid.empty()) node.refuse("the grid of turns is empty", "it needs at least one row");
        const std::size_t high = plan_.turn_grid.size(), wide = plan_.turn_grid.front().size();
        if (plan_.columns > 0 && plan_.rows > 0 &&
            (high > static_cast<std::size_t>(plan_.rows) || wide > static_cast<std::size_t>(plan_.columns)))
            node.refuse(fmt::format("the grid of turns has {} rows and {} columns, the top only {} and {}",
                                    high, wide, plan_.rows, plan_.columns),
                        "a grid may be smaller than the top (it then repeats) but not larger");
    }

    void read_rules(const Node& rules) {
        known_keys(rules, {"touching", "apart", "line", "contrast", "same_if_closer_than", "exempt",
                           "least_contact"});
        complaints_.optional(rules, "touching", [&](const Node& node) {
            constexpr Touching touching[] = {Touching::corner, Touching::edge, Touching::free};
            plan_.rules.touching = touching[node.choice({"corner", "edge", "free"})];
        });
        complaints_.optional(rules, "apart", [&](const Node& node) {
            plan_.rules.apart = static_cast<int>(node.integer(1, 1000));
        });
        complaints_.optional(rules, "line", [&](const Node& node) { plan_.rules.line = node.boolean(); });
        complaints_.optional(rules, "contrast",
                             [&](const Node& node) { plan_.rules.contrast = node.number(0, 100); });
        complaints_.optional(rules, "same_if_closer_than", [&](const Node& node) {
            plan_.rules.same_if_closer_than = node.number(0, 100);
        });
        complaints_.optional(rules, "least_contact", [&](const Node& node) {
            plan_.rules.least_contact =
                within(node, "a contact that is ignored", {0}, {Length::per_inch * 2}, {0});
        });
        complaints_.optional(rules, "exempt", [&](const Node& node) { plan_.rules.exempt = texts(node); });
    }

    void read_wishes(const Node& wishes) {
        known_keys(wishes, {"spread", "colour", "value", "value_aim"});
        const auto weight = [&](const char* key, double& to) {
            complaints_.optional(wishes, key, [&](const Node& node) { to = node.number(0, 1000); });
        };
        weight("spread", plan_.wishes.spread);
        weight("colour", plan_.wishes.colour);
        weight("value", plan_.wishes.value);
        complaints_.optional(wishes, "value_aim", [&](const Node& node) {
            if (!node.is_object()) {
                constexpr Aim aims[] = {Aim::even, Aim::across, Aim::down, Aim::diagonal, Aim::centre};
                plan_.wishes.aim = aims[node.choice({"even", "across", "down", "diagonal", "centre"})];
                return;
            }
            node.allow_only({"picture"});
            plan_.wishes.picture = node.at("picture").text();
            if (plan_.wishes.picture.empty()) node.refuse("the picture has no name", "name a picture file");
            plan_.wishes.aim = Aim::picture;
        });
    }

    static Count read_count(const Node& node) {
        if (node.is_number()) {
            const int asked = static_cast<int>(node.integer(0, most_asked));
            return {Count::Kind::exact, asked, asked};
        }
        if (node.is_text())
            return {node.choice({"even", "stock"}) == 0 ? Count::Kind::even : Count::Kind::stock, 0,
                    no_limit};
        if (!node.is_object())
            node.refuse("this is not a count",
                        "write a whole number, \"even\", \"stock\", {\"at_most\": 8} or {\"at_least\": 4}");
        node.allow_only({"at_most", "at_least"});
        Count count{Count::Kind::between, 0, no_limit};
        const auto at_most = node.find("at_most"), at_least = node.find("at_least");
        if (at_most) count.most = static_cast<int>(at_most->integer(0, most_asked));
        if (at_least) count.least = static_cast<int>(at_least->integer(0, most_asked));
        if (!at_most && !at_least)
            node.refuse("this count says nothing", "it needs \"at_most\", \"at_least\" or both");
        if (count.least > count.most)
            node.refuse(fmt::format("at least {} and at most {} cannot both hold", count.least, count.most),
                        "\"at_least\" may not be more than \"at_most\"");
        return count;
    }

    void read_pin(const Node& node) {
        Pin pin;
        known_keys(node, {"row", "column", "fabrics", "turn"});
        pin.row = static_cast<int>(node.at("row").integer(1, most_cells)) - 1;
        pin.column = static_cast<int>(node.at("column").integer(1, most_cells)) - 1;
        bool says_something = false;
        if (const auto list = node.find("fabrics")) {
            for (const Node& item : list->items()) {
                pin.fabrics.push_back(item.is_null() ? std::nullopt : std::optional(item.text()));
                says_something = says_something || pin.fabrics.back();
            }
            if (plan_.forms().empty()) return; // The recipe is complained about already.
            const std::size_t patches = plan_.forms().front().patches.size();
            if (pin.fabrics.size() > patches)
                list->refuse(fmt::format("this pin names {} fabrics, a unit has {}", pin.fabrics.size(),
                                         patches == 1 ? "one patch" : fmt::format("{} patches", patches)),
                             "list one fabric for each patch, or null where the patch is free");
        }
        if (const auto turn = node.find("turn")) {
            pin.turn = static_cast<int>(turn->integer(0, 3));
            says_something = true;
        }
        if (!says_something)
            node.refuse("this pin holds nothing in place", "give it \"fabrics\", \"turn\" or both");
        plan_.pins.push_back(std::move(pin));
    }

    const Node& root_;
    Plan plan_;
    unit::Recipe recipe_ = *unit::find_recipe("plain-square");
    Complaints complaints_;
};

} // namespace

std::uint64_t read_seed(const Node& node) {
    // Seeds above the largest signed number are good seeds too.
    if (node.json().is_number_unsigned()) return node.json().get<std::uint64_t>();
    return static_cast<std::uint64_t>(node.integer(0, std::numeric_limits<std::int64_t>::max()));
}

Plan read_plan(const Node& root) {
    if (!root.is_object()) root.refuse("this is not a plan", "a plan is a JSON object, { ... }");
    check_format(root);
    return Reader(root).read();
}

} // namespace motley::layout
