#pragma once
/// What the tests of virtual sewing share: orders in inches, visible areas, a recipe from text.

#include <cmath>
#include <string>
#include <vector>

#include "unit/sewn.h"

namespace workbench {

using namespace motley;

inline unit::Order order(double finished, double seam) {
    unit::Order made;
    made.finished = measure::Length::inches(finished);
    made.seam = measure::Length::inches(seam);
    return made;
}

inline unit::Order with(unit::Order made, const std::string& name, std::vector<double> inches) {
    made.choices.push_back({name, std::move(inches), {}});
    return made;
}

inline unit::Order with_word(unit::Order made, const std::string& name, const std::string& word) {
    made.choices.push_back({name, {}, word});
    return made;
}

inline unit::Sewn sewn(const std::string& id, const unit::Order& order) {
    const unit::Recipe* recipe = unit::find_recipe(id);
    if (!recipe) throw std::runtime_error("no recipe " + id);
    return unit::sew(*recipe, order);
}

/// Square inches of each input in a form.
inline std::vector<double> visible(const unit::Sewn& sewn, const unit::Form& form) {
    std::vector<double> areas(sewn.inputs.size(), 0);
    for (const unit::Patch& patch : form.patches)
        areas[static_cast<std::size_t>(patch.input)] += patch.area * sewn.finished * sewn.finished;
    return areas;
}

inline unit::Recipe recipe_of(const std::string& text) {
    const document::Json json = document::parse(text, "test.json");
    return unit::read_recipe(document::Node(json, "test.json"));
}

inline double exact_size(const unit::Sewn& sewn, const std::string& name) {
    for (const unit::Found& found : sewn.found)
        if (found.name == name) return found.exact;
    throw std::runtime_error("nothing found for " + name);
}

inline measure::Length usual_size(const unit::Sewn& sewn, const std::string& name) {
    for (const unit::Found& found : sewn.found)
        if (found.name == name) return found.usual;
    throw std::runtime_error("nothing found for " + name);
}

} // namespace workbench
