#pragma once
/// Recipes as data: the ways to sew a unit, as real operations on real cloth. The format ("motley recipe 1")
/// is described in recipes/README.md beside this file; the recipes there are built into the program.

#include <string>
#include <string_view>
#include <vector>

#include "document/document.h"
#include "measure/length.h"
#include "unit/action.h"
#include "unit/expression.h"

namespace motley::unit {

/// Something the user may choose.
struct Parameter {
    enum class Kind { whole, length, word };
    std::string name;
    std::string says; ///< For people: "strips in a set".
    Kind kind = Kind::whole;
    Expression standard;            ///< Unless chosen (whole, length).
    int least = 1, most = 99;       ///< whole
    std::vector<std::string> words; ///< word; the first is the standard one.
    bool each = false;              ///< length: a list is taken too, one for each copy of the input.
};

/// A size that the program finds, so that the steps' wishes come true. A choice of its name fixes it instead.
struct Unknown {
    std::string name;
    std::string says;
    Expression guess;      ///< Any size at which the steps are possible.
    bool rounds = true;    ///< To the ruler's marks, upwards; the recipe trims what is too much.
    bool generous = false; ///< To 1/2 in or 1 cm rather than to 1/8 in or 5 mm, where the cloth has it.
};

enum class Cut {
    strip,          ///< `width` across; as long as the steps take.
    square,         ///< `width`
    rectangle,      ///< `width` across the fabric, `height` along its grain
    half_square,    ///< Half of a square of side `width`, cut once on the diagonal.
    quarter_square, ///< A quarter of it, cut twice.
};

/// What goes in. One entry may stand for several inputs, each with its own fabric: "strip 1", "strip 2".
struct InputRule {
    std::string name;
    std::string role;
    Cut shape = Cut::square;
    Expression width, height;
    Expression copies{1};  ///< Inputs of this kind.
    Expression pieces{1};  ///< Cut of each, all of one fabric. A strip: cut as the steps take them.
    bool numbered = false; ///< `copies` was written: the inputs are called "strip 1", "strip 2".
};

struct Recipe {
    std::string id;
    std::string name;                                ///< As said to people.
    std::string about;                               ///< One or two sentences.
    measure::System measure = measure::System::inch; ///< Of bare lengths in its file.
    std::vector<Parameter> parameters;
    std::vector<Unknown> unknowns;
    std::vector<InputRule> inputs;
    std::vector<Action> steps;
    std::vector<std::string> makes; ///< Names of the finished units.
};

/// Built into the program, in the order in which `motley recipes` lists them. Checked by `read_recipe`.
const std::vector<Recipe>& recipes();

/// Null when there is none of that id.
const Recipe* find_recipe(std::string_view id);

/// A user's recipe. Faults name the place in the file. What only sewing can show is left to `sew`.
Recipe read_recipe(const document::Node& node);

/// What was chosen for one parameter or unknown.
struct Choice {
    std::string name;
    std::vector<double> numbers; ///< A whole number, or lengths in inches.
    std::string word;
};
using Choices = std::vector<Choice>;

/// A found size.
struct Found {
    std::string name;
    std::string says;
    double exact = 0; ///< Inches.
    measure::Length
        usual; ///< Rounded up to 1/8 in or 5 mm (1/2 in or 1 cm); kept where the ruler already has it.
    bool chosen = false; ///< It was given, not sought.
};

/// From a plan: {"strips": 5, "strip": ["2 1/2", "2"], "trim": "none"}. Faults: an unknown name, a value of
/// the wrong kind.
Choices read_choices(const Recipe& recipe, const document::Node& node, measure::System measure);

/// From the command line: name and text ("strip", "2 1/2, 2, 1 1/2").
Choice choose(const Recipe& recipe, const std::string& name, const std::string& text,
              measure::System measure);

} // namespace motley::unit
