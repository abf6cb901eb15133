#include "mend/wall.h"

#include <algorithm>

namespace motley::mend {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

int outside(const layout::Range& range, int uses) {
    return std::max({0, range.least - uses, uses - range.most});
}

} // namespace

Wall::Wall(const Task& task, const layout::Assignment& top, Watch watch)
    : task_(task),
      watch_stand_ins_(watch.spread),
      state_(task.model, top, watch),
      had_(at(task.model.fabrics)),
      changed_(static_cast<int>(task.changed(top).size())),
      dearness_(task.dearness(top)),
      strangeness_(task.strangeness(top)) {
    for (int p = 0; p < task.model.patches; ++p) {
        ++had_[at(task.old_fabric(p))];
        if (stands_in(p)) count_stand_in(p, 1);
    }
    for (int f = 0; f < task.model.fabrics; ++f) {
        off_ += off(f, state_.uses(f));
        piled_ += pile(f);
        for (int place = 0; place < task.model.places; ++place)
            off_ += off_in_place(place, f, state_.uses_in_place(place, f));
    }
}

int Wall::off(int f, int uses) const {
    return outside(task_.model.brief.counts[at(f)], uses);
}

int Wall::off_in_place(int place, int f, int uses) const {
    return outside(task_.model.brief.role_counts[at(place)][at(f)], uses);
}

bool Wall::differs(int cell) const {
    if (state_.pose(cell) != task_.old_turn(cell)) return true;
    const int places = task_.model.places;
    for (int p = cell * places; p < (cell + 1) * places; ++p)
        if (fabric(p) != task_.old_fabric(p)) return true;
    return false;
}

std::int64_t Wall::pile(int f) const {
    const std::int64_t more = std::max(0, state_.uses(f) - had_[at(f)]);
    return more * more;
}

bool Wall::stands_in(int patch) const {
    const int old = task_.old_fabric(patch);
    return watch_stand_ins_ && fabric(patch) != old && task_.is_short(patch % task_.model.places, old);
}

void Wall::count_stand_in(int patch, int sign) {
    if (sign < 0) std::erase(stand_ins_, patch);
    const Model& model = task_.model;
    const std::int32_t row = model.row(patch, state_.pose(patch / model.places));
    for (const int other : stand_ins_)
        together_ += sign * model.pull(row, model.site(other, state_.pose(other / model.places)));
    if (sign > 0) stand_ins_.push_back(patch);
}

placement::Tally Wall::tally() const {
    placement::Tally tally = state_.tally();
    constexpr std::int64_t each_hundredth = (std::int64_t{1} << Model::distance_bits) / 5000;
    if (watch_stand_ins_) tally.spread += together_ + each_hundredth * strangeness_;
    return tally;
}

std::int64_t Wall::replace_wrongs(int patch, int f) const {
    const int g = fabric(patch), place = patch % task_.model.places;
    if (f == g) return 0;
    const auto step = [&](int h, int by) {
        return off(h, state_.uses(h) + by) - off(h, state_.uses(h)) +
               off_in_place(place, h, state_.uses_in_place(place, h) + by) -
               off_in_place(place, h, state_.uses_in_place(place, h));
    };
    return state_.replace_breaks(patch, f) + step(f, 1) + step(g, -1);
}

std::int64_t Wall::exchange_wrongs(int i, int j) const {
    const int f = fabric(i), g = fabric(j), a = i % task_.model.places, b = j % task_.model.places;
    const std::int64_t wrongs = state_.exchange_breaks(i, j);
    if (a == b || f == g) return wrongs;
    const auto step = [&](int place, int h, int by) {
        return off_in_place(place, h, state_.uses_in_place(place, h) + by) -
               off_in_place(place, h, state_.uses_in_place(place, h));
    };
    return wrongs + step(a, f, -1) + step(a, g, 1) + step(b, g, -1) + step(b, f, 1);
}

void Wall::replace(int patch, int f) {
    const int g = fabric(patch), cell = patch / task_.model.places, place = patch % task_.model.places;
    if (f == g) return;
    const auto count = [&](int sign) {
        for (const int h : {f, g}) {
            off_ += sign * (off(h, state_.uses(h)) + off_in_place(place, h, state_.uses_in_place(place, h)));
            dearness_ += sign * task_.dislike(h, state_.uses(h));
            piled_ += sign * pile(h);
        }
        dearness_ += sign * task_.odd(patch, fabric(patch));
        strangeness_ += sign * task_.far(task_.old_fabric(patch), fabric(patch));
        if (stands_in(patch)) count_stand_in(patch, sign);
        changed_ += sign * static_cast<int>(differs(cell));
    };
    count(-1);
    state_.replace(patch, f);
    count(1);
}

void Wall::turn_to(int cell, int turn) {
    if (state_.pose(cell) == turn) return;
    const auto count = [&](int sign) {
        changed_ += sign * static_cast<int>(differs(cell));
        for (int p = cell * task_.model.places; p < (cell + 1) * task_.model.places; ++p)
            if (stands_in(p)) count_stand_in(p, sign);
    };
    count(-1);
    state_.pose_to(cell, turn);
    count(1);
}

void Wall::show(int cell, const layout::Assignment& top) {
    turn_to(cell, top.turns[at(cell)]);
    for (int p = cell * task_.model.places; p < (cell + 1) * task_.model.places; ++p)
        replace(p, static_cast<int>(layout::index(top.patches[at(p)])));
}

} // namespace motley::mend
