#include "pipeline/handout.h"

#include "assembly/assembly.h"
#include "fault/fault.h"
#include "handout/handout.h"
#include "layout/top.h"
#include "pipeline/other_sizes.h"
#include "pipeline/pipeline.h"
#include "unit/recipe.h"

namespace motley::pipeline {

namespace {

/// As the plan has it: one of the program's, or the user's own, which the layout carries.
unit::Recipe recipe_of(const layout::Plan& plan) {
    const document::Node root(plan.json, plan.place);
    if (const auto unit = root.find("unit"))
        if (const auto recipe = unit->find("recipe"); recipe && recipe->is_object())
            return unit::read_recipe(*recipe);
    const unit::Recipe* known = unit::find_recipe(plan.recipe);
    expects(known != nullptr);
    return *known;
}

/// The size that was asked for: a unit that is not trimmed comes out larger, and is sewn from this all the
/// same.
measure::Length asked_size(const layout::Plan& plan) {
    const document::Node root(plan.json, plan.place);
    if (const auto unit = root.find("unit"))
        if (const auto finished = unit->find("finished")) return layout::read_length(*finished, plan.measure);
    return plan.measure == measure::System::inch ? measure::Length{measure::Length::per_inch * 6}
                                                 : measure::Length{measure::Length::per_millimetre * 150};
}

/// With its steps, as the plan sews.
unit::Sewn sewn_of(const layout::Plan& plan, const unit::Recipe& recipe, measure::Length finished,
                   const unit::Choices& choices) {
    unit::Order order;
    order.finished = finished;
    order.seam = plan.seam;
    order.measure = plan.measure;
    order.choices = choices;
    order.sizes = unit::Sizes::usual;
    return unit::sew(recipe, order);
}

std::vector<handout::BorderUnits> border_units(const layout::Plan& plan) {
    std::vector<handout::BorderUnits> made;
    for (std::size_t b = 0; b < plan.setting.borders.size(); ++b) {
        const layout::Border& border = plan.setting.borders[b];
        if (!border.units) continue;
        const auto patches = static_cast<int>(border.units->form().patches.size());
        made.push_back({.border = static_cast<int>(b),
                        .units = layout::border_patches(plan, b) / patches,
                        .sewn = sewn_of(plan, border.units->recipe, border.width, border.units->choices),
                        .recipe = border.units->recipe.name});
    }
    return made;
}

} // namespace

std::vector<std::byte> handout_of(const layout::Layout& layout, const Lists& lists,
                                  const photo::Raster& picture) {
    const assembly::Assembly assembly = assembly::assemble(layout);
    const std::vector<cutting::SizeRow> sizes = other_sizes(layout);
    const unit::Recipe recipe = recipe_of(layout.plan);
    const unit::Sewn sewn = sewn_of(layout.plan, recipe, asked_size(layout.plan), layout.plan.choices);
    return handout::make_handout({.layout = layout,
                                  .counts = lists.counts,
                                  .cutting = lists.cutting,
                                  .buying = lists.buying,
                                  .finishing = lists.finishing,
                                  .assembly = assembly,
                                  .sizes = sizes,
                                  .sewn = sewn,
                                  .recipe = recipe.name,
                                  .preview = picture,
                                  .version = version(),
                                  .border_units = border_units(layout.plan)});
}

} // namespace motley::pipeline
