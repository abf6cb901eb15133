#pragma once
/// Which patches of neighbouring units touch, and how far apart patches lie: the geometry of a setting, for
/// every form of unit and every turn.

#include <cstdint>
#include <vector>

#include "layout/board.h"
#include "unit/form.h"

namespace motley::layout {

enum class Contact : std::uint8_t { none, corner, edge };

/// Of two outlines that do not overlap; a stretch shorter than `least_edge` is a corner only. All in one
/// measure.
Contact contact_of(const std::vector<unit::Point>& one, const std::vector<unit::Point>& other,
                   double least_edge);

/// How a unit lies: its form and its turn in one number.
constexpr int pose(int form, int turn) {
    return form * 4 + turn;
}

/// Answers for patch p of a unit in pose t in a lattice row of the given parity (see Board), and patch q of a
/// unit in pose u that lies (row_step, column_step) away on the lattice. Places that a form does not have
/// touch nothing and lie in the middle of the unit.
class Contacts {
public:
    /// Outlines that share less than `least_edge` (unit widths) only meet at a corner.
    Contacts(const std::vector<unit::Form>& forms, const Board& board, double least_edge = 0);

    /// edge: the outlines share a stretch of positive length; corner: at least a point. Units on both sides
    /// of sashing count as neighbours. none beyond the eight neighbours and for the unit itself.
    Contact between(int parity, int row_step, int column_step, int p, int t, int q, int u) const;

    /// Square of the distance between the patch centres, in unit widths.
    double distance_squared(int parity, int row_step, int column_step, int p, int t, int q, int u) const;

    /// Centre of patch p in a pose, unit coordinates.
    unit::Point centre(int p, int t) const { return centres_[way(p, t)]; }

    int places() const { return places_; } ///< Patches of the form that has the most.
    int poses() const { return poses_; }

private:
    std::size_t way(int p, int t) const { return static_cast<std::size_t>(p * poses_ + t); }

    int places_ = 0, poses_;
    double pitch_;
    bool bricks_;
    std::vector<unit::Point> centres_; ///< [way]
    std::vector<Contact> contacts_;    ///< [(parity * 9 + step) * ways + way][other way]
};

} // namespace motley::layout
