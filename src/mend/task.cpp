#include "mend/task.h"

#include <algorithm>
#include <cmath>

#include "colour/difference.h"

namespace motley::mend {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

std::int32_t hundredths(double x) {
    return static_cast<std::int32_t>(std::floor(x * 100 + 0.5));
}

} // namespace

Task::Task(const Model& m, const Worn& w) : model(m), worn(w) {
    expects(w.assignment.patches.size() == at(m.patches) && w.assignment.turns.size() == at(m.cells));
    expects(w.liked.empty() || w.liked.size() == at(m.fabrics));
    for (const layout::FabricId f : w.assignment.patches) old_.push_back(static_cast<int>(layout::index(f)));
    const std::vector<colour::Lab>& labs = m.brief.labs;
    for (const colour::Lab one : labs)
        for (const colour::Lab other : labs) far_.push_back(hundredths(colour::ciede2000(one, other)));
    for (int cell = 0; cell < m.cells; ++cell) look_at(cell);
    measure_oddness();
}

/// The nearest fabric that the place takes and that may be used more often than it was; where there is none,
/// the nearest that the place takes; -1 where it takes no other.
int Task::nearest_with_room(int place, int f, const std::vector<int>& used,
                            const std::vector<int>& used_here) const {
    int best = -1;
    bool best_has_room = false;
    for (int g = 0; g < model.fabrics; ++g) {
        const layout::Range &all = model.brief.counts[at(g)],
                            &here = model.brief.role_counts[at(place)][at(g)];
        if (g == f || all.most == 0 || here.most == 0) continue;
        const int liked = worn.liked.empty() ? all.most : std::min(all.most, worn.liked[at(g)].most);
        const bool room = used[at(g)] < liked && used_here[at(g)] < here.most;
        if (best >= 0 && (room < best_has_room || (room == best_has_room && far(f, g) >= far(f, best))))
            continue;
        best = g;
        best_has_room = room;
    }
    return best;
}

void Task::measure_oddness() {
    const std::vector<int> used = uses(worn.assignment);
    const auto steps_apart = [&](int f, int g) {
        return std::abs(model.brief.labs[at(f)].l - model.brief.labs[at(g)].l);
    };
    for (int place = 0; place < model.places; ++place) {
        std::vector<int> used_here(at(model.fabrics));
        for (int p = place; p < model.patches; p += model.places) ++used_here[at(old_fabric(p))];
        for (int f = 0; f < model.fabrics; ++f) {
            const bool lacking = used[at(f)] > model.brief.counts[at(f)].most ||
                                 used_here[at(f)] > model.brief.role_counts[at(place)][at(f)].most;
            short_.push_back(lacking);
            const int nearest = lacking ? nearest_with_room(place, f, used, used_here) : -1;
            for (int g = 0; g < model.fabrics; ++g) {
                std::int32_t odd = far(f, g);
                if (nearest >= 0 && g != f) {
                    const double lighter = steps_apart(f, g) - steps_apart(f, nearest) - near_value;
                    odd = std::max({0, odd - far(f, nearest) - hundredths(near_colour), hundredths(lighter)});
                }
                odd_.push_back(odd);
            }
        }
    }
}

void Task::look_at(int cell) {
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

bool Task::may_show(int patch, int f) const {
    const layout::FabricId pin = model.brief.pinned[at(patch)];
    if (pin != layout::no_fabric && static_cast<int>(layout::index(pin)) != f) return false;
    return model.brief.role_counts[at(patch % model.places)][at(f)].most > 0 &&
           model.brief.counts[at(f)].most > 0;
}

std::int64_t Task::dislike(int f, int uses) const {
    if (worn.liked.empty()) return 0;
    constexpr std::int64_t each = 20'000;
    const layout::Range& liked = worn.liked[at(f)];
    return each * (std::max(0, liked.least - uses) + std::max(0, uses - liked.most));
}

bool Task::differs(const layout::Assignment& top, int cell) const {
    if (top.turns[at(cell)] != worn.assignment.turns[at(cell)]) return true;
    for (int p = cell * model.places; p < (cell + 1) * model.places; ++p)
        if (top.patches[at(p)] != worn.assignment.patches[at(p)]) return true;
    return false;
}

std::vector<int> Task::changed(const layout::Assignment& top) const {
    std::vector<int> cells;
    for (int cell = 0; cell < model.cells; ++cell)
        if (differs(top, cell)) cells.push_back(cell);
    return cells;
}

std::vector<int> Task::uses(const layout::Assignment& top) const {
    std::vector<int> uses(at(model.fabrics));
    for (const layout::FabricId f : top.patches) ++uses[layout::index(f)];
    return uses;
}

std::int64_t Task::strangeness(const layout::Assignment& top) const {
    std::int64_t sum = 0;
    for (int p = 0; p < model.patches; ++p)
        sum += far(old_fabric(p), static_cast<int>(layout::index(top.patches[at(p)])));
    return sum;
}

std::int64_t Task::oddness(const layout::Assignment& top) const {
    std::int64_t sum = 0;
    for (int p = 0; p < model.patches; ++p)
        sum += odd(p, static_cast<int>(layout::index(top.patches[at(p)])));
    return sum;
}

std::int64_t Task::dearness(const layout::Assignment& top) const {
    std::int64_t sum = oddness(top);
    const std::vector<int> used = uses(top);
    for (int f = 0; f < model.fabrics; ++f) sum += dislike(f, used[at(f)]);
    return sum;
}

} // namespace motley::mend
