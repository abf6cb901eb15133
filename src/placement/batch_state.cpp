#include "placement/batch_state.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "fault/fault.h"
#include "layout/score.h"
#include "placement/arrange_seam.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

constexpr std::int64_t one = 1 << 16;
constexpr int steps = 256; // Per L*.
// What the wishes weigh, found by trial: see tests/placement/batch_test.cpp for what they must bring about.
constexpr std::int64_t beside_weight = 3, together_weight = 1; // Likeness of colours.
constexpr std::int64_t step_wished = 20 * steps;               // L* from a strip to the next.
constexpr std::int64_t mean_scale = 5 * steps;                 // A set so much off the mean L* costs 2 `one`.
constexpr std::int64_t visible_weight = 40;                    // Squares of slots too much or too little.
constexpr std::int64_t meeting_cost = 2 * one;

} // namespace

// ---- the kit
// ------------------------------------------------------------------------------------------------------

KitModel::KitModel(const layout::Brief& b)
    : brief(b),
      kit(b.kit.value()),
      slots(static_cast<int>(kit.slots.size())),
      fabrics(static_cast<int>(b.names.size())),
      companions_(at(slots)),
      bundles_of_(at(slots)),
      slots_of_(kit.roles.size()),
      same_(layout::same_fabric(b)) {
    for (int slot = 0; slot < slots; ++slot) slots_of_[at(role(slot))].push_back(slot);
    for (const double like : layout::likeness(b))
        likeness_.push_back(static_cast<std::int32_t>(std::floor(like * static_cast<double>(one) + 0.5)));
    for (const colour::Lab& lab : b.labs)
        light_.push_back(static_cast<std::int32_t>(std::floor(lab.l * steps + 0.5)));
    find_companions();
    find_bundles();
    measure();
}

bool KitModel::contrasts(int f, int g) const {
    return std::abs(brief.labs[at(f)].l - brief.labs[at(g)].l) >= brief.rules.contrast;
}

void KitModel::find_companions() {
    std::map<std::pair<int, int>, Companion> pairs; // The first slot's view of the second.
    for (const std::vector<int>& making : kit.makings)
        for (const int i : making)
            for (const int j : making)
                if (i != j) pairs[{i, j}] = {j, false, false, role(i) == role(j)};
    // Seams within a form are the same for every unit of it.
    std::vector<std::set<std::pair<std::size_t, std::size_t>>> seams;
    for (const unit::Form& form : brief.forms) {
        seams.emplace_back();
        for (std::size_t p = 0; p < form.patches.size(); ++p)
            for (std::size_t q = 0; q < form.patches.size(); ++q)
                if (p != q && seam_between(form.patches[p].outline, form.patches[q].outline))
                    seams.back().emplace(p, q);
    }
    for (const layout::KitUnit& unit : kit.units)
        for (std::size_t p = 0; p < unit.slots.size(); ++p)
            for (std::size_t q = 0; q < unit.slots.size(); ++q) {
                if (unit.slots[p] == unit.slots[q]) continue;
                Companion& companion = pairs.at({unit.slots[p], unit.slots[q]});
                companion.contrast = companion.contrast || !companion.one_role;
                companion.beside = companion.beside || seams[at(unit.form)].contains({p, q});
            }
    for (const auto& [slots_met, companion] : pairs) companions_[at(slots_met.first)].push_back(companion);
}

void KitModel::find_bundles() {
    std::set<std::vector<int>> known;
    for (const std::vector<int>& making : kit.makings)
        for (int r = 0; r < static_cast<int>(kit.roles.size()); ++r) {
            std::vector<int> bundle;
            for (const int slot : making)
                if (role(slot) == r) bundle.push_back(slot);
            if (bundle.size() < 2 || !known.insert(bundle).second) continue;
            for (const int slot : bundle) bundles_of_[at(slot)].push_back(static_cast<int>(bundles_.size()));
            bundles_.push_back(std::move(bundle));
        }
}

void KitModel::measure() {
    constexpr double unit_area = 4096;
    std::vector<double> visible(at(slots));
    for (const layout::KitUnit& unit : kit.units)
        for (std::size_t p = 0; p < unit.slots.size(); ++p)
            visible[at(unit.slots[p])] += brief.forms[at(unit.form)].patches[p].area;
    for (const double area : visible)
        area_.push_back(static_cast<std::int64_t>(std::floor(area * unit_area + 0.5)));
    for (std::size_t r = 0; r < kit.roles.size(); ++r) {
        std::int64_t area = 0, light = 0, many = 0;
        for (const int slot : slots_of_[r]) area += area_[at(slot)];
        for (int f = 0; f < fabrics; ++f) {
            if (layout::index(brief.none()) == at(f)) continue;
            // As often as the counts let it be cut: which fabrics are, where not all can be, is open yet.
            const layout::Range& range = brief.role_counts[r][at(f)];
            const std::int64_t weight =
                range.least + std::min(range.most, static_cast<int>(slots_of_[r].size()));
            light += weight * light_[at(f)];
            many += weight;
        }
        mean_area_.push_back(area /
                             std::max<std::int64_t>(1, static_cast<std::int64_t>(slots_of_[r].size())));
        mean_light_.push_back(static_cast<std::int32_t>(light / std::max<std::int64_t>(1, many)));
    }
}

// ---- fabrics in it
// ------------------------------------------------------------------------------------------------

Batches::Batches(const KitModel& model, const std::vector<int>& fabrics)
    : model_(model),
      fabric_(at(model.slots), nothing),
      uses_(model.kit.roles.size() * at(model.fabrics)),
      bundle_(model.bundles().size()),
      visible_(model.kit.roles.size() * at(model.fabrics)),
      meetings_(at(model.fabrics) * at(model.fabrics)) {
    expects(fabrics.size() == at(model.slots));
    for (int b = 0; b < static_cast<int>(bundle_.size()); ++b) tally_.cost += bundle_cost(b);
    for (int slot = 0; slot < model.slots; ++slot) set(slot, fabrics[at(slot)]);
}

int Batches::uses(int f) const {
    int sum = 0;
    for (int r = 0; r < static_cast<int>(model_.kit.roles.size()); ++r) sum += uses(r, f);
    return sum;
}

bool Batches::broken(const KitModel::Companion& companion, int f, int g) const {
    return model_.same(f, g) || (companion.contrast && !model_.contrasts(f, g));
}

bool Batches::in_trouble(int slot) const {
    const auto& companions = model_.companions(slot);
    return std::any_of(companions.begin(), companions.end(), [&](const KitModel::Companion& companion) {
        return broken(companion, fabric(slot), fabric(companion.slot));
    });
}

/// Like colours side by side or in one set; in one set, no step of light from a strip to the next.
std::int64_t Batches::pair_cost(const KitModel::Companion& companion, int f, int g) const {
    std::int64_t weight = companion.one_role ? together_weight : 0;
    if (companion.beside) weight += beside_weight;
    std::int64_t cost = weight * model_.likeness(f, g);
    const std::int64_t step = std::abs(model_.light(f) - model_.light(g));
    if (companion.beside && companion.one_role && step < step_wished)
        cost += one * (step_wished - step) * (step_wished - step) / (step_wished * step_wished);
    return cost;
}

/// Sets of one mean lightness have, all together, as much of the palette's range in each of them as there is.
std::int64_t Batches::bundle_cost(int bundle) const {
    const std::vector<int>& slots = model_.bundles()[at(bundle)];
    const std::int64_t many = static_cast<std::int64_t>(slots.size());
    const std::int64_t off = bundle_[at(bundle)] - many * model_.mean_light(model_.role(slots.front()));
    const std::int64_t scale = many * mean_scale;
    return 2 * one * off / scale * off / scale;
}

/// The squares of how often each two fabrics meet: sets that share two fabrics or more make them large.
void Batches::meet(int f, int g, int sign) {
    if (f == g || model_.brief.exempt[at(f)] || model_.brief.exempt[at(g)]) return;
    std::int32_t& many = meetings_[at(std::min(f, g) * model_.fabrics + std::max(f, g))];
    tally_.cost += meeting_cost * (2 * sign * many + 1);
    many += sign;
}

void Batches::show(int slot, int f, int sign) {
    const int role = model_.role(slot);
    const std::int64_t mean = std::max<std::int64_t>(1, model_.mean_area(role));
    std::int64_t& off = visible_[at(role * model_.fabrics + f)];
    const auto cost = [&] { return visible_weight * one * off / mean * off / mean; };
    tally_.cost -= cost();
    off += sign * (model_.area(slot) - model_.mean_area(role));
    tally_.cost += cost();
    uses_[at(role * model_.fabrics + f)] += sign;
}

void Batches::set(int slot, int f) {
    const int old = fabric(slot);
    if (old == f) return;
    for (const KitModel::Companion& companion : model_.companions(slot)) {
        const int other = fabric(companion.slot);
        if (other == nothing) continue;
        if (old != nothing) {
            tally_.broken -= broken(companion, old, other);
            tally_.cost -= pair_cost(companion, old, other);
            meet(old, other, -1);
        }
        tally_.broken += broken(companion, f, other);
        tally_.cost += pair_cost(companion, f, other);
        meet(f, other, 1);
    }
    for (const int bundle : model_.bundles_of(slot)) {
        tally_.cost -= bundle_cost(bundle);
        bundle_[at(bundle)] += model_.light(f) - (old == nothing ? 0 : model_.light(old));
        tally_.cost += bundle_cost(bundle);
    }
    if (old != nothing) show(slot, old, -1);
    show(slot, f, 1);
    fabric_[at(slot)] = f;
}

} // namespace motley::placement
