#pragma once
/// Tops made up for the tests of what is laid out.

#include <algorithm>
#include <vector>

#include "layout/top.h"
#include "oracle/tops.h"
#include "sample.h"

namespace sample {

/// A top whose units show fabrics of chance, the fabric that is none where no unit is.
inline motley::layout::Layout top_of_chance(const std::vector<Change>& changes, int fabrics_in_all,
                                            oracle::Dice& dice) {
    motley::layout::Layout top;
    top.plan = plan(changes);
    top.fabrics = fabrics(fabrics_in_all);
    const motley::layout::Board board = top.plan.board();
    std::size_t places = 0;
    for (const motley::unit::Form& form : top.plan.forms()) places = std::max(places, form.patches.size());
    for (int cell = 0; cell < board.cells(); ++cell) {
        for (std::size_t p = 0; p < places; ++p)
            top.assignment.patches.push_back(board.present(cell) ? oracle::id(dice.below(fabrics_in_all))
                                                                 : oracle::id(fabrics_in_all));
        top.assignment.turns.push_back(static_cast<std::uint8_t>(dice.below(4)));
        if (top.plan.forms().size() > 1)
            top.assignment.forms.push_back(
                static_cast<std::uint8_t>(dice.below(static_cast<int>(top.plan.forms().size()))));
    }
    return top;
}

/// Whether a point lies in a shape or on its edge.
inline bool holds(const motley::layout::Shape& shape, motley::unit::Point p) {
    for (std::size_t i = 0; i < shape.outline.size(); ++i) {
        const motley::unit::Point a = shape.outline[i], b = shape.outline[(i + 1) % shape.outline.size()];
        if (motley::unit::cross(b - a, p - a) < 0) return false;
    }
    return true;
}

} // namespace sample
