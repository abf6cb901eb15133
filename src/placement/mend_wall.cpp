#include "placement/mend_wall.h"

#include <algorithm>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

int outside(const layout::Range& range, int uses) {
    return std::max({0, range.least - uses, uses - range.most});
}

} // namespace

MendWall::MendWall(const MendTask& task, const layout::Assignment& top, Watch watch)
    : task_(task),
      state_(task.model, top, watch),
      changed_(static_cast<int>(task.changed(top).size())),
      dearness_(task.dearness(top)) {
    for (int f = 0; f < task.model.fabrics; ++f) {
        off_ += off(f, state_.uses(f));
        for (int place = 0; place < task.model.places; ++place)
            off_ += off_in_place(place, f, state_.uses_in_place(place, f));
    }
}

int MendWall::off(int f, int uses) const {
    return outside(task_.model.brief.counts[at(f)], uses);
}

int MendWall::off_in_place(int place, int f, int uses) const {
    return outside(task_.model.brief.role_counts[at(place)][at(f)], uses);
}

bool MendWall::differs(int cell) const {
    if (state_.turn(cell) != task_.old_turn(cell)) return true;
    const int places = task_.model.places;
    for (int p = cell * places; p < (cell + 1) * places; ++p)
        if (fabric(p) != task_.old_fabric(p)) return true;
    return false;
}

std::int64_t MendWall::replace_wrongs(int patch, int f) const {
    const int g = fabric(patch), place = patch % task_.model.places;
    if (f == g) return 0;
    const auto step = [&](int h, int by) {
        return off(h, state_.uses(h) + by) - off(h, state_.uses(h)) +
               off_in_place(place, h, state_.uses_in_place(place, h) + by) -
               off_in_place(place, h, state_.uses_in_place(place, h));
    };
    return state_.replace_breaks(patch, f) + step(f, 1) + step(g, -1);
}

std::int64_t MendWall::exchange_wrongs(int i, int j) const {
    const int f = fabric(i), g = fabric(j), a = i % task_.model.places, b = j % task_.model.places;
    const std::int64_t wrongs = state_.exchange_breaks(i, j);
    if (a == b || f == g) return wrongs;
    const auto step = [&](int place, int h, int by) {
        return off_in_place(place, h, state_.uses_in_place(place, h) + by) -
               off_in_place(place, h, state_.uses_in_place(place, h));
    };
    return wrongs + step(a, f, -1) + step(a, g, 1) + step(b, g, -1) + step(b, f, 1);
}

void MendWall::replace(int patch, int f) {
    const int g = fabric(patch), cell = patch / task_.model.places, place = patch % task_.model.places;
    if (f == g) return;
    const auto count = [&](int sign) {
        for (const int h : {f, g}) {
            off_ += sign * (off(h, state_.uses(h)) + off_in_place(place, h, state_.uses_in_place(place, h)));
            dearness_ += sign * task_.dislike(h, state_.uses(h));
        }
        dearness_ += sign * task_.far(task_.old_fabric(patch), fabric(patch));
        changed_ += sign * static_cast<int>(differs(cell));
    };
    count(-1);
    state_.replace(patch, f);
    count(1);
}

void MendWall::turn_to(int cell, int turn) {
    changed_ -= differs(cell);
    state_.turn_to(cell, turn);
    changed_ += differs(cell);
}

void MendWall::show(int cell, const layout::Assignment& top) {
    turn_to(cell, top.turns[at(cell)]);
    for (int p = cell * task_.model.places; p < (cell + 1) * task_.model.places; ++p)
        replace(p, static_cast<int>(layout::index(top.patches[at(p)])));
}

} // namespace motley::placement
