#pragma once
/// Which patches of neighbouring units touch, and how far apart patches lie: the geometry of a straight
/// setting, for every turn.

#include <cstdint>
#include <vector>

#include "unit/form.h"

namespace motley::layout {

enum class Contact : std::uint8_t { none, corner, edge };

/// Answers for patch p of a unit turned t and patch q of a unit turned u that lies (row_step, column_step)
/// away.
class Contacts {
public:
    explicit Contacts(const unit::Form& recipe);

    /// edge: the outlines share a stretch of positive length; corner: at least a point. none beyond the eight
    /// neighbours and for the unit itself.
    Contact between(int row_step, int column_step, int p, int t, int q, int u) const;

    /// Square of the distance between the patch centres, in unit widths.
    double distance_squared(int row_step, int column_step, int p, int t, int q, int u) const;

    /// Centre of patch p at turn t, unit coordinates.
    unit::Point centre(int p, int t) const { return centres_[static_cast<std::size_t>(p * 4 + t)]; }

private:
    int patches_;
    std::vector<unit::Point> centres_; ///< [p * 4 + t]
    std::vector<Contact> contacts_;    ///< [(step * P + p) * 4 + t][q * 4 + u]
};

} // namespace motley::layout
