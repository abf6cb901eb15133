// `motley recipes`: the ways to sew a unit, told step by step.

#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/table.h"
#include "document/document.h"
#include "unit/recipe.h"
#include "unit/sewn.h"

namespace motley::cli {

namespace {

using document::Json;
using measure::Length;

constexpr const char* sides[] = {"top", "right", "bottom", "left"};

std::string inches(double exact, measure::System measure) {
    return measure::print_measured(Length::inches(exact), measure);
}

/// A recipe of the program's, or of a file.
unit::Recipe wanted(const std::string& name) {
    if (name.ends_with(".json")) {
        const document::Json json = document::parse(document::read_text(name), name);
        return unit::read_recipe(document::Node(json, name));
    }
    if (const unit::Recipe* found = unit::find_recipe(name)) return *found;
    std::vector<std::string> known;
    for (const unit::Recipe& recipe : unit::recipes()) known.push_back(recipe.id);
    const Json word = name;
    (void)document::Node(word, "motley recipes").choice(known); // Complains, with the nearest name.
    return unit::recipes().front();
}

struct Asked {
    unit::Recipe recipe;
    unit::Order order;
    Length usable_width;
    unit::Sewn sewn;
};

Asked sewn(const Words& words) {
    Asked asked;
    asked.recipe = wanted(words.name);
    const bool metric = words.metric || asked.recipe.measure == measure::System::metric;
    asked.order.measure = metric ? measure::System::metric : measure::System::inch;
    const auto length = [&](const std::string& text, const char* option, Length standard) {
        return text.empty() ? standard : measure::read_length(text, asked.order.measure, option);
    };
    asked.order.finished =
        length(words.finished, "--finished",
               metric ? Length{Length::per_millimetre * 150} : Length{Length::per_inch * 6});
    asked.order.seam =
        length(words.seam, "--seam",
               metric ? Length{Length::per_millimetre * 15 / 2} : Length{Length::per_inch / 4});
    asked.usable_width =
        length(words.usable_width, "--width",
               metric ? Length{Length::per_millimetre * 1050} : Length{Length::per_inch * 42});
    asked.order.sizes = unit::Sizes::usual;
    for (const std::string& word : words.choices) {
        const std::size_t sign = word.find('=');
        if (sign == std::string::npos || sign == 0)
            throw Fault(Cause::input, "--choose", fmt::format("found {}", document::in_quotes(word)),
                        "give a name and what it should be, such as strips=4");
        asked.order.choices.push_back(
            unit::choose(asked.recipe, word.substr(0, sign), word.substr(sign + 1), asked.order.measure));
    }
    asked.sewn = unit::sew(asked.recipe, asked.order);
    return asked;
}

std::string cut_size(const unit::Input& input, measure::System measure) {
    const auto both = measure::print_sides(input.width_cut, input.height_cut, measure);
    return input.shape == unit::Cut::strip ? fmt::format("strip {} wide, {} of it in all",
                                                         measure::print_measured(input.width_cut, measure),
                                                         measure::print_measured(input.height_cut, measure))
                                           : both[0] + " x " + both[1];
}

/// What the ruler makes of a size; one that is not rounded up may lie between its marks.
std::string as_cut(Length size, measure::System measure) {
    const std::string mark = measure::print_measured(size, measure);
    const Length marked = measure::read_length(mark, measure, "");
    const std::int64_t off = size.ticks - marked.ticks;
    if (off == 0) return "cut as " + mark;
    return fmt::format("cut a little {} {}", off > 0 ? "more than" : "less than", mark);
}

std::string bias_edges(const unit::Form& form) {
    std::string edges;
    for (std::size_t side = 0; side < 4; ++side) {
        const auto& shares = form.edges[side];
        if (std::none_of(shares.begin(), shares.end(), [](const unit::EdgeShare& s) { return s.bias; }))
            continue;
        edges += (edges.empty() ? "" : ", ") + std::string(sides[side]);
    }
    return edges;
}

/// What of each input a unit shows, in the order of the inputs.
std::vector<double> shown(const unit::Sewn& sewn, const unit::Form& form) {
    std::vector<double> areas(sewn.inputs.size());
    for (const unit::Patch& patch : form.patches)
        areas[static_cast<std::size_t>(patch.input)] += patch.area * sewn.finished * sewn.finished;
    return areas;
}

void tell_pieces(const Asked& asked, std::ostream& out) {
    const measure::System measure = asked.order.measure;
    Table table({"piece", ">cut", "size to cut", "from"});
    for (const unit::Input& input : asked.sewn.inputs)
        table.add({input.name, std::to_string(input.pieces), cut_size(input, measure), input.where_from});
    out << table.text();
    const bool metric = measure == measure::System::metric;
    for (const unit::Found& found : asked.sewn.found)
        out << fmt::format("{}, {}: {}{:.4f} {}, {}.\n", found.name, found.says,
                           found.chosen ? "chosen, " : "exactly ", found.exact * (metric ? 2.54 : 1),
                           metric ? "cm" : "in", as_cut(found.usual, measure));
    if (std::any_of(asked.sewn.inputs.begin(), asked.sewn.inputs.end(),
                    [](const unit::Input& input) { return input.per_square > 1; }))
        out << "Triangles are cut from squares of that size.\n";
}

void tell_units(const Asked& asked, std::ostream& out) {
    const unit::Sewn& sewn = asked.sewn;
    const bool metric = asked.order.measure == measure::System::metric;
    const double unit = metric ? 2.54 * 2.54 : 1;
    out << fmt::format("\nMakes {} unit{} that finish{} at {}, {} before they are sewn to others.\n",
                       sewn.copies.size(), sewn.copies.size() == 1 ? "" : "s",
                       sewn.copies.size() == 1 ? "es" : "", inches(sewn.finished, asked.order.measure),
                       inches(sewn.finished + 2 * asked.order.seam.in_inches(), asked.order.measure));
    std::vector<std::string> headings{"shows (" + std::string(metric ? "sq cm" : "sq in") + ")"};
    for (std::size_t f = 0; f < sewn.forms.size(); ++f)
        headings.push_back(sewn.forms.size() == 1
                               ? ">each unit"
                               : fmt::format(">unit {} (x{})", f + 1, sewn.forms[f].count));
    Table table(std::move(headings));
    for (std::size_t i = 0; i < sewn.inputs.size(); ++i) {
        std::vector<std::string> row{sewn.inputs[i].name};
        for (const unit::Form& form : sewn.forms)
            row.push_back(fmt::format("{:.5f}", shown(sewn, form)[i] * unit));
        table.add(std::move(row));
    }
    out << table.text();
    for (std::size_t f = 0; f < sewn.forms.size(); ++f) {
        const unit::Form& form = sewn.forms[f];
        const std::string name = sewn.forms.size() == 1 ? "Outer" : fmt::format("Unit {}: outer", f + 1);
        const std::string bias = bias_edges(form);
        out << fmt::format("{} edges on the bias: {}.", name, bias.empty() ? "none" : bias);
        if (form.mirror_of >= 0)
            out << fmt::format(" It is the mirror image of unit {}.", form.mirror_of + 1);
        out << '\n';
    }
}

void tell_batch(const Asked& asked, int units, std::ostream& out) {
    const unit::Batch batch = unit::batch(asked.sewn, units, asked.usable_width);
    const measure::System measure = asked.order.measure;
    out << fmt::format("\nFor {} unit{} from cloth {} wide: {} making{}, {} unit{} to spare.\n", units,
                       units == 1 ? "" : "s", measure::print_measured(asked.usable_width, measure),
                       batch.makings, batch.makings == 1 ? "" : "s", batch.spare_units,
                       batch.spare_units == 1 ? "" : "s");
    for (std::size_t s = 0; s < batch.sets.size(); ++s) {
        const unit::Batch::OfSet& set = batch.sets[s];
        out << fmt::format("  {}: {} strip set{} of {} strips in all, {} sections from each, {} to spare\n",
                           asked.sewn.sets[s].name, set.sets, set.sets == 1 ? "" : "s", set.strips,
                           set.per_strip, set.spare);
    }
    Table table({"piece", ">to cut", ">pieces from one width of cloth", ">widths to cut",
                 "cloth, if all of one fabric"});
    for (std::size_t i = 0; i < batch.inputs.size(); ++i) {
        const unit::Batch::OfInput& input = batch.inputs[i];
        table.add({asked.sewn.inputs[i].name, std::to_string(input.pieces), std::to_string(input.per_width),
                   std::to_string(input.strips), measure::print_measured(input.length, measure)});
    }
    out << table.text();
}

void tell_recipe(const Asked& asked, int units, std::ostream& out) {
    out << fmt::format("{}: {}\n{}\n\n", asked.recipe.id, asked.recipe.name, asked.recipe.about);
    if (!asked.recipe.parameters.empty() || !asked.recipe.unknowns.empty()) {
        out << "You may choose (--choose NAME=VALUE):\n";
        for (const unit::Parameter& parameter : asked.recipe.parameters)
            out << fmt::format("  {}: {}{}\n", parameter.name, parameter.says,
                               parameter.words.empty()
                                   ? std::string()
                                   : fmt::format(" ({})", fmt::join(parameter.words, ", ")));
        for (const unit::Unknown& unknown : asked.recipe.unknowns)
            out << fmt::format("  {}: {} (found otherwise)\n", unknown.name, unknown.says);
        out << '\n';
    }
    tell_pieces(asked, out);
    out << '\n';
    for (const unit::Step& step : asked.sewn.steps) {
        out << fmt::format("{}. {}\n", step.number, step.text);
        if (!step.outcome.empty()) out << "   " << step.outcome << '\n';
    }
    tell_units(asked, out);
    tell_batch(asked, units, out);
    out << "\nTake care: close the rotary cutter at every pause and cut away from the hand, never leave a "
           "hot "
           "iron on, count pins and needles, and keep all of them out of children's reach.\n";
}

Json edges_json(const unit::Form& form, double finished) {
    Json all = Json::array();
    for (const auto& side : form.edges) {
        Json shares = Json::array();
        for (const unit::EdgeShare& share : side)
            shares.push_back({{"input", share.input},
                              {"length", (share.to - share.from) * finished},
                              {"bias", share.bias}});
        all.push_back(std::move(shares));
    }
    return all;
}

/// Lengths in inches, areas in square inches, whatever is printed.
Json recipe_json(const Asked& asked, int units) {
    const unit::Sewn& sewn = asked.sewn;
    Json json{{"recipe", asked.recipe.id},
              {"name", asked.recipe.name},
              {"measure", "inch"},
              {"finished", sewn.finished},
              {"seam", asked.order.seam.in_inches()}};
    json["pieces"] = Json::array();
    for (const unit::Input& input : sewn.inputs)
        json["pieces"].push_back({{"name", input.name},
                                  {"role", input.role},
                                  {"count", input.pieces},
                                  {"exact", {input.width, input.height}},
                                  {"cut", {input.width_cut.in_inches(), input.height_cut.in_inches()}},
                                  {"per_square", input.per_square}});
    json["found"] = Json::array();
    for (const unit::Found& found : sewn.found)
        json["found"].push_back(
            {{"name", found.name}, {"exact", found.exact}, {"cut", found.usual.in_inches()}});
    json["steps"] = Json::array();
    for (const unit::Step& step : sewn.steps) {
        Json measured = Json::array();
        for (const unit::Measured& thing : step.measured)
            measured.push_back({{"thing", thing.thing}, {"width", thing.width}, {"height", thing.height}});
        json["steps"].push_back({{"step", step.text}, {"measures", std::move(measured)}});
    }
    json["units"] = Json::array();
    for (const unit::Form& form : sewn.forms) {
        Json areas = Json::array();
        for (const double area : shown(sewn, form)) areas.push_back(area);
        Json one{
            {"count", form.count}, {"areas", std::move(areas)}, {"edges", edges_json(form, sewn.finished)}};
        if (form.mirror_of >= 0) one["mirror_of"] = form.mirror_of + 1;
        json["units"].push_back(std::move(one));
    }
    const unit::Batch batch = unit::batch(sewn, units, asked.usable_width);
    json["batch"] = {{"units", units}, {"makings", batch.makings}, {"spare", batch.spare_units}};
    json["batch"]["sets"] = Json::array();
    for (const unit::Batch::OfSet& set : batch.sets)
        json["batch"]["sets"].push_back({{"sets", set.sets},
                                         {"strips", set.strips},
                                         {"sections_per_set", set.per_strip},
                                         {"spare", set.spare}});
    json["batch"]["pieces"] = Json::array();
    for (const unit::Batch::OfInput& input : batch.inputs)
        json["batch"]["pieces"].push_back(
            {{"count", input.pieces}, {"widths", input.strips}, {"length", input.length.in_inches()}});
    return json;
}

} // namespace

int recipes(const Words& words, const Streams& streams) {
    if (words.name.empty()) {
        if (words.json) {
            Json list = Json::array();
            for (const unit::Recipe& recipe : unit::recipes())
                list.push_back({{"recipe", recipe.id}, {"name", recipe.name}, {"about", recipe.about}});
            streams.out << document::print(list);
            return 0;
        }
        Table table({"recipe", "what it makes"});
        for (const unit::Recipe& recipe : unit::recipes()) table.add({recipe.id, recipe.name});
        streams.out << table.text() << "\nmotley recipes NAME tells how one is sewn.\n";
        return 0;
    }
    const Asked asked = sewn(words);
    const int units = words.units > 0 ? words.units : static_cast<int>(asked.sewn.copies.size());
    std::vector<std::string> files;
    if (!words.draw.empty()) files = pipeline::draw_steps(asked.sewn, words.draw);
    if (words.json)
        streams.out << document::print(recipe_json(asked, units));
    else
        tell_recipe(asked, units, streams.out);
    if (!files.empty() && !words.json)
        streams.out << fmt::format("\nIn {}: {}.\n", words.draw.string(), fmt::join(files, ", "));
    return 0;
}

} // namespace motley::cli
