#pragma once
/// Fills patches by choosing, drawing every plain consequence, and learning a clause from each contradiction
/// (conflict-driven clause learning: Marques-Silva and Sakallah 1999; first unique implication point: Zhang
/// et al. 2001). In: patches with the fabrics that each may show, and which patches may not show the same.
/// Out: a filling, or that there is none. What is learned is about few patches near each other, so that a top
/// with many pins comes out at a cost that grows little faster than its size.

#include <algorithm>
#include <cstdint>
#include <vector>

#include "placement/chance.h"
#include "placement/start_puzzle.h"

namespace motley::placement {

enum class Solved : std::uint8_t { found, impossible, given_up };

/// 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 ..., i >= 1: how long to try before beginning anew (Luby, Sinclair and
/// Zuckerman 1993).
int luby(int i);

class Deduction {
public:
    Deduction(const Puzzle& puzzle, Chance& chance);

    /// Gives up after so many contradictions, or steps of propagation.
    Solved solve(int contradictions, std::int64_t steps);

    /// After `found`: the fabric of each patch that was chosen for.
    std::vector<int> filling() const;
    std::int64_t steps() const { return steps_; }
    int contradictions() const { return contradictions_; }

private:
    /// Why a choice is made or barred: nothing (chosen), one choice that bars it, or a set of which all
    /// others are barred.
    enum class Why : std::uint8_t {
        chosen,
        barred,
        last_of_patch,
        last_of_group,
        group_short,
        meeting,
        used_up,
        learned
    };
    struct Reason {
        Why why = Why::chosen;
        int which = 0;
    };
    /// A consequence of an early level that was drawn at a later one.
    struct Late {
        int choice;
        bool make;
        Reason reason;
        int level;
    };
    struct Clause {
        int first, size; // Of literals_: 2 * choice + (1 when it asks that the choice is not made).
        int spread;      // Levels it spans: few is good; 0 was given.
    };

    bool made(int choice) const { return value_[static_cast<std::size_t>(choice)] > 0; }
    bool open(int choice) const { return value_[static_cast<std::size_t>(choice)] == 0; }
    int level() const { return static_cast<int>(levels_.size()); }
    int choice_of(int patch, int fabric) const {
        return choice_of_[static_cast<std::size_t>(patch) * static_cast<std::size_t>(puzzle_.fabrics) +
                          static_cast<std::size_t>(fabric)];
    }
    void set(int choice, bool make, Reason reason, int of_level = -1);
    bool bar(int choice, Reason reason);
    bool propagate();
    bool follow_made(int choice);
    bool follow_barred(int choice);
    bool follow_meetings(int patch);
    bool follow_meeting(int meeting);
    bool follow_group(int group, int fabric);
    void set_last_in_group(int group, int fabric);
    int spare(int group) const {
        return puzzle_.kinds - static_cast<int>(puzzle_.groups[static_cast<std::size_t>(group)].size());
    }
    bool follow_clauses(int false_literal);
    bool literal_holds(int literal) const;
    bool literal_fails(int literal) const;
    template <class Visit>
    void because(int choice, Reason reason, Visit visit) const;
    template <class Visit>
    void missing_from(int group, int many, Visit& visit) const;
    bool start_groups();
    void take_given_clauses();
    void add_clause(const std::vector<int>& literals, int spread);
    int level_of_clash() const;
    std::vector<int> clause_of_clash();
    bool learn();
    void watch(int clause);
    /// Patches with many choices left are alike: among them the latest touched goes first, so that what is
    /// filled grows from where it began.
    std::size_t bucket(int patch) const {
        constexpr int many = 4;
        return static_cast<std::size_t>(std::min(many, left_[static_cast<std::size_t>(patch)]));
    }
    void wait(int patch);
    void wait_all();
    void undo_to(int level);
    void forget();
    int next_patch();
    int next_choice(int patch) const;

    const Puzzle& puzzle_;
    Chance& chance_;
    int patches_;
    std::vector<int> first_;                // [patch] its first choice; one more at the end.
    std::vector<int> patch_of_, fabric_of_; // [choice]
    std::vector<int> choice_of_;            // [patch][fabric], -1 where not allowed.
    std::vector<signed char> value_;        // [choice] 1 made, -1 barred, 0 open.
    std::vector<int> level_of_;             // [choice] how many choices it hangs on.
    std::vector<Reason> reason_;
    std::vector<int> trail_, levels_;
    std::size_t followed_ = 0, late_ = 0;
    std::vector<int> left_, shown_;             // [patch] choices not barred; the one made or -1.
    std::vector<std::vector<int>> groups_of_;   // [patch]
    std::vector<std::vector<int>> meetings_of_; // [patch]; of a node its own
    std::vector<int> group_left_;               // [group][fabric] patches that may yet show it.
    std::vector<std::vector<int>> missing_;     // [group] fabrics that no patch of it may show, in order.
    std::vector<char> usable_;                  // [fabric] some patch may show it.
    std::vector<std::vector<int>> uses_;        // [fabric] choices made, in order.
    std::vector<int> literals_;
    std::vector<Clause> clauses_;
    std::vector<int> alone_;                 // Literals of given clauses that hold by themselves.
    std::vector<std::vector<int>> watching_; // [literal] clauses.
    std::vector<std::vector<int>> of_size_;  // [choices left] patches, the latest last; some out of date.
    std::vector<int> wanted_;                // [patch]
    std::vector<char> seen_;                 // [choice]
    Reason clash_;
    int clash_choice_ = -1; // With `barred` and `used_up`: the choice that is made and barred at once.
    std::int64_t steps_ = 0;
    int contradictions_ = 0;
};

} // namespace motley::placement
