#include "placement/mend_task.h"

#include <algorithm>
#include <cmath>

#include "colour/difference.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

MendTask::MendTask(const Model& m, const Worn& w) : model(m), worn(w) {
    expects(w.assignment.patches.size() == at(m.patches) && w.assignment.turns.size() == at(m.cells));
    expects(w.liked.empty() || w.liked.size() == at(m.fabrics));
    for (const layout::FabricId f : w.assignment.patches) old_.push_back(static_cast<int>(layout::index(f)));
    const std::vector<colour::Lab>& labs = m.brief.labs;
    for (const colour::Lab one : labs)
        for (const colour::Lab other : labs)
            far_.push_back(static_cast<std::int32_t>(std::floor(colour::ciede2000(one, other) * 100 + 0.5)));
    for (int cell = 0; cell < m.cells; ++cell) look_at(cell);
}

void MendTask::look_at(int cell) {
    const int said = model.brief.turns[at(cell)];
    std::vector<int> turns;
    if (said >= 0)
        turns = {said};
    else if (model.places == 1)
        turns = {old_turn(cell)};
    else
        turns = {0, 1, 2, 3};
    bool may = turns.size() > 1 || turns.front() != old_turn(cell);
    turning_ = turning_ || (may && model.places > 1);
    bool must = std::find(turns.begin(), turns.end(), old_turn(cell)) == turns.end();
    for (int p = cell * model.places; p < (cell + 1) * model.places; ++p) {
        must = must || !may_show(p, old_fabric(p));
        for (int q = cell * model.places; q < p; ++q)
            must = must || !model.contrasts(old_fabric(p), old_fabric(q));
        for (int f = 0; f < model.fabrics && !may; ++f) may = f != old_fabric(p) && may_show(p, f);
    }
    turns_.push_back(std::move(turns));
    may_change_.push_back(may);
    must_change_.push_back(must);
}

bool MendTask::may_show(int patch, int f) const {
    const layout::FabricId pin = model.brief.pinned[at(patch)];
    if (pin != layout::no_fabric && static_cast<int>(layout::index(pin)) != f) return false;
    return model.brief.role_counts[at(patch % model.places)][at(f)].most > 0 &&
           model.brief.counts[at(f)].most > 0;
}

std::int64_t MendTask::dislike(int f, int uses) const {
    if (worn.liked.empty()) return 0;
    constexpr std::int64_t each = 20'000;
    const layout::Range& liked = worn.liked[at(f)];
    return each * (std::max(0, liked.least - uses) + std::max(0, uses - liked.most));
}

bool MendTask::differs(const layout::Assignment& top, int cell) const {
    if (top.turns[at(cell)] != worn.assignment.turns[at(cell)]) return true;
    for (int p = cell * model.places; p < (cell + 1) * model.places; ++p)
        if (top.patches[at(p)] != worn.assignment.patches[at(p)]) return true;
    return false;
}

std::vector<int> MendTask::changed(const layout::Assignment& top) const {
    std::vector<int> cells;
    for (int cell = 0; cell < model.cells; ++cell)
        if (differs(top, cell)) cells.push_back(cell);
    return cells;
}

std::vector<int> MendTask::uses(const layout::Assignment& top) const {
    std::vector<int> uses(at(model.fabrics));
    for (const layout::FabricId f : top.patches) ++uses[layout::index(f)];
    return uses;
}

std::int64_t MendTask::strangeness(const layout::Assignment& top) const {
    std::int64_t sum = 0;
    for (int p = 0; p < model.patches; ++p)
        sum += far(old_fabric(p), static_cast<int>(layout::index(top.patches[at(p)])));
    return sum;
}

std::int64_t MendTask::dearness(const layout::Assignment& top) const {
    std::int64_t sum = strangeness(top);
    const std::vector<int> used = uses(top);
    for (int f = 0; f < model.fabrics; ++f) sum += dislike(f, used[at(f)]);
    return sum;
}

} // namespace motley::placement
