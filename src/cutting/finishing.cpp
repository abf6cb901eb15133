#include "cutting/finishing.h"

#include <fmt/format.h>

#include <cmath>

#include "fault/fault.h"

namespace motley::cutting {

namespace {

using measure::Length;

constexpr Length corners_and_join{Length::per_inch * 10};

std::int64_t up(std::int64_t many, std::int64_t per) {
    return (many + per - 1) / per;
}

/// Backing and batting are cut by eye: what lies between a ruler's marks goes up to the next 1/8 in.
Length to_a_mark(Length length) {
    const bool on_one =
        length.ticks % (Length::per_inch / 8) == 0 || length.ticks % Length::per_millimetre == 0;
    return on_one ? length : measure::round_up(length, Length{Length::per_inch / 8});
}

} // namespace

Length binding_length(Length width, Length height) {
    return (width + height) * 2 + corners_and_join;
}

int binding_strips(Length width, Length height, Length strip, Length usable_width) {
    if (strip >= usable_width)
        throw Fault(Cause::input, "",
                    fmt::format("binding strips {} wide cannot be cut from cloth {} wide",
                                measure::print_set(strip, measure::System::inch),
                                measure::print_set(usable_width, measure::System::inch)),
                    "choose a narrower binding or wider cloth");
    const Length around = binding_length(width, height);
    return static_cast<int>(
        std::max<std::int64_t>(1, up((around - strip).ticks, (usable_width - strip).ticks)));
}

Length to_buy(Length length, const layout::Cloth& cloth) {
    if (length.ticks <= 0) return {};
    const double grown = static_cast<double>(length.ticks) / (1 - cloth.shrinkage / 100);
    const Length before_washing =
        cloth.shrinkage > 0 ? Length{static_cast<std::int64_t>(std::ceil(grown - 1e-6))} : length;
    return measure::round_up(before_washing + cloth.slack, cloth.step);
}

BackingPlan backing_for(Length width, Length height, const layout::Backing& backing,
                        const layout::Cloth& cloth) {
    BackingPlan plan;
    plan.width = to_a_mark(width + backing.overhang * 2);
    plan.height = to_a_mark(height + backing.overhang * 2);
    const Length joint = backing.seam * 2;
    if (joint >= backing.width)
        throw Fault(Cause::input, "", "the backing's seam allowances are wider than its cloth",
                    "choose a narrower seam allowance or wider cloth");
    // n panels are n widths less a joint between each two.
    const auto panels = [&](Length across) {
        return std::max<std::int64_t>(1, up((across - joint).ticks, (backing.width - joint).ticks));
    };
    const std::int64_t down = panels(plan.width), over = panels(plan.height);
    const Length buy_down = to_buy(plan.height * down, cloth), buy_over = to_buy(plan.width * over, cloth);
    plan.along = buy_down < buy_over || (buy_down == buy_over && down <= over);
    plan.panels = static_cast<int>(plan.along ? down : over);
    plan.panel = plan.along ? plan.height : plan.width;
    plan.length = plan.panel * plan.panels;
    plan.buy = plan.along ? buy_down : buy_over;
    plan.other_buy = plan.along ? buy_over : buy_down;
    return plan;
}

FinishingPlan finishing_for(Length width, Length height, const layout::Finish& finish,
                            const layout::Cloth& cloth, Length usable_width) {
    FinishingPlan plan;
    plan.binding.around = binding_length(width, height);
    plan.binding.strips = binding_strips(width, height, finish.binding.width, usable_width);
    plan.binding.length = finish.binding.width * plan.binding.strips + cloth.ends;
    plan.binding.buy = to_buy(plan.binding.length, cloth);
    plan.backing = backing_for(width, height, finish.backing, cloth);
    plan.batting_width = to_a_mark(width + finish.batting_overhang * 2);
    plan.batting_height = to_a_mark(height + finish.batting_overhang * 2);
    return plan;
}

} // namespace motley::cutting
