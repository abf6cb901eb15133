// What `Deduction` does with a contradiction.

#include <algorithm>

#include "placement/start_deduction.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

/// Visits what bars the first so many fabrics that are missing from a group.
template <class Visit>
void Deduction::missing_from(int group, int many, Visit& visit) const {
    for (int k = 0; k < many; ++k)
        for (const int patch : puzzle_.groups[at(group)])
            if (const int other = choice_of(patch, missing_[at(group)][at(k)]); other >= 0) visit(other);
}

/// The choices whose present state forces `choice` (or, with -1, whose states cannot stand together).
template <class Visit>
void Deduction::because(int choice, Reason reason, Visit visit) const {
    switch (reason.why) {
        case Why::chosen:
            break;
        case Why::barred:
            visit(reason.which);
            break;
        case Why::last_of_patch:
            for (int other = first_[at(reason.which)]; other < first_[at(reason.which + 1)]; ++other)
                if (other != choice) visit(other);
            break;
        case Why::last_of_group: {
            const int group = reason.which / puzzle_.fabrics, f = reason.which % puzzle_.fabrics;
            for (const int patch : puzzle_.groups[at(group)])
                if (const int other = choice_of(patch, f); other >= 0 && other != choice) visit(other);
            missing_from(group, spare(group), visit);
            break;
        }
        case Why::meeting: {
            // Of the three it is about, the other two; when two patches clash, the one named is `choice` or
            // the clash's own.
            const Puzzle::Meeting& m = puzzle_.meetings[at(reason.which)];
            const int barred = choice >= 0 ? choice : clash_choice_;
            if (const int meet = choice_of(m.node, m.fabric); meet != barred) visit(meet);
            for (const int patch : {m.one, m.other})
                if (patch_of_[at(barred)] != patch) visit(shown_[at(patch)]);
            break;
        }
        case Why::group_short:
            missing_from(reason.which, spare(reason.which) + 1, visit);
            break;
        case Why::used_up:
            for (int k = 0; k < puzzle_.most[at(reason.which)]; ++k) visit(uses_[at(reason.which)][at(k)]);
            break;
        case Why::learned:
            for (int k = 0; k < clauses_[at(reason.which)].size; ++k)
                if (const int other = literals_[at(clauses_[at(reason.which)].first + k)] >> 1;
                    other != choice)
                    visit(other);
            break;
    }
}

/// The level without which the contradiction would not be; lower than the present one where a late
/// consequence brought it.
int Deduction::level_of_clash() const {
    int highest = clash_choice_ >= 0 ? level_of_[at(clash_choice_)] : 0;
    because(-1, clash_, [&](int choice) { highest = std::max(highest, level_of_[at(choice)]); });
    return highest;
}

/// Goes back along the reasons until one choice of the latest level is left: these cannot stand together.
std::vector<int> Deduction::clause_of_clash() {
    std::vector<int> clause{-1}, marked;
    int open_ends = 0;
    const auto mark = [&](int choice) {
        if (seen_[at(choice)] != 0 || level_of_[at(choice)] == 0) return;
        seen_[at(choice)] = 1;
        marked.push_back(choice);
        if (level_of_[at(choice)] == level())
            ++open_ends;
        else
            clause.push_back(2 * choice + (made(choice) ? 1 : 0));
    };
    if (clash_choice_ >= 0) mark(clash_choice_);
    because(-1, clash_, mark);
    for (std::size_t k = trail_.size();;) {
        do --k;
        while (seen_[at(trail_[k])] == 0 || level_of_[at(trail_[k])] != level());
        const int choice = trail_[k];
        if (--open_ends == 0) {
            clause.front() = 2 * choice + (made(choice) ? 1 : 0);
            break;
        }
        because(choice, reason_[at(choice)], mark);
    }
    for (const int choice : marked) seen_[at(choice)] = 0;
    return clause;
}

/// Learns from a contradiction and goes back to where that has a consequence. Where this is far back, what
/// lies between is kept: the consequence is drawn late, and belongs to the level it goes back to
/// (chronological backtracking: Nadel and Ryvchin 2018). False when nothing is left to go back to.
bool Deduction::learn() {
    constexpr int far = 50;
    constexpr std::size_t many_late = 200;
    const int top = level_of_clash();
    if (top == 0) return false;
    undo_to(top);
    std::vector<int> clause = clause_of_clash();
    std::vector<int> spanned;
    int back = 0;
    for (std::size_t k = 1; k < clause.size(); ++k) {
        const int of = level_of_[at(clause[k] >> 1)];
        spanned.push_back(of);
        if (of > back) back = of, std::swap(clause[1], clause[k]);
    }
    std::sort(spanned.begin(), spanned.end());
    const auto spread = std::unique(spanned.begin(), spanned.end()) - spanned.begin();
    undo_to(top - back > far && late_ < many_late ? top - 1 : back);
    const int first = clause.front();
    if (clause.size() > 1) add_clause(clause, static_cast<int>(spread));
    set(first >> 1, (first & 1) == 0, {Why::learned, static_cast<int>(clauses_.size()) - 1}, back);
    return true;
}

void Deduction::watch(int clause) {
    for (int k = 0; k < 2; ++k)
        watching_[at(literals_[at(clauses_[at(clause)].first + k)])].push_back(clause);
}

void Deduction::undo_to(int level) {
    if (level >= this->level()) return;
    const std::size_t keep = at(levels_[at(level)]);
    std::vector<Late> late;
    while (trail_.size() > keep) {
        const int choice = trail_.back(), patch = patch_of_[at(choice)], f = fabric_of_[at(choice)];
        trail_.pop_back();
        if (level_of_[at(choice)] <= level)
            late.push_back({choice, made(choice), reason_[at(choice)], level_of_[at(choice)]});
        if (made(choice)) {
            wanted_[at(patch)] = f;
            shown_[at(patch)] = -1;
            uses_[at(f)].pop_back();
            wait(patch);
        } else {
            ++left_[at(patch)];
            if (shown_[at(patch)] < 0) wait(patch);
            for (const int group : groups_of_[at(patch)])
                if (group_left_[at(group * puzzle_.fabrics + f)]++ == 0) missing_[at(group)].pop_back();
        }
        value_[at(choice)] = 0;
    }
    levels_.resize(at(level));
    followed_ = trail_.size();
    for (auto one = late.rbegin(); one != late.rend(); ++one)
        set(one->choice, one->make, one->reason, one->level);
    late_ = late.size();
}

/// Half of what was learned, that which spans most; only between searches, when no reason stands.
void Deduction::forget() {
    std::vector<int> spreads;
    for (const Clause& clause : clauses_)
        if (clause.spread > 0) spreads.push_back(clause.spread);
    const auto middle = spreads.begin() + static_cast<std::ptrdiff_t>(spreads.size() / 2);
    std::nth_element(spreads.begin(), middle, spreads.end());
    const int limit = std::max(2, *middle);
    for (std::vector<int>& list : watching_) list.clear();
    std::size_t kept = 0;
    int end = 0;
    for (const Clause clause : clauses_) {
        if (clause.spread > limit) continue;
        for (int k = 0; k < clause.size; ++k) literals_[at(end + k)] = literals_[at(clause.first + k)];
        clauses_[kept] = {end, clause.size, clause.spread};
        watch(static_cast<int>(kept++));
        end += clause.size;
    }
    clauses_.resize(kept);
    literals_.resize(at(end));
}

} // namespace motley::placement
