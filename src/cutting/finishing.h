#pragma once
/// What finishes a quilt: backing, batting, binding. In: the size of the top, what the plan says. Out: what
/// to cut, sew and buy. Lengths are exact; purchases are rounded up to the shop's step.

#include "layout/making_up.h"
#include "measure/length.h"

namespace motley::cutting {

/// Strips of double-fold binding, joined on the diagonal: N = ceil((P - w) / (Wf - w)), where P is the way
/// round and 10 in for the corners and the last join, w the strips' cut width, Wf the cloth's usable width:
/// every join takes w. (Derived.) Fault (Cause::input): strips wider than they are long.
int binding_strips(measure::Length width, measure::Length height, measure::Length strip,
                   measure::Length usable_width);

/// The way round the quilt with what the corners and the last join take: 2 (W + H) + 10 in.
measure::Length binding_length(measure::Length width, measure::Length height);

struct BindingPlan {
    int strips = 0;
    measure::Length around; ///< `binding_length`.
    measure::Length length; ///< Of cloth, all strips.
    measure::Length buy;
};

struct BackingPlan {
    measure::Length width, height; ///< What the quilt needs: the top and the overhang all round.
    bool along = true;             ///< Panels run down the quilt, so seams do; else across it.
    int panels = 1;
    measure::Length panel;  ///< Length of each.
    measure::Length length; ///< Of cloth, all panels.
    measure::Length buy;
    measure::Length other_buy; ///< The other way.
};

struct FinishingPlan {
    BindingPlan binding;
    BackingPlan backing;
    measure::Length batting_width, batting_height;
};

/// Fewest panels of the backing's cloth each way, joined with its seam allowance; the way that buys less, and
/// of two that buy the same the one with fewer seams.
BackingPlan backing_for(measure::Length width, measure::Length height, const layout::Backing& backing,
                        const layout::Cloth& cloth);

FinishingPlan finishing_for(measure::Length width, measure::Length height, const layout::Finish& finish,
                            const layout::Cloth& cloth, measure::Length usable_width);

/// What to buy for a length of cloth: shrinkage and slack added, rounded up to the shop's step; nothing for
/// nothing.
measure::Length to_buy(measure::Length length, const layout::Cloth& cloth);

} // namespace motley::cutting
