#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "unit/sewn.h"

namespace motley::unit {

namespace {

int up(int many, int per) {
    return (many + per - 1) / per;
}

/// How many of a size lie side by side across a width.
int across(measure::Length width, measure::Length size, const std::string& what) {
    expects(size.ticks > 0);
    if (size > width)
        throw Fault(Cause::input, "",
                    fmt::format("{} of {:.4g} in is wider than {:.4g} in of usable width", what,
                                size.in_inches(), width.in_inches()),
                    "choose smaller pieces or wider fabric");
    return static_cast<int>(std::min<std::int64_t>(width.ticks / size.ticks, 1'000'000));
}

} // namespace

Batch batch(const Sewn& sewn, int units, measure::Length usable_width) {
    expects(units >= 0 && usable_width.ticks > 0);
    Batch made;
    const int each = static_cast<int>(sewn.copies.size());
    made.makings = up(units, each);
    made.spare_units = made.makings * each - units;
    std::vector<int> strips_in_sets(sewn.inputs.size(), 0);
    for (const StripSetYield& set : sewn.sets) {
        Batch::OfSet of;
        of.per_strip = across(usable_width, set.section_cut, "a section of " + set.name);
        of.sets = up(made.makings * set.sections, of.per_strip);
        of.strips = of.sets * static_cast<int>(set.inputs.size());
        of.spare = of.sets * of.per_strip - made.makings * set.sections;
        for (const int input : set.inputs) strips_in_sets[static_cast<std::size_t>(input)] += of.sets;
        made.sets.push_back(of);
    }
    for (std::size_t i = 0; i < sewn.inputs.size(); ++i) {
        const Input& input = sewn.inputs[i];
        Batch::OfInput of;
        of.pieces = made.makings * input.pieces;
        if (strips_in_sets[i] > 0) {
            of.pieces = of.strips = strips_in_sets[i];
            of.per_width = 1;
        } else {
            const measure::Length along = input.shape == Cut::strip ? input.height_cut : input.width_cut;
            of.per_width = across(usable_width, along, input.name) * input.per_square;
            of.strips = up(of.pieces, of.per_width);
        }
        const measure::Length deep = input.shape == Cut::rectangle ? input.height_cut : input.width_cut;
        of.length = deep * of.strips;
        made.inputs.push_back(of);
    }
    return made;
}

} // namespace motley::unit
