#include "placement/start_deduction.h"

#include <algorithm>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Deduction::Deduction(const Puzzle& puzzle, Chance& chance)
    : puzzle_(puzzle),
      chance_(chance),
      patches_(static_cast<int>(puzzle.choices.size())),
      choice_of_(puzzle.choices.size() * at(puzzle.fabrics), -1),
      shown_(puzzle.choices.size(), -1),
      groups_of_(puzzle.choices.size()),
      meetings_of_(puzzle.meetings.empty() ? 0 : puzzle.choices.size()),
      group_left_(puzzle.groups.size() * at(puzzle.fabrics)),
      missing_(puzzle.groups.size()),
      usable_(at(puzzle.fabrics)),
      uses_(at(puzzle.fabrics)),
      of_size_(5),
      wanted_(puzzle.wanted) {
    wanted_.resize(at(patches_), -1);
    for (int patch = 0; patch < patches_; ++patch) {
        first_.push_back(static_cast<int>(patch_of_.size()));
        for (const int f : puzzle.choices[at(patch)]) {
            choice_of_[at(patch) * at(puzzle.fabrics) + at(f)] = static_cast<int>(patch_of_.size());
            patch_of_.push_back(patch);
            fabric_of_.push_back(f);
        }
        left_.push_back(static_cast<int>(puzzle.choices[at(patch)].size()));
    }
    wait_all();
    first_.push_back(static_cast<int>(patch_of_.size()));
    for (const int f : fabric_of_) usable_[at(f)] = 1;
    for (std::size_t group = 0; group < puzzle.groups.size(); ++group)
        for (const int patch : puzzle.groups[group]) {
            groups_of_[at(patch)].push_back(static_cast<int>(group));
            for (const int f : puzzle.choices[at(patch)]) ++group_left_[group * at(puzzle.fabrics) + at(f)];
        }
    for (std::size_t group = 0; group < puzzle.groups.size(); ++group)
        for (int f = 0; f < puzzle.fabrics; ++f)
            if (usable_[at(f)] != 0 && group_left_[group * at(puzzle.fabrics) + at(f)] == 0)
                missing_[group].push_back(f);
    for (int k = 0; k < static_cast<int>(puzzle.meetings.size()); ++k)
        for (const int patch :
             {puzzle.meetings[at(k)].one, puzzle.meetings[at(k)].other, puzzle.meetings[at(k)].node})
            meetings_of_[at(patch)].push_back(k);
    const std::size_t choices = patch_of_.size();
    value_.assign(choices, 0);
    level_of_.assign(choices, 0);
    reason_.assign(choices, {});
    seen_.assign(choices, 0);
    watching_.resize(2 * choices);
    take_given_clauses();
}

/// Choices that are not there are barred from the start.
void Deduction::take_given_clauses() {
    std::vector<int> clause;
    std::size_t k = 0;
    for (const std::size_t end : puzzle_.clause_ends) {
        clause.clear();
        bool holds = false;
        for (; k < end; ++k) {
            const int choice = choice_of_[at(puzzle_.literals[k] >> 1)];
            if (choice >= 0)
                clause.push_back(2 * choice + (puzzle_.literals[k] & 1));
            else
                holds = holds || (puzzle_.literals[k] & 1) != 0;
        }
        if (holds) continue;
        if (clause.size() == 1)
            alone_.push_back(clause.front());
        else
            add_clause(clause, 0);
    }
}

/// Of two literals or more; the first two are watched.
void Deduction::add_clause(const std::vector<int>& literals, int spread) {
    clauses_.push_back({static_cast<int>(literals_.size()), static_cast<int>(literals.size()), spread});
    literals_.insert(literals_.end(), literals.begin(), literals.end());
    watch(static_cast<int>(clauses_.size()) - 1);
}

/// Puts a patch where `next_patch` finds it.
void Deduction::wait(int patch) {
    if (patch < puzzle_.chosen) of_size_[bucket(patch)].push_back(patch);
}

std::vector<int> Deduction::filling() const {
    std::vector<int> out;
    for (int patch = 0; patch < puzzle_.chosen; ++patch) out.push_back(fabric_of_[at(shown_[at(patch)])]);
    return out;
}

void Deduction::wait_all() {
    for (std::vector<int>& list : of_size_) list.clear();
    for (const int patch : puzzle_.order) wait(patch);
    if (!puzzle_.order.empty()) return;
    for (int patch = 0; patch < puzzle_.chosen; ++patch) wait(patch);
    for (std::vector<int>& list : of_size_) chance_.shuffle(list);
}

// ---- consequences

void Deduction::set(int choice, bool make, Reason reason, int of_level) {
    const int patch = patch_of_[at(choice)], f = fabric_of_[at(choice)];
    value_[at(choice)] = make ? 1 : -1;
    level_of_[at(choice)] = of_level < 0 ? level() : of_level;
    reason_[at(choice)] = reason;
    trail_.push_back(choice);
    if (make) {
        shown_[at(patch)] = choice;
        uses_[at(f)].push_back(choice);
        return;
    }
    --left_[at(patch)];
    if (shown_[at(patch)] < 0) wait(patch);
    for (const int group : groups_of_[at(patch)])
        if (--group_left_[at(group * puzzle_.fabrics + f)] == 0) missing_[at(group)].push_back(f);
}

/// False when the choice is made already.
bool Deduction::bar(int choice, Reason reason) {
    if (open(choice)) {
        set(choice, false, reason);
        return true;
    }
    if (!made(choice)) return true;
    clash_ = reason;
    clash_choice_ = choice;
    return false;
}

bool Deduction::propagate() {
    while (followed_ < trail_.size()) {
        const int choice = trail_[followed_++];
        ++steps_;
        if (!(made(choice) ? follow_made(choice) : follow_barred(choice))) return false;
        if (!follow_clauses(2 * choice + (made(choice) ? 1 : 0))) return false;
    }
    return true;
}

bool Deduction::follow_made(int choice) {
    const int patch = patch_of_[at(choice)], f = fabric_of_[at(choice)];
    const Reason reason{Why::barred, choice};
    for (int other = first_[at(patch)]; other < first_[at(patch + 1)]; ++other)
        if (other != choice && !bar(other, reason)) return false;
    for (const int g : puzzle_.alike[at(f)])
        for (const int j : puzzle_.neighbours[at(patch)])
            if (const int other = choice_of(j, g); other >= 0 && !bar(other, reason)) return false;
    if (!puzzle_.mates.empty())
        for (const int j : puzzle_.mates[at(patch)])
            for (int other = first_[at(j)]; other < first_[at(j + 1)]; ++other)
                if (puzzle_.contrasts[at(f)][at(fabric_of_[at(other)])] == 0 && !bar(other, reason))
                    return false;
    if (!follow_meetings(patch)) return false;
    if (puzzle_.most.empty() || static_cast<int>(uses_[at(f)].size()) < puzzle_.most[at(f)]) return true;
    for (int j = 0; j < patches_; ++j)
        if (const int other = choice_of(j, f); other >= 0 && open(other))
            set(other, false, {Why::used_up, f});
    if (static_cast<int>(uses_[at(f)].size()) == puzzle_.most[at(f)]) return true;
    clash_ = {Why::used_up, f};
    clash_choice_ = uses_[at(f)][at(puzzle_.most[at(f)])];
    return false;
}

bool Deduction::follow_meetings(int patch) {
    if (meetings_of_.empty()) return true;
    const std::vector<int>& meetings = meetings_of_[at(patch)];
    return std::all_of(meetings.begin(), meetings.end(), [&](int k) { return follow_meeting(k); });
}

/// Of "they meet", "one shows f" and "the other shows a fabric alike", two bar the third.
bool Deduction::follow_meeting(int meeting) {
    const Puzzle::Meeting& m = puzzle_.meetings[at(meeting)];
    const Reason reason{Why::meeting, meeting};
    const int meet = choice_of(m.node, m.fabric);
    if (made(meet)) {
        for (const auto& [from, to] : {std::pair{m.one, m.other}, std::pair{m.other, m.one}})
            if (shown_[at(from)] >= 0)
                for (const int g : puzzle_.alike[at(fabric_of_[at(shown_[at(from)])])])
                    if (const int other = choice_of(to, g); other >= 0 && !bar(other, reason)) return false;
        return true;
    }
    if (!open(meet) || shown_[at(m.one)] < 0 || shown_[at(m.other)] < 0) return true;
    const std::vector<int>& alike = puzzle_.alike[at(fabric_of_[at(shown_[at(m.one)])])];
    const int g = fabric_of_[at(shown_[at(m.other)])];
    return std::find(alike.begin(), alike.end(), g) == alike.end() || bar(meet, reason);
}

bool Deduction::follow_barred(int choice) {
    const int patch = patch_of_[at(choice)];
    if (left_[at(patch)] == 0) {
        clash_ = {Why::last_of_patch, patch};
        clash_choice_ = -1;
        return false;
    }
    if (left_[at(patch)] == 1 && shown_[at(patch)] < 0) {
        int last = first_[at(patch)];
        while (!open(last)) ++last;
        set(last, true, {Why::last_of_patch, patch});
    }
    for (const int group : groups_of_[at(patch)])
        if (!follow_group(group, fabric_of_[at(choice)])) return false;
    return true;
}

/// A fabric has become scarce in a group; once as many are missing as may be, all others must show.
bool Deduction::follow_group(int group, int fabric) {
    const int left = group_left_[at(group * puzzle_.fabrics + fabric)];
    const int missing = static_cast<int>(missing_[at(group)].size());
    if (left > 1 || missing < spare(group)) return true;
    if (missing > spare(group)) {
        clash_ = {Why::group_short, group};
        clash_choice_ = -1;
        return false;
    }
    if (left == 1) {
        set_last_in_group(group, fabric);
        return true;
    }
    for (int f = 0; f < puzzle_.fabrics; ++f)
        if (group_left_[at(group * puzzle_.fabrics + f)] == 1) set_last_in_group(group, f);
    return true;
}

void Deduction::set_last_in_group(int group, int fabric) {
    for (const int patch : puzzle_.groups[at(group)]) {
        const int other = choice_of(patch, fabric);
        if (other < 0 || value_[at(other)] < 0) continue;
        // A patch that shows another is about to have this one barred: then the group is short.
        if (open(other) && shown_[at(patch)] < 0)
            set(other, true, {Why::last_of_group, group * puzzle_.fabrics + fabric});
        return;
    }
}

bool Deduction::literal_holds(int literal) const {
    return value_[at(literal >> 1)] == ((literal & 1) != 0 ? -1 : 1);
}

bool Deduction::literal_fails(int literal) const {
    return value_[at(literal >> 1)] == ((literal & 1) != 0 ? 1 : -1);
}

bool Deduction::follow_clauses(int false_literal) {
    std::vector<int>& list = watching_[at(false_literal)];
    std::size_t kept = 0;
    for (std::size_t k = 0; k < list.size(); ++k) {
        const int index = list[k];
        int* literals = literals_.data() + clauses_[at(index)].first;
        const int size = clauses_[at(index)].size;
        if (literals[0] == false_literal) std::swap(literals[0], literals[1]);
        ++steps_;
        if (!literal_holds(literals[0])) {
            int other = 2;
            while (other < size && literal_fails(literals[other])) ++other;
            if (other < size) {
                std::swap(literals[1], literals[other]);
                watching_[at(literals[1])].push_back(index);
                continue;
            }
        }
        list[kept++] = index;
        if (literal_holds(literals[0])) continue;
        const Reason reason{Why::learned, index};
        if (open(literals[0] >> 1)) {
            const bool make = (literals[0] & 1) == 0;
            if (make && shown_[at(patch_of_[at(literals[0] >> 1)])] >= 0) {
                // Another choice of the patch is made and will bar this one: a contradiction all the same.
                set(literals[0] >> 1, false, {Why::barred, shown_[at(patch_of_[at(literals[0] >> 1)])]});
                clash_ = reason;
                clash_choice_ = -1;
            } else {
                set(literals[0] >> 1, make, reason);
                continue;
            }
        } else {
            clash_ = reason;
            clash_choice_ = -1;
        }
        for (++k; k < list.size(); ++k) list[kept++] = list[k];
        list.resize(kept);
        return false;
    }
    list.resize(kept);
    return true;
}

// ---- choosing

/// The patch with fewest choices left, the latest touched first; -1 when all are filled.
int Deduction::next_patch() {
    for (std::size_t size = 1; size < of_size_.size(); ++size) {
        std::vector<int>& list = of_size_[size];
        while (!list.empty()) {
            const int patch = list.back();
            if (shown_[at(patch)] < 0 && bucket(patch) == size) return patch;
            list.pop_back();
        }
    }
    return -1;
}

int Deduction::next_choice(int patch) const {
    if (const int f = wanted_[at(patch)]; f >= 0)
        if (const int choice = choice_of(patch, f); choice >= 0 && open(choice)) return choice;
    int best = -1, best_need = 0;
    for (int choice = first_[at(patch)]; choice < first_[at(patch + 1)]; ++choice) {
        if (!open(choice)) continue;
        const int f = fabric_of_[at(choice)];
        const int need =
            (puzzle_.needed.empty() ? 0 : puzzle_.needed[at(f)]) - static_cast<int>(uses_[at(f)].size());
        if (best < 0 || need > best_need) best = choice, best_need = need;
    }
    return best;
}

/// Before anything is chosen, fabrics may be missing from groups or have one patch left in them.
bool Deduction::start_groups() {
    for (int group = 0; group < static_cast<int>(puzzle_.groups.size()); ++group)
        for (int f = 0; f < puzzle_.fabrics; ++f)
            if (usable_[at(f)] != 0 && !follow_group(group, f)) return false;
    return true;
}

int luby(int i) {
    for (int size = 1;; size = 2 * size + 1) {
        if (i == size) return (size + 1) / 2;
        if (i < size) return luby(i - size / 2);
    }
}

Solved Deduction::solve(int contradictions, std::int64_t steps) {
    const int between_restarts = std::max(100, patches_ / 4);
    for (int patch = 0; patch < patches_; ++patch) {
        if (left_[at(patch)] == 0) return Solved::impossible;
        if (left_[at(patch)] == 1 && shown_[at(patch)] < 0) set(first_[at(patch)], true, {});
    }
    for (const int literal : alone_) {
        if (literal_fails(literal)) return Solved::impossible;
        if (open(literal >> 1)) set(literal >> 1, (literal & 1) == 0, {});
    }
    if (!start_groups()) return Solved::impossible;
    std::size_t many = clauses_.size() + std::max<std::size_t>(4000, 2 * shown_.size());
    for (int round = 1;; ++round) {
        for (int until = contradictions_ + between_restarts * luby(round);;) {
            if (!propagate()) {
                ++contradictions_;
                if (!learn()) return Solved::impossible;
                continue;
            }
            if (contradictions_ >= contradictions || steps_ >= steps) return Solved::given_up;
            if (contradictions_ >= until) break;
            const int patch = next_patch();
            if (patch < 0) return Solved::found;
            levels_.push_back(static_cast<int>(trail_.size()));
            set(next_choice(patch), true, {});
        }
        undo_to(0);
        wait_all();
        if (clauses_.size() > many) forget(), many += many / 4;
    }
}

} // namespace motley::placement
