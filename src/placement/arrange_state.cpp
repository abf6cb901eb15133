#include "placement/arrange_state.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fault/fault.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Hanging::Hanging(const Units& units, const Prices& prices, Hung start, bool wished)
    : units_(units),
      wall_(units.wall),
      prices_(prices),
      hung_(std::move(start)),
      wished_(wished && !prices.asks_nothing),
      zone_(wall_.brief.rules.apart > 1 || wall_.brief.rules.line),
      cell_of_(at(units.count()), -1) {
    for (const int cell : wall_.places)
        if (unit(cell) >= 0) cell_of_[at(unit(cell))] = cell;
    for (int f = 0; wished_ && f < units.fabrics; ++f)
        for (int g = 0; g < f; ++g) coloured_ = coloured_ || price(f, g) != 0;
    count();
}

void Hanging::count() {
    // Every pair is met from both sides.
    for (const int cell : wall_.places) {
        const Breaks here = trouble(cell);
        tally_.rules += here.rules;
        tally_.twins += here.twins;
    }
    tally_.rules /= 2, tally_.twins /= 2;
    if (!wished_) return;
    spread_field_.assign(at(units_.fabrics) * at(wall_.cells), 0);
    if (coloured_) colour_field_.assign(at(units_.fabrics) * at(wall_.cells), 0);
    std::vector<std::int32_t> light(at(wall_.cells), 0);
    std::int64_t all = 0;
    for (const int cell : wall_.places) {
        add_to_fields(cell, unit(cell), 1);
        light[at(cell)] = units_.light(unit(cell));
        all += units_.light(unit(cell));
    }
    for (const int cell : wall_.places)
        tally_.links += links_at(cell, unit(cell), pose(cell), -1) + field_at(cell, unit(cell)) +
                        prices_.twins * twin_pull(unit(cell), cell, -1);
    tally_.links /= 2;
    base_ = all * prices_.in_window / static_cast<std::int64_t>(wall_.places.size());
    light_.emplace(wall_.light_map, std::move(light), base_);
    tally_.light = light_->tally();
}

// ---- rules
// --------------------------------------------------------------------------------------------------------

Hanging::Breaks Hanging::between(int u, int pose_u, int a, int v, int pose_v, int b) const {
    if (u < 0 || v < 0) return {};
    const int way = wall_.way(a, b);
    return {units_.rule_breaks(u, pose_u, a, v, pose_v, b, way), units_.twin_breaks(u, v, way)};
}

/// Of a unit if it hung in the cell, `without` what hangs in another.
Hanging::Breaks Hanging::breaks_at(int cell, int u, int pose_u, int without) const {
    Breaks broken;
    if (u < 0) return broken;
    for (const Wall::Neighbour near : wall_.around(cell)) {
        const int v = unit(near.cell);
        if (v < 0 || near.cell == without) continue;
        broken.rules += units_.rule_breaks(u, pose_u, cell, v, pose(near.cell), near.cell, near.way);
        broken.twins += units_.twin_breaks(u, v, near.way);
    }
    if (!zone_) return broken;
    wall_.for_apart(cell, [&](int other) {
        const int v = unit(other);
        if (v < 0 || other == without || wall_.way(cell, other) >= 0) return;
        broken.rules += units_.rule_breaks(u, pose_u, cell, v, pose(other), other, -1);
    });
    return broken;
}

Hanging::Breaks Hanging::trouble(int cell) const {
    return unit(cell) < 0 ? Breaks{} : breaks_at(cell, unit(cell), pose(cell), -1);
}

Hanging::Breaks Hanging::breaks(const Change& change) const {
    Breaks sum;
    const auto add = [&](const Breaks& more, int sign) {
        sum.rules += sign * more.rules;
        sum.twins += sign * more.twins;
    };
    const auto [a, b, unit_a, unit_b, turn_a, turn_b] = change;
    const int pose_a = units_.pose(unit_a, turn_a);
    add(breaks_at(a, unit_a, pose_a, b), 1);
    if (unit(a) >= 0) add(breaks_at(a, unit(a), pose(a), b), -1);
    if (b < 0) return sum;
    const int pose_b = units_.pose(unit_b, turn_b);
    add(breaks_at(b, unit_b, pose_b, a), 1);
    add(breaks_at(b, unit(b), pose(b), a), -1);
    add(between(unit_a, pose_a, a, unit_b, pose_b, b), 1);
    add(between(unit(a), pose(a), a, unit(b), pose(b), b), -1);
    return sum;
}

// ---- wishes
// -------------------------------------------------------------------------------------------------------

std::int64_t Hanging::link(int u, int pose_u, int v, int pose_v, int way) const {
    const std::int32_t* pulls = wall_.pulls(way, pose_u, pose_v);
    const int many = units_.parts(v);
    std::int64_t sum = 0;
    for (int i = 0; i < units_.parts(u); ++i, pulls += wall_.most_parts()) {
        const std::int32_t* prices = &prices_.links[at(units_.fabric(u, i) * units_.fabrics)];
        for (int j = 0; j < many; ++j) sum += std::int64_t{pulls[j]} * prices[units_.fabric(v, j)];
    }
    if (wall_.beside(way) && wall_.stripes(pose_u) >= 0 && wall_.stripes(pose_u) == wall_.stripes(pose_v))
        sum += prices_.stripes;
    return sum;
}

std::int64_t Hanging::links_at(int cell, int u, int pose_u, int without) const {
    std::int64_t sum = 0;
    for (const Wall::Neighbour near : wall_.around(cell))
        if (near.cell != without) sum += link(u, pose_u, unit(near.cell), pose(near.cell), near.way);
    return sum;
}

/// What the units beyond the neighbours do to one in that cell.
std::int64_t Hanging::field_at(int cell, int u) const {
    std::int64_t sum = 0;
    for (int i = 0; i < units_.parts(u); ++i) {
        const int f = units_.fabric(u, i);
        std::int64_t one = std::int64_t{price(f, f)} * spread_field_[at(f) * at(wall_.cells) + at(cell)];
        if (coloured_) one += colour_field_[at(cell) * at(units_.fabrics) + at(f)];
        sum += units_.patches(u, i) * one;
    }
    return sum;
}

std::int64_t Hanging::likeness(int u, int v) const {
    std::int64_t sum = 0;
    for (int i = 0; i < units_.parts(u); ++i)
        for (int j = 0; j < units_.parts(v); ++j)
            if (units_.fabric(u, i) != units_.fabric(v, j))
                sum += std::int64_t{price(units_.fabric(u, i), units_.fabric(v, j))} * units_.patches(u, i) *
                       units_.patches(v, j);
    return sum;
}

/// What two cells that both change do to each other beyond what the fields say of the others: (to - from) of
/// the one times (to - from) of the other.
std::int64_t Hanging::across(int a, int b, int from_a, int to_a, int from_b, int to_b) const {
    if (wall_.way(a, b) >= 0) return 0;
    std::int64_t sum = 0;
    const int a_units[2] = {to_a, from_a}, b_units[2] = {to_b, from_b};
    const std::int64_t pull = wall_.pull(a, b), near = coloured_ ? wall_.near_pull(a, b) : 0;
    for (int i = 0; i < 2; ++i)
        for (int j = 0; j < 2; ++j) {
            const int sign = i == j ? 1 : -1;
            if (pull != 0) sum += sign * pull * units_.shared(a_units[i], b_units[j]) * prices_.same;
            if (near != 0) sum += sign * near * likeness(a_units[i], b_units[j]);
        }
    return sum;
}

/// On a unit in that cell from the others of its set, one cell left out.
std::int64_t Hanging::twin_pull(int u, int cell, int without) const {
    std::int64_t sum = 0;
    for (const int v : units_.group(units_.twins(u))) {
        const int there = cell_of(v);
        if (v != u && there >= 0 && there != without) sum += wall_.pull(cell, there);
    }
    return sum;
}

std::int64_t Hanging::twin_gain(const Change& change) const {
    const int u = unit(change.a);
    if (prices_.twins == 0 || u == change.unit_a) return 0;
    if (units_.twins(u) == units_.twins(change.unit_a) && change.b >= 0) return 0;
    std::int64_t sum = -twin_pull(u, change.a, -1);
    if (change.b < 0) return prices_.twins * (sum + twin_pull(change.unit_a, change.a, change.a));
    const int v = change.unit_a;
    sum += twin_pull(u, change.b, -1) - twin_pull(v, change.b, -1) + twin_pull(v, change.a, -1);
    return prices_.twins * sum;
}

HangingTally Hanging::gain(const Change& change) const {
    HangingTally gain;
    if (!wished_) return gain;
    const auto [a, b, unit_a, unit_b, turn_a, turn_b] = change;
    const int pose_a = units_.pose(unit_a, turn_a), u = unit(a);
    gain.links = links_at(a, unit_a, pose_a, b) - links_at(a, u, pose(a), b) + twin_gain(change);
    if (unit_a != u) gain.links += field_at(a, unit_a) - field_at(a, u);
    std::int64_t by_b = 0;
    if (b >= 0) {
        const int pose_b = units_.pose(unit_b, turn_b), v = unit(b);
        gain.links += links_at(b, unit_b, pose_b, a) - links_at(b, v, pose(b), a) + field_at(b, unit_b) -
                      field_at(b, v) + across(a, b, u, unit_a, v, unit_b);
        const int way = wall_.way(a, b);
        if (way >= 0)
            gain.links += link(unit_a, pose_a, unit_b, pose_b, way) - link(u, pose(a), v, pose(b), way);
        by_b = units_.light(unit_b) - units_.light(v);
    }
    gain.light = light_->gain(a, units_.light(unit_a) - units_.light(u), b, by_b);
    return gain;
}

// ---- changes
// ------------------------------------------------------------------------------------------------------

void Hanging::add_to_fields(int cell, int u, int sign) {
    const int r = cell / wall_.columns, c = cell % wall_.columns, parity = wall_.parity(cell);
    const int top = std::max(0, r - Wall::reach), bottom = std::min(wall_.rows - 1, r + Wall::reach);
    const int left = std::max(0, c - Wall::reach), right = std::min(wall_.columns - 1, c + Wall::reach);
    for (int i = 0; i < units_.parts(u); ++i) {
        const int f = units_.fabric(u, i);
        if (units_.exempt(f)) continue;
        const std::int32_t by = sign * units_.patches(u, i);
        for (int row = top; row <= bottom; ++row) {
            const std::int32_t* pull = wall_.far_row(parity, row - r) + Wall::reach + left - c;
            std::int32_t* field = &spread_field_[at(f) * at(wall_.cells) + at(row * wall_.columns + left)];
            for (int k = 0; k <= right - left; ++k) field[k] += by * pull[k];
        }
    }
    if (!coloured_) return;
    weighed_.assign(at(units_.fabrics), 0);
    for (int i = 0; i < units_.parts(u); ++i) {
        const int f = units_.fabric(u, i), by = sign * units_.patches(u, i);
        for (int g = 0; g < units_.fabrics; ++g)
            if (g != f) weighed_[at(g)] += std::int64_t{by} * price(f, g);
    }
    for (const Wall::NearStep& step : wall_.near_steps(cell)) {
        const int row = r + step.row_step, column = c + step.column_step;
        if (row < 0 || row >= wall_.rows || column < 0 || column >= wall_.columns) continue;
        std::int64_t* field = &colour_field_[at(row * wall_.columns + column) * at(units_.fabrics)];
        for (int g = 0; g < units_.fabrics; ++g) field[g] += step.pull * weighed_[at(g)];
    }
}

void Hanging::make(const Change& change) {
    const Breaks broken = breaks(change);
    const HangingTally step = gain(change);
    tally_.rules += broken.rules;
    tally_.twins += broken.twins;
    tally_.links += step.links;
    const auto [a, b, unit_a, unit_b, turn_a, turn_b] = change;
    const auto hang = [&](int cell, int from, int to, int turn) {
        if (wished_ && from != to) {
            add_to_fields(cell, from, -1);
            add_to_fields(cell, to, 1);
            light_->shift(cell, units_.light(to) - units_.light(from));
        }
        hung_.units[at(cell)] = to;
        hung_.turns[at(cell)] = static_cast<std::uint8_t>(turn);
    };
    const int u = unit(a);
    if (b < 0 && u >= 0 && u != unit_a) cell_of_[at(u)] = -1;
    hang(a, u, unit_a, turn_a);
    if (b >= 0) hang(b, unit(b), unit_b, turn_b);
    cell_of_[at(unit_a)] = a;
    if (b >= 0) cell_of_[at(unit_b)] = b;
    if (wished_) tally_.light = light_->tally();
}

} // namespace motley::placement
