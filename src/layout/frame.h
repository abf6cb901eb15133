#pragma once
/// Where units and what lies between them come to lie on the top, without the borders. Private to this
/// folder. Units: inches, finished; the top left corner inside the borders is (0, 0).

#include "layout/plan.h"
#include "unit/plane.h"

namespace motley::layout {

class Frame {
public:
    explicit Frame(const Plan& plan);

    const Board& board() const { return board_; }
    double side() const { return side_; } ///< Of a unit.
    double sash() const { return sash_; } ///< Width of the sashing; 0 without.
    double width() const { return width_; }
    double height() const { return height_; }

    /// From the lattice (along the units' sides, from the middle of lattice cell 0) to the top.
    unit::Motion from_lattice() const;
    unit::Point lattice_middle(int row, int column) const;
    /// From the unit, turned, (from its top left corner) to the top.
    unit::Motion from_unit(int cell, int turn) const;

    /// Whether a unit or a plain block lies there.
    bool block(int row, int column) const;
    /// Whether strips cross below and to the right of lattice cell (row, column), from -1 on. At the edge of
    /// a setting on point the side triangles reach over the crossings.
    bool crossing(int row, int column) const;

    static double root_half(); ///< sqrt(1/2).

private:
    Board board_;
    double side_, sash_, around_;
    double width_ = 0, height_ = 0;
};

} // namespace motley::layout
