#include "unit/sewn.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "fault/fault.h"
#include "unit/look.h"
#include "unit/run.h"
#include "unit/said.h"

namespace motley::unit {

namespace {

constexpr double as_ordered = 1e-6; ///< Inches; a unit within that of its size has it.

std::string described(const Input& input) {
    switch (input.shape) {
        case Cut::strip:
            return "strip";
        case Cut::square:
            return "square";
        case Cut::rectangle:
            return "rectangle";
        case Cut::half_square:
            return "square, cut once on the diagonal";
        case Cut::quarter_square:
            return "square, cut on both diagonals";
    }
    return {};
}

/// The side of the finished unit. Fault unless all units are squares of one size.
double finished_side(const Recipe& recipe, const Order& order, const std::vector<Flat>& units, double seam) {
    const Said said(order.measure);
    const Box first = box(units[0]);
    for (const Flat& flat : units) {
        const Box around = box(flat);
        if (std::abs(around.width() - around.height()) > as_ordered ||
            std::abs(around.width() - first.width()) > as_ordered)
            throw Fault(
                Cause::input, "recipe " + recipe.id,
                fmt::format("the units made are not squares of one size: one measures {}, the first {}",
                            said(around.width(), around.height()), said(first.width(), first.height())),
                "units must fill the square cells of the top");
        const double missing = around.width() * around.height() - showing(flat);
        if (std::abs(missing) > as_ordered * around.width())
            throw Fault(Cause::input, "recipe " + recipe.id,
                        fmt::format("a unit of {} is not filled: {:.3f} sq in of it are missing",
                                    said(around.width(), around.height()), missing),
                        "let the last step trim it to a square");
    }
    const double side = first.width() - 2 * seam, ordered = order.finished.in_inches();
    if (side <= as_ordered)
        throw Fault(Cause::input, "recipe " + recipe.id, "the unit is no wider than its seam allowances",
                    "ask for a larger unit or a narrower seam");
    return std::abs(side - ordered) < as_ordered ? ordered : side;
}

void add_units(Sewn& made, const Recipe& recipe, const Order& order, const Bench& bench) {
    std::vector<Flat> units;
    for (const std::string& name : recipe.makes)
        for (Flat& flat : bench.flats(name)) units.push_back(std::move(flat));
    made.finished = finished_side(recipe, order, units, bench.seam());
    for (const Flat& flat : units)
        made.copies.push_back(
            enter(made.forms, look(flat, made.finished, bench.seam(), made.inputs), made.finished));
    pair_mirrored(made.forms);
    for (std::size_t i = 0; i < made.forms.size(); ++i) {
        Form& form = made.forms[i];
        form.id = made.forms.size() == 1 ? recipe.id : fmt::format("{}.{}", recipe.id, i + 1);
        form.name = recipe.name;
    }
}

void add_leftovers(Sewn& made, const Recipe& recipe, const Bench& bench) {
    made.ledger = bench.ledger();
    for (const auto& [name, flat] : bench.lying()) {
        if (std::find(recipe.makes.begin(), recipe.makes.end(), name) != recipe.makes.end()) continue;
        const double shown = showing(flat), under = allowances(flat);
        if (shown <= 0) continue;
        made.leftovers.push_back({name, box(flat).width(), box(flat).height()});
        made.ledger.showing -= shown;
        made.ledger.allowances -= under;
        made.ledger.trimmings += shown + under;
    }
}

} // namespace

Sewn sew(const Recipe& recipe, const Order& order) {
    Values values(recipe, order);
    std::vector<Found> found;
    for (const Unknown& unknown : recipe.unknowns)
        found.push_back({unknown.name, unknown.says, 0, {}, values.has(unknown.name)});
    seek(recipe, order, values);
    Values usual = values;
    const auto round_up = [&](bool generously) {
        for (Found& size : found) {
            size.exact = values.of(size.name);
            const auto unknown = std::find_if(recipe.unknowns.begin(), recipe.unknowns.end(),
                                              [&](const Unknown& u) { return u.name == size.name; });
            const bool rounds = !size.chosen && unknown->rounds;
            size.usual = rounds ? usual_size(size.exact, order.measure, generously && unknown->generous)
                                : measure::Length::inches(size.exact);
            if (rounds) usual.set(size.name, size.usual.in_inches());
        }
    };
    const auto run_it = [&] {
        return run(recipe, order, order.sizes == Sizes::usual ? usual : values, usual, false);
    };
    round_up(true);
    Run ran = [&] {
        if (std::none_of(recipe.unknowns.begin(), recipe.unknowns.end(),
                         [](const Unknown& u) { return u.generous; }))
            return run_it();
        try {
            return run_it();
        } catch (const Fault&) { // More than a narrow set has: then no more than it takes.
            round_up(false);
            return run_it();
        }
    }();
    for (const Shortfall& shortfall : ran.shortfalls) {
        const auto sought = std::find_if(found.begin(), found.end(),
                                         [&](const Found& size) { return size.name == shortfall.finds; });
        expects(order.sizes == Sizes::usual || sought->chosen || std::abs(shortfall.by) < 1e-9);
    }
    Sewn made;
    made.inputs = std::move(ran.inputs);
    for (Input& input : made.inputs) input.where_from = described(input);
    add_units(made, recipe, order, ran.bench);
    made.sets = std::move(ran.sets);
    made.steps = std::move(ran.steps);
    add_leftovers(made, recipe, ran.bench);
    made.found = std::move(found);
    return made;
}

} // namespace motley::unit
