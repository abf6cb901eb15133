#pragma once
/// What the lists of rows call each thing: by its fabrics' letters where those are few, else by a number: the
/// pile it comes from and which of its units it is, or a number of its own that a table explains. Private to
/// this folder.

#include <string>
#include <vector>

#include "handout/handout.h"

namespace motley::handout {

class Codes {
public:
    explicit Codes(const Material& material);

    std::string of(const assembly::Place& place) const;
    std::string of_kind(int kind) const; ///< As in a table of kinds.
    bool piles() const { return !cards_.makings.empty(); }
    bool numbers() const { return numbers_; } ///< Units have too many fabrics to spell them out.

    /// "3 × A, 2 × B/C, 1 × cornerstone D": adds up to the row.
    std::string picks(const assembly::Row& row) const;
    /// From left to right.
    std::string sequence(const assembly::Row& row) const;

private:
    bool from_pile(const assembly::Place& place) const;

    const assembly::Rows& rows_;
    const assembly::Cards& cards_;
    bool numbers_ = false;
};

} // namespace motley::handout
