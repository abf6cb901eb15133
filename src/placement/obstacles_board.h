#pragma once
/// A brief as a question that can be decided: patches to fill, pairs of patches that may not show one fabric,
/// and what is asked of the filling. Only pairs that clash whichever way the units are turned are listed, so
/// what is impossible here is impossible.

#include <cstdint>
#include <optional>
#include <vector>

#include "layout/brief.h"
#include "layout/contact.h"

namespace motley::placement {

/// What a filling must meet; the part of a brief that a proof loosens to see what it hangs on.
struct Demand {
    explicit Demand(const layout::Brief& brief)
        : pinned(brief.pinned), counts(brief.counts), role_counts(brief.role_counts) {}

    std::vector<layout::FabricId> pinned;
    std::vector<layout::Range> counts;
    std::vector<std::vector<layout::Range>> role_counts;
};

class Board {
public:
    /// Empty when the clashing pairs are too many to list (more than some millions).
    static std::optional<Board> lay_out(const layout::Brief& brief);

    const layout::Brief& brief;
    int patches, places, fabrics, words; ///< words: of 64 patches each.

    /// Patches that may not show a fabric alike with this one's, in rising order.
    const int* begin(int patch) const { return neighbours_.data() + first_[static_cast<std::size_t>(patch)]; }
    const int* end(int patch) const {
        return neighbours_.data() + first_[static_cast<std::size_t>(patch) + 1];
    }
    bool linked(int i, int j) const;
    /// All fabrics that count as the same as f under the rules; none for an exempt one.
    const std::vector<int>& alike(int f) const { return alike_[static_cast<std::size_t>(f)]; }
    bool contrasts(int f, int g) const;
    /// 0 or 1, so that linked patches differ; empty when no such split exists.
    const std::vector<char>& sides() const { return sides_; }
    /// Fabrics with one number could be exchanged for one another everywhere, were it not for pins.
    const std::vector<int>& kinds() const { return kinds_; }

private:
    explicit Board(const layout::Brief& brief);
    bool list_neighbours();
    void split_sides();
    void sort_kinds();
    bool always_touch(int row_step, int column_step, int i, int j) const;

    layout::Contacts contacts_;
    std::vector<std::size_t> first_;
    std::vector<int> neighbours_;
    std::vector<std::vector<int>> alike_;
    std::vector<char> sides_;
    std::vector<int> kinds_;
};

} // namespace motley::placement
