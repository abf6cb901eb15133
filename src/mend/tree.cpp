#include "mend/tree.h"

#include <algorithm>
#include <utility>

namespace motley::mend {

Tree::Tree(const Task& task, const layout::Assignment& base)
    : task_(task),
      model_(task.model),
      places_(task.model.places),
      standing_(at(model_.cells), Standing::kept),
      shown_(at(model_.patches), -1),
      clash_(at(model_.patches)),
      used_(at(places_ * model_.fabrics)),
      loose_(at(places_ * model_.fabrics)),
      total_(at(model_.fabrics)),
      loose_total_(at(model_.fabrics)),
      marks_(at(model_.cells)) {
    turn_.assign(base.turns.begin(), base.turns.end());
    list_links();
    for (int p = 0; p < model_.patches; ++p) lay(p, static_cast<int>(layout::index(base.patches[at(p)])));
    odd_ = task.oddness(base);
    for (int cell = 0; cell < model_.cells; ++cell)
        if (task.may_change(cell) && !task.differs(base, cell)) set_standing(cell, Standing::loose);
}

/// Where no turn is open the links are the conflicts; else all that some turn could make one.
void Tree::list_links() {
    link_from_.push_back(0);
    for (int p = 0; p < model_.patches; ++p) {
        model_.for_zone(p / places_, [&](int cell) {
            for (int q = cell * places_; q < (cell + 1) * places_; ++q)
                if (task_.turning() || model_.conflict(p, turn_[at(p / places_)], q, turn_[at(cell)]))
                    links_.push_back(q);
        });
        link_from_.push_back(links_.size());
    }
}

bool Tree::linked(int p, int q) const {
    return !task_.turning() || model_.conflict(p, turn_[at(p / places_)], q, turn_[at(q / places_)]);
}

// ---- moves and their undoing
// ---------------------------------------------------------------------------------------

void Tree::lay(int patch, int f) {
    shown_[at(patch)] = f;
    ++used_[at(patch % places_ * model_.fabrics + f)];
    ++total_[at(f)];
    for (std::size_t k = link_from_[at(patch)]; k < link_from_[at(patch) + 1]; ++k) {
        const int q = links_[k], g = shown_[at(q)];
        if (g < 0 || !model_.same(f, g) || !linked(patch, q)) continue;
        ++clash_[at(patch)];
        ++clash_[at(q)];
    }
}

void Tree::lift(int patch) {
    const int f = shown_[at(patch)];
    for (std::size_t k = link_from_[at(patch)]; k < link_from_[at(patch) + 1]; ++k) {
        const int q = links_[k], g = shown_[at(q)];
        if (g >= 0 && model_.same(f, g) && linked(patch, q)) --clash_[at(q)];
    }
    clash_[at(patch)] = 0;
    --used_[at(patch % places_ * model_.fabrics + f)];
    --total_[at(f)];
    shown_[at(patch)] = -1;
}

void Tree::set_standing(int cell, Standing to) {
    const int step = (to == Standing::loose) - (standing_[at(cell)] == Standing::loose);
    for (int p = cell * places_; step != 0 && p < (cell + 1) * places_; ++p) {
        loose_[at(p % places_ * model_.fabrics + shown_[at(p)])] += step;
        loose_total_[at(shown_[at(p)])] += step;
    }
    standing_[at(cell)] = to;
}

void Tree::open(int cell) {
    set_standing(cell, Standing::open);
    for (int p = cell * places_; p < (cell + 1) * places_; ++p) {
        lift(p);
        unlaid_.push_back(p);
    }
    turn_[at(cell)] = task_.turns(cell).size() == 1 ? task_.turns(cell).front() : -1;
}

void Tree::close(int cell) {
    turn_[at(cell)] = task_.old_turn(cell);
    for (int p = (cell + 1) * places_ - 1; p >= cell * places_; --p) lay(p, task_.old_fabric(p));
    std::erase_if(unlaid_, [&](int p) { return p / places_ == cell; });
    set_standing(cell, Standing::loose);
}

// ---- what is wrong
// -------------------------------------------------------------------------------------------------

void Tree::look_at_conflicts(Wrong& wrong) {
    for (int p = 0; p < model_.patches; ++p) {
        if (clash_[at(p)] == 0) continue;
        looked_ += static_cast<std::int64_t>(link_from_[at(p) + 1] - link_from_[at(p)]);
        for (std::size_t k = link_from_[at(p)]; k < link_from_[at(p) + 1]; ++k) {
            const int q = links_[k];
            if (shown_[at(q)] < 0 || !model_.same(shown_[at(p)], shown_[at(q)]) || !linked(p, q)) continue;
            if (final(p) && final(q)) {
                wrong.hopeless = true;
                return;
            }
            if (final(p) || final(q)) {
                wrong.forced = (final(p) ? q : p) / places_;
                return;
            }
        }
    }
}

/// Fills in what the counts need; `disjoint` is, by fabric, how many conflicts of its own share no cell.
void Tree::look_at_counts(Wrong& wrong, const std::vector<int>& disjoint) {
    const int unlaid = static_cast<int>(unlaid_.size());
    int over_all = 0, owed_all = 0, by_fabric = 0;
    for (int f = 0; f < model_.fabrics; ++f) {
        const layout::Range& range = model_.brief.counts[at(f)];
        const int over = std::max(0, total_[at(f)] - range.most);
        if (over > loose_total_[at(f)]) wrong.hopeless = true;
        if (over > 0 && wrong.over < 0) wrong.over = f;
        over_all += over;
        by_fabric += std::max(over, disjoint[at(f)]);
        const int owed = std::max(0, range.least - total_[at(f)]);
        if (owed > 0 && wrong.owed < 0) wrong.owed = f;
        owed_all += owed;
    }
    const auto cells = [&](int patches, int each) { return std::max(0, (patches + each - 1) / each); };
    wrong.needed = std::max({wrong.needed, cells(over_all, places_), cells(owed_all - unlaid, places_)});
    if (places_ == 1) wrong.needed = std::max(wrong.needed, by_fabric);
    for (int place = 0; place < places_; ++place) {
        int over_here = 0, owed_here = 0, unlaid_here = 0;
        for (const int p : unlaid_) unlaid_here += p % places_ == place;
        for (int f = 0; f < model_.fabrics; ++f) {
            const layout::Range& range = model_.brief.role_counts[at(place)][at(f)];
            const int used = used_[at(place * model_.fabrics + f)];
            const int over = std::max(0, used - range.most), owed = std::max(0, range.least - used);
            if (over > loose_[at(place * model_.fabrics + f)]) wrong.hopeless = true;
            if (over > 0 && wrong.over < 0) wrong.over = f, wrong.over_place = place;
            if (owed > 0 && wrong.owed < 0) wrong.owed = f, wrong.owed_place = place;
            over_here += over;
            owed_here += owed;
        }
        wrong.needed = std::max({wrong.needed, over_here, owed_here - unlaid_here});
    }
}

Tree::Wrong Tree::look() {
    Wrong wrong;
    look_at_conflicts(wrong);
    if (wrong.hopeless || wrong.forced >= 0) return wrong;
    // All conflicts left are between loose cells; a greedy choice of such that share no cell.
    std::vector<int> disjoint(at(model_.fabrics));
    ++mark_;
    int most = 0;
    for (int p = 0; p < model_.patches; ++p) {
        if (clash_[at(p)] == 0) continue;
        if (clash_[at(p)] > most) most = clash_[at(p)], wrong.pair = p / places_;
        if (marks_[at(p / places_)] == mark_) continue;
        looked_ += static_cast<std::int64_t>(link_from_[at(p) + 1] - link_from_[at(p)]);
        for (std::size_t k = link_from_[at(p)]; k < link_from_[at(p) + 1]; ++k) {
            const int q = links_[k];
            if (shown_[at(q)] < 0 || marks_[at(q / places_)] == mark_ ||
                !model_.same(shown_[at(p)], shown_[at(q)]) || !linked(p, q))
                continue;
            marks_[at(p / places_)] = marks_[at(q / places_)] = mark_;
            ++wrong.needed;
            if (shown_[at(p)] == shown_[at(q)]) ++disjoint[at(shown_[at(p)])];
            break;
        }
    }
    look_at_counts(wrong, disjoint);
    return wrong;
}

int Tree::fewest_at_root() {
    std::vector<int> opened;
    Wrong wrong;
    for (int cell = 0; cell < model_.cells; ++cell)
        if (task_.must_change(cell) && standing_[at(cell)] == Standing::loose)
            open(cell), opened.push_back(cell);
    for (wrong = look(); !wrong.hopeless && wrong.forced >= 0; wrong = look()) {
        open(wrong.forced);
        opened.push_back(wrong.forced);
    }
    const int fewest = static_cast<int>(opened.size()) + (wrong.hopeless ? 0 : wrong.needed);
    for (; !opened.empty(); opened.pop_back()) close(opened.back());
    return fewest;
}

// ---- the tree
// ------------------------------------------------------------------------------------------------------

Tree::Answer Tree::search(int changes, Budget& work) {
    dearest_ = false;
    best_.reset();
    work_ = &work;
    std::vector<int> opened;
    for (int cell = 0; cell < model_.cells; ++cell) {
        if (!task_.must_change(cell) || standing_[at(cell)] == Standing::open) continue;
        if (standing_[at(cell)] == Standing::kept && !task_.may_change(cell))
            return Answer::none; // A sewn cell is wrong in itself.
        if (standing_[at(cell)] == Standing::loose) opened.push_back(cell);
    }
    Answer answer = Answer::none;
    if (static_cast<int>(opened.size()) <= changes) {
        for (const int cell : opened) open(cell);
        answer = solve(changes - static_cast<int>(opened.size()));
        for (; !opened.empty(); opened.pop_back()) close(opened.back());
    }
    return answer;
}

Tree::Answer Tree::search_dearest(int changes, std::int64_t less_than, Budget& work) {
    least_ = less_than;
    best_.reset();
    dearest_ = true;
    work_ = &work;
    std::vector<int> opened;
    for (int cell = 0; cell < model_.cells; ++cell)
        if (task_.must_change(cell) && standing_[at(cell)] == Standing::loose) opened.push_back(cell);
    for (const int cell : opened) open(cell);
    Answer answer = solve(changes - static_cast<int>(opened.size()));
    for (; !opened.empty(); opened.pop_back()) close(opened.back());
    dearest_ = false;
    if (answer == Answer::none && best_) answer = Answer::found;
    return answer;
}

Tree::Answer Tree::solve(int left) {
    if (!work_->spend(32 + model_.patches + std::exchange(looked_, 0))) return Answer::out_of_work;
    if (left < 0 || (dearest_ && odd_ >= least_)) return Answer::none;
    const Wrong wrong = look();
    if (wrong.hopeless) return Answer::none;
    if (wrong.forced >= 0) return branch_open(wrong.forced, left, false);
    if (wrong.needed > left) return Answer::none;
    if (wrong.pair >= 0) return branch_open(wrong.pair, left, true);
    if (wrong.over >= 0) return branch_open(loose_use(wrong), left, true);
    if (!unlaid_.empty()) return branch_fill(left);
    if (wrong.owed < 0) return record();
    const int taker = loose_taker(wrong);
    return taker < 0 ? Answer::none : branch_open(taker, left, true);
}

Tree::Answer Tree::branch_open(int cell, int left, bool or_keep) {
    Answer answer = Answer::none;
    if (left > 0) {
        open(cell);
        answer = solve(left - 1);
        close(cell);
    }
    if (!or_keep || stop(answer)) return answer;
    set_standing(cell, Standing::kept);
    answer = solve(left);
    set_standing(cell, Standing::loose);
    return answer;
}

/// A loose cell that shows what is used too often.
int Tree::loose_use(const Wrong& wrong) const {
    for (int p = 0; p < model_.patches; ++p)
        if (shown_[at(p)] == wrong.over && !final(p) &&
            (wrong.over_place < 0 || p % places_ == wrong.over_place))
            return p / places_;
    return -1;
}

/// A loose cell that could show what is owed.
int Tree::loose_taker(const Wrong& wrong) const {
    for (int p = 0; p < model_.patches; ++p)
        if (!final(p) && shown_[at(p)] != wrong.owed &&
            (wrong.owed_place < 0 || p % places_ == wrong.owed_place) && task_.may_show(p, wrong.owed))
            return p / places_;
    return -1;
}

/// The fabrics an open patch may show, nearest to what it showed first.
std::vector<int> Tree::choices(int patch, int left) {
    std::vector<int> pushed(at(model_.fabrics)); // Loose patches in the way; many where one is final.
    constexpr int never = 1 << 20;
    for (std::size_t k = link_from_[at(patch)]; k < link_from_[at(patch) + 1]; ++k) {
        const int q = links_[k];
        if (shown_[at(q)] < 0 || !linked(patch, q)) continue;
        for (const int g : model_.alike(shown_[at(q)])) pushed[at(g)] += final(q) ? never : 1;
    }
    const int cell = patch / places_;
    bool last =
        turn_[at(cell)] == task_.old_turn(cell); // The only patch that can still make the cell differ.
    for (int q = cell * places_; q < (cell + 1) * places_; ++q) {
        if (q == patch) continue;
        last = last && shown_[at(q)] == task_.old_fabric(q);
        for (int f = 0; shown_[at(q)] >= 0 && f < model_.fabrics; ++f)
            if (!model_.contrasts(shown_[at(q)], f)) pushed[at(f)] = never;
    }
    std::vector<int> found;
    for (int f = 0; f < model_.fabrics; ++f) {
        if (pushed[at(f)] > left * places_ || !task_.may_show(patch, f)) continue;
        if (last && f == task_.old_fabric(patch)) continue;
        if (total_[at(f)] >= model_.brief.counts[at(f)].most && (left == 0 || loose_total_[at(f)] == 0))
            continue;
        found.push_back(f);
    }
    const int old = task_.old_fabric(patch);
    std::stable_sort(found.begin(), found.end(),
                     [&](int f, int g) { return task_.far(old, f) < task_.far(old, g); });
    return found;
}

Tree::Answer Tree::branch_turn(int cell, int left) {
    for (const int turn : task_.turns(cell)) {
        turn_[at(cell)] = turn;
        const Answer answer = solve(left);
        turn_[at(cell)] = -1;
        if (stop(answer)) return answer;
    }
    return Answer::none;
}

Tree::Answer Tree::branch_fill(int left) {
    int patch = -1;
    std::vector<int> fewest;
    for (const int p : unlaid_) {
        if (turn_[at(p / places_)] < 0) return branch_turn(p / places_, left);
        std::vector<int> found = choices(p, left);
        if (patch >= 0 && found.size() >= fewest.size()) continue;
        patch = p;
        fewest = std::move(found);
    }
    const auto place = std::find(unlaid_.begin(), unlaid_.end(), patch) - unlaid_.begin();
    for (const int f : fewest) {
        unlaid_.erase(unlaid_.begin() + place);
        lay(patch, f);
        odd_ += task_.odd(patch, f);
        const Answer answer = solve(left);
        odd_ -= task_.odd(patch, f);
        lift(patch);
        unlaid_.insert(unlaid_.begin() + place, patch);
        if (stop(answer)) return answer;
    }
    return Answer::none;
}

Tree::Answer Tree::record() {
    layout::Assignment top;
    for (const int f : shown_) top.patches.push_back(layout::FabricId{static_cast<std::uint16_t>(f)});
    top.turns.assign(turn_.begin(), turn_.end());
    if (!dearest_) {
        best_ = std::move(top);
        return Answer::found;
    }
    const std::int64_t dear = task_.dearness(top);
    if (dear < least_) {
        least_ = dear;
        best_ = std::move(top);
    }
    return Answer::none; // On to the next.
}

} // namespace motley::mend
