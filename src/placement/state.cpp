#include "placement/state.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::placement {

namespace {

constexpr int window = 4;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

State::State(const Model& model, const layout::Assignment& start, Watch watch)
    : model_(model),
      watch_(watch),
      fabric_(at(model.patches), lifted),
      site_(at(model.patches)),
      row_(at(model.patches)),
      uses_(at(model.fabrics)),
      sites_(at(model.fabrics)),
      slot_(at(model.patches)),
      own_(at(model.patches)),
      role_uses_(at(model.places * model.fabrics)),
      conflicts_(at(model.fabrics) * at(model.patches)),
      heavy_(at(model.fabrics)),
      light_(at(model.cells)) {
    expects(start.patches.size() == at(model.patches) && start.turns.size() == at(model.cells));
    for (int cell = 0; cell < model.cells; ++cell) pose_.push_back(start.pose(at(cell)));
    std::vector<int> counts(at(model.fabrics));
    for (const layout::FabricId f : start.patches) ++counts[layout::index(f)];
    for (int f = 0; f < model.fabrics; ++f) {
        // A list of uses costs its length at every question, a running sum the whole top at every exchange
        // made, which is rarer.
        const bool often = counts[at(f)] > std::max(32, model.patches / 64);
        if (often && watch.spread && !model.exempt(f)) heavy_[at(f)].assign(at(model.patches), 0);
    }
    for (int patch = 0; patch < model.patches; ++patch) {
        site_[at(patch)] = model.site(patch, pose(patch / model.places));
        row_[at(patch)] = model.row(patch, pose(patch / model.places));
    }
    const bool wide = model.rows >= window && model.columns >= window &&
                      model.brief.board.units() > model.brief.board.window_units();
    watch_.value = watch.value && (model.has_aim() || wide);
    const bool count_value = watch_.value;
    watch_.value = false; // Light is counted once, when all patches lie.
    list_near();
    list_zones();
    for (int patch = 0; patch < model.patches; ++patch)
        lay(patch, static_cast<int>(layout::index(start.patches[at(patch)])));
    watch_.value = count_value;
    for (int cell = 0; cell < model.cells; ++cell) tally_.broken += troubled_units(cell);
    count_light();
}

layout::Assignment State::assignment() const {
    layout::Assignment out;
    for (const int f : fabric_) out.patches.push_back(layout::FabricId{static_cast<std::uint16_t>(f)});
    for (const int pose : pose_) out.turns.push_back(static_cast<std::uint8_t>(pose % 4));
    if (model_.contacts.poses() > 4)
        for (const int pose : pose_) out.forms.push_back(static_cast<std::uint8_t>(pose / 4));
    return out;
}

// ---- laying and lifting one patch
// ------------------------------------------------------------------------------------------------

void State::lay(int patch, int f) {
    tally_.broken += conflicts(patch, f);
    if (watch_.spread && !model_.exempt(f)) tally_.spread += shift_own_pulls(patch, f, 1);
    if (watch_.colour) tally_.colour += likeness_step(patch, lifted, f);
    fabric_[at(patch)] = f;
    slot_[at(patch)] = uses(f);
    uses_[at(f)].push_back(patch);
    sites_[at(f)].push_back(site_[at(patch)]);
    ++role_uses_[at(patch % model_.places * model_.fabrics + f)];
    add_conflicts(patch, f, 1);
    add_pulls(patch, f, 1);
    shift_light(patch / model_.places, model_.light(patch % model_.places, pose(patch / model_.places), f));
}

void State::lift(int patch) {
    const int f = fabric(patch);
    std::vector<int>& list = uses_[at(f)];
    const int last = list.back();
    list[at(slot_[at(patch)])] = last;
    sites_[at(f)][at(slot_[at(patch)])] = sites_[at(f)].back();
    slot_[at(last)] = slot_[at(patch)];
    list.pop_back();
    sites_[at(f)].pop_back();
    --role_uses_[at(patch % model_.places * model_.fabrics + f)];
    fabric_[at(patch)] = lifted;
    add_conflicts(patch, f, -1);
    add_pulls(patch, f, -1);
    tally_.broken -= conflicts(patch, f);
    if (watch_.spread && !model_.exempt(f)) tally_.spread -= shift_own_pulls(patch, f, -1);
    if (watch_.colour) tally_.colour -= likeness_step(patch, lifted, f);
    shift_light(patch / model_.places, -model_.light(patch % model_.places, pose(patch / model_.places), f));
}

void State::add_conflicts(int patch, int f, int sign) {
    if (model_.exempt(f)) return;
    if (!zone_from_.empty()) {
        const std::int32_t* last = zone_.data() + zone_from_[at(patch + 1)];
        for (const int g : model_.alike(f)) {
            std::uint16_t* counts = conflicts_.data() + at(g) * at(model_.patches);
            for (const std::int32_t* other = zone_.data() + zone_from_[at(patch)]; other != last; ++other)
                counts[*other] = static_cast<std::uint16_t>(counts[*other] + sign);
        }
        return;
    }
    const int places = model_.places;
    const int own = pose(patch / places);
    model_.for_zone(patch / places, [&](int cell) {
        for (int q = 0; q < places; ++q) {
            const int other = cell * places + q;
            if (!model_.conflict(patch, own, other, pose(cell))) continue;
            for (const int g : model_.alike(f)) {
                std::uint16_t& count = conflicts_[at(g) * at(model_.patches) + at(other)];
                count = static_cast<std::uint16_t>(count + sign);
            }
        }
    });
}

void State::list_zones() {
    if (model_.turns_matter()) return;
    const int places = model_.places;
    for (int patch = 0; patch < model_.patches; ++patch) {
        zone_from_.push_back(static_cast<std::int32_t>(zone_.size()));
        const int own = pose(patch / places);
        model_.for_zone(patch / places, [&](int cell) {
            for (int other = cell * places; other < (cell + 1) * places; ++other)
                if (model_.conflict(patch, own, other, pose(cell))) zone_.push_back(other);
        });
    }
    zone_from_.push_back(static_cast<std::int32_t>(zone_.size()));
}

void State::recount_conflicts_at(int patch) {
    const int places = model_.places;
    for (int f = 0; f < model_.fabrics; ++f) conflicts_[at(f) * at(model_.patches) + at(patch)] = 0;
    model_.for_zone(patch / places, [&](int cell) {
        for (int q = 0; q < places; ++q) {
            const int other = cell * places + q;
            const int g = fabric(other);
            if (g == lifted || !model_.conflict(patch, pose(patch / places), other, pose(cell))) continue;
            for (const int f : model_.alike(g)) ++conflicts_[at(f) * at(model_.patches) + at(patch)];
        }
    });
}

void State::add_pulls(int patch, int f, int sign) {
    std::vector<std::int64_t>& sums = heavy_[at(f)];
    if (sums.empty()) return;
    const std::int32_t row = row_[at(patch)];
    for (int other = 0; other < model_.patches; ++other)
        sums[at(other)] += sign * model_.pull(row, site_[at(other)]);
}

void State::pose_to(int cell, int to) {
    if (pose(cell) == to) return;
    if (model_.places == 1) { // Neither centres nor contacts of a single patch change.
        pose_[at(cell)] = to;
        return;
    }
    std::vector<int> before;
    for (int p = 0; p < model_.places; ++p) before.push_back(fabric(cell * model_.places + p));
    for (int p = 0; p < model_.places; ++p) lift(cell * model_.places + p);
    pose_[at(cell)] = to;
    for (int p = 0; p < model_.places; ++p) {
        const int patch = cell * model_.places + p;
        site_[at(patch)] = model_.site(patch, to);
        row_[at(patch)] = model_.row(patch, to);
        recount_conflicts_at(patch);
        for (int f = 0; f < model_.fabrics; ++f) {
            if (heavy_[at(f)].empty()) continue;
            std::int64_t sum = 0;
            for (const std::int32_t site : sites_[at(f)]) sum += model_.pull(row_[at(patch)], site);
            heavy_[at(f)][at(patch)] = sum;
        }
    }
    for (int p = 0; p < model_.places; ++p) lay(cell * model_.places + p, before[at(p)]);
}

// ---- rules
// -------------------------------------------------------------------------------------------------------------------------

int State::troubled_units(int cell) const {
    if (model_.places == 1 || model_.brief.rules.contrast <= 0) return 0;
    for (int p = 0; p < model_.places; ++p)
        for (int q = p + 1; q < model_.places; ++q)
            if (model_.compared(p, q) &&
                !model_.contrasts(fabric(cell * model_.places + p), fabric(cell * model_.places + q)))
                return 1;
    return 0;
}

/// Change in units without contrast if patch i showed f and patch j showed g (j = -1: only i changes).
std::int64_t State::contrast_step(int i, int f, int j, int g) const {
    if (model_.places == 1 || model_.brief.rules.contrast <= 0) return 0;
    const auto shown = [&](int patch) { return patch == i ? f : patch == j ? g : fabric(patch); };
    const auto trouble = [&](int cell) {
        for (int p = 0; p < model_.places; ++p)
            for (int q = p + 1; q < model_.places; ++q)
                if (model_.compared(p, q) &&
                    !model_.contrasts(shown(cell * model_.places + p), shown(cell * model_.places + q)))
                    return 1;
        return 0;
    };
    const int a = i / model_.places, b = j < 0 ? a : j / model_.places;
    std::int64_t step = trouble(a) - troubled_units(a);
    if (b != a) step += trouble(b) - troubled_units(b);
    return step;
}

std::int64_t State::exchange_breaks(int i, int j) const {
    const int f = fabric(i), g = fabric(j);
    const int linked = model_.conflict(i, pose(i / model_.places), j, pose(j / model_.places)) ? 1 : 0;
    const int between = linked * (model_.same(f, g) ? 2 : 0);
    return conflicts(i, g) - linked * model_.same(g, g) + conflicts(j, f) - linked * model_.same(f, f) -
           conflicts(i, f) - conflicts(j, g) + between + contrast_step(i, g, j, f);
}

bool State::exchange_keeps_rules(int i, int j) const {
    const int f = fabric(i), g = fabric(j);
    const int at_i = conflicts(i, g), at_j = conflicts(j, f);
    if (at_i > 1 || at_j > 1) return false;
    if ((at_i | at_j) != 0) {
        const bool linked = model_.conflict(i, pose(i / model_.places), j, pose(j / model_.places));
        if (!linked || at_i != static_cast<int>(model_.same(g, g)) ||
            at_j != static_cast<int>(model_.same(f, f)))
            return false;
    }
    return contrast_step(i, g, j, f) <= 0;
}

std::int64_t State::replace_breaks(int i, int f) const {
    return conflicts(i, f) - conflicts(i, fabric(i)) + contrast_step(i, f, -1, 0);
}

// ---- wishes
// ------------------------------------------------------------------------------------------------------------------------

std::int64_t State::pull_of(int patch, int f) const {
    const std::vector<std::int64_t>& sums = heavy_[at(f)];
    if (!sums.empty()) return sums[at(patch)];
    const std::int32_t row = row_[at(patch)];
    std::int64_t sum = 0;
    for (const std::int32_t site : sites_[at(f)]) sum += model_.pull(row, site);
    return sum;
}

std::int64_t State::own_pull(int patch) const {
    const std::vector<std::int64_t>& sums = heavy_[at(fabric(patch))];
    return sums.empty() ? own_[at(patch)] : sums[at(patch)];
}

/// A patch that does not lie comes among the uses of f, or has just left them: what it and they pull.
std::int64_t State::shift_own_pulls(int patch, int f, int sign) {
    const std::vector<std::int64_t>& sums = heavy_[at(f)];
    if (!sums.empty()) return sums[at(patch)];
    const std::int32_t row = row_[at(patch)];
    const std::vector<int>& uses = uses_[at(f)];
    const std::vector<std::int32_t>& sites = sites_[at(f)];
    std::int64_t sum = 0;
    for (std::size_t k = 0; k < uses.size(); ++k) {
        const std::int64_t pull = model_.pull(row, sites[k]);
        own_[at(uses[k])] += sign * pull;
        sum += pull;
    }
    own_[at(patch)] = sum;
    return sum;
}

/// Visits the patches within the reach of `colour` with their weights, going by where the centres lie now.
template <class Visit>
void State::for_near(int patch, Visit visit) const {
    const int places = model_.places, cell = patch / places;
    const int r = cell / model_.columns, c = cell % model_.columns;
    const int own = model_.centre(patch % places, pose(cell)) * model_.centres();
    for (const Model::NearStep& step : model_.near_steps(cell)) {
        const int i = r + step.row_step, j = c + step.column_step;
        if (i < 0 || i >= model_.rows || j < 0 || j >= model_.columns) continue;
        const int other = i * model_.columns + j;
        for (int q = 0; q < places; ++q) {
            const std::int32_t weight = step.weight[at(own + model_.centre(q, pose(other)))];
            if (weight != 0) visit(other * places + q, weight);
        }
    }
}

void State::list_near() {
    if (model_.turns_matter() || !watch_.colour) return;
    for (int patch = 0; patch < model_.patches; ++patch) {
        near_from_.push_back(static_cast<std::int32_t>(near_.size()));
        for_near(patch, [&](int other, std::int32_t weight) { near_.push_back({other, weight}); });
    }
    near_from_.push_back(static_cast<std::int32_t>(near_.size()));
}

std::int64_t State::likeness_step(int patch, int from, int to) const {
    const std::int32_t* gained = model_.likeness_row(to);
    const std::int32_t* lost = from == lifted ? nullptr : model_.likeness_row(from);
    std::int64_t sum = 0;
    const auto add = [&](int other, std::int32_t weight) {
        const int g = fabric(other);
        if (g != lifted) sum += std::int64_t{weight} * (gained[g] - (lost ? lost[g] : 0));
    };
    if (near_from_.empty()) {
        for_near(patch, add);
        return sum;
    }
    const Near* last = near_.data() + near_from_[at(patch + 1)];
    for (const Near* one = near_.data() + near_from_[at(patch)]; one != last; ++one)
        add(one->patch, one->weight);
    return sum;
}

std::int64_t State::likeness_between(int i, int j) const {
    return std::int64_t{model_.near_weight(i, pose(i / model_.places), j, pose(j / model_.places))} *
           model_.likeness(fabric(i), fabric(j));
}

Tally State::exchange_gain(int i, int j) const {
    Tally gain = light_gain(i, j);
    add_far_gain(i, j, gain);
    return gain;
}

void State::add_far_gain(int i, int j, Tally& gain) const {
    const int f = fabric(i), g = fabric(j);
    if (watch_.spread) {
        const std::int64_t apart = model_.pull(row_[at(i)], site_[at(j)]);
        if (!model_.exempt(f)) gain.spread += pull_of(j, f) - apart - own_pull(i);
        if (!model_.exempt(g)) gain.spread += pull_of(i, g) - apart - own_pull(j);
    }
    if (watch_.colour)
        gain.colour = likeness_step(i, f, g) + likeness_step(j, g, f) + 2 * likeness_between(i, j);
}

void State::exchange(int i, int j) {
    const int f = fabric(i), g = fabric(j);
    tally_.broken += contrast_step(i, g, j, f);
    lift(i);
    lift(j);
    lay(i, g);
    lay(j, f);
}

Tally State::replace_gain(int i, int f) const {
    const int before = fabric(i), p = i % model_.places, cell = i / model_.places;
    Tally gain;
    if (watch_.spread) {
        if (!model_.exempt(f)) gain.spread += pull_of(i, f);
        if (!model_.exempt(before)) gain.spread -= pull_of(i, before);
    }
    if (watch_.colour) gain.colour = likeness_step(i, before, f);
    if (watch_.value)
        add_value_step(gain, cell, model_.light(p, pose(cell), f) - model_.light(p, pose(cell), before), cell,
                       0);
    return gain;
}

void State::replace(int i, int f) {
    tally_.broken += contrast_step(i, f, -1, 0);
    lift(i);
    lay(i, f);
}

} // namespace motley::placement
