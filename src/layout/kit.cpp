#include "layout/kit.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "fault/fault.h"

namespace motley::layout {

namespace {

/// How many makings one strip set serves.
int makings_of_set(const unit::StripSetYield& set, measure::Length usable_width) {
    const double sections = usable_width.in_inches() / set.section;
    const int cut = static_cast<int>(sections + 1e-9);
    return std::max(1, cut / std::max(1, set.sections));
}

} // namespace

int Kit::places(int role) const {
    return static_cast<int>(
        std::count_if(slots.begin(), slots.end(), [role](const Slot& slot) { return slot.role == role; }));
}

bool makes_one_unit(const unit::Sewn& sewn) {
    return sewn.copies.size() == 1 && sewn.sets.empty();
}

bool sewn_in_batches(const unit::Sewn& sewn) {
    if (!makes_one_unit(sewn)) return true;
    std::set<int> seen;
    for (const unit::Patch& patch : sewn.forms.front().patches)
        if (!seen.insert(patch.input).second) return true;
    return false;
}

std::string recipes_that(const std::function<bool(const unit::Sewn&)>& holds) {
    std::string names;
    for (const unit::Recipe& recipe : unit::recipes())
        if (holds(unit::sew(recipe, {})))
            names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", recipe.id);
    return names;
}

Kit make_kit(const unit::Sewn& sewn, int cells, measure::Length usable_width) {
    expects(cells > 0 && !sewn.copies.empty());
    Kit kit;
    kit.cells = cells;
    const int inputs = static_cast<int>(sewn.inputs.size());
    std::vector<int> role_of, serves(static_cast<std::size_t>(inputs), 1);
    std::vector<char> in_a_set(static_cast<std::size_t>(inputs), 0);
    for (const unit::Input& input : sewn.inputs) {
        const auto known = std::find(kit.roles.begin(), kit.roles.end(), input.role);
        role_of.push_back(static_cast<int>(known - kit.roles.begin()));
        if (known == kit.roles.end()) kit.roles.push_back(input.role);
    }
    // A strip's fabric that goes into two kinds of set serves as many makings as the set that gives fewer.
    for (const unit::StripSetYield& set : sewn.sets)
        for (const int input : set.inputs) {
            int& most = serves[static_cast<std::size_t>(input)];
            const int by_this = makings_of_set(set, usable_width);
            most = in_a_set[static_cast<std::size_t>(input)] ? std::min(most, by_this) : by_this;
            in_a_set[static_cast<std::size_t>(input)] = 1;
        }
    const int copies = static_cast<int>(sewn.copies.size());
    const int makings = (cells + copies - 1) / copies;
    // Twins share the slots that serve the most makings: the strips, where there are any.
    const int widest = *std::max_element(serves.begin(), serves.end());
    for (int m = 0; m < makings; ++m) {
        kit.makings.emplace_back();
        for (int i = 0; i < inputs; ++i) {
            const std::size_t at = static_cast<std::size_t>(i);
            if (m % serves[at] == 0) kit.slots.push_back({i, role_of[at], m});
            const int slot = m % serves[at] == 0 ? static_cast<int>(kit.slots.size()) - 1
                                                 : kit.makings[static_cast<std::size_t>(m) - 1][at];
            kit.makings.back().push_back(slot);
        }
        for (int c = 0; c < copies; ++c) {
            KitUnit unit;
            unit.form = sewn.copies[static_cast<std::size_t>(c)].form;
            unit.making = m;
            unit.twins = m / widest;
            unit.copy = c;
            for (const unit::Patch& patch : sewn.forms[static_cast<std::size_t>(unit.form)].patches)
                unit.slots.push_back(kit.makings.back()[static_cast<std::size_t>(patch.input)]);
            kit.units.push_back(std::move(unit));
        }
    }
    return kit;
}

} // namespace motley::layout
