#pragma once
/// Looks for a top that keeps every rule with at most so many cells changed, and proves it where there is
/// none.
///
/// A cell is *loose* (shows what it did, may still be changed), *kept* (will not be changed) or *open* (will
/// be changed; its patches are laid one by one). The tree branches only on what is wrong: of two loose
/// patches in conflict one cell is opened, or kept and the other opened; of a fabric used too often some
/// loose use is opened; an open patch tries every fabric, those that push loose neighbours out included;
/// where fabrics are still owed and nothing is open, any loose cell may be opened. So every top with few
/// enough changes is reached once, and none is missed. Cut off where more changes are needed than are left:
/// conflicts that share no cell, uses too many, uses owed.

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "mend/budget.h"
#include "mend/task.h"

namespace motley::mend {

class Tree {
public:
    /// Cells in which `base` differs from the top as it was are kept; all others show what they did.
    Tree(const Task& task, const layout::Assignment& base);

    enum class Answer : std::uint8_t { found, none, out_of_work };

    /// The first top found that changes at most `changes` further cells; `work` is used up, counted in
    /// patches looked at.
    Answer search(int changes, Budget& work);
    /// The least dear of all those. `none` when none is less dear than `less_than`; `found` is then not the
    /// last word when the work ran out: see `out_of_work` with `best` filled.
    Answer search_dearest(int changes, std::int64_t less_than, Budget& work);
    const std::optional<layout::Assignment>& best() const { return best_; }

    /// No fewer cells can be changed, seen at the root: conflicts that share no cell, uses too many, pins.
    int fewest_at_root();

private:
    enum class Standing : std::uint8_t { loose, kept, open };

    struct Wrong {
        bool hopeless = false;
        int forced = -1;     ///< A cell that must be opened.
        int pair = -1;       ///< A loose cell in conflict with another loose one.
        int needed = 0;      ///< Cells that must yet be opened.
        int over = -1;       ///< A fabric used too often,
        int over_place = -1; ///< in this place; -1: over all places.
        int owed = -1;       ///< A fabric not used often enough,
        int owed_place = -1; ///< in this place; -1: over all.
    };

    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    void list_links();
    bool linked(int p, int q) const;
    bool final(int patch) const { return standing_[at(patch / places_)] != Standing::loose; }

    void lay(int patch, int f);
    void lift(int patch);
    void open(int cell);
    void close(int cell);
    void set_standing(int cell, Standing to);
    Wrong look();
    void look_at_conflicts(Wrong& wrong);
    void look_at_counts(Wrong& wrong, const std::vector<int>& disjoint);

    Answer solve(int left);
    Answer branch_open(int cell, int left, bool or_keep);
    Answer branch_fill(int left);
    Answer branch_turn(int cell, int left);
    std::vector<int> choices(int patch, int left);
    int loose_use(const Wrong& wrong) const;
    int loose_taker(const Wrong& wrong) const;
    Answer record();
    bool stop(Answer answer) const {
        return answer == Answer::out_of_work || (answer == Answer::found && !dearest_);
    }

    const Task& task_;
    const Model& model_;
    int places_;
    std::vector<std::size_t> link_from_;
    std::vector<int> links_;               // Patches that may be in conflict, patch by patch.
    std::vector<Standing> standing_;       // [cell]
    std::vector<int> shown_;               // [patch]; -1 in an open cell until laid.
    std::vector<int> turn_;                // [cell]; -1 in an open cell until said.
    std::vector<int> clash_;               // [patch] laid patches in conflict with it.
    std::vector<int> used_, loose_;        // [place * fabrics + f] laid; laid in loose cells.
    std::vector<int> total_, loose_total_; // [f]
    std::vector<int> unlaid_;              // Patches.
    std::vector<int> marks_;               // [cell] for disjoint conflicts.
    int mark_ = 0;
    bool dearest_ = false;
    std::int64_t odd_ = 0, least_ = 0;
    Budget* work_ = nullptr;
    std::int64_t looked_ = 0; // Links looked at since work was last counted.
    std::optional<layout::Assignment> best_;
};

} // namespace motley::mend
