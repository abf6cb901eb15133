#pragma once
/// Where the cells of a setting lie, and what of that the search needs: a lattice of rows and columns on
/// which equal steps are equal distances. Words: the *list* is how files name cells: rows from the top, cells
/// from the left. The *lattice* is how the search counts: for a straight setting the same; on point its
/// columns run down to the right and its rows down to the left (in the direction of the units' own sides),
/// and the cells outside the top are absent; of bricks every second row is moved half a unit to the right.
/// Absent too are plain blocks between the units. Units: the unit's finished side is 1.

#include <string>
#include <vector>

#include "layout/setting.h"
#include "unit/form.h"

namespace motley::layout {

class Board {
public:
    /// A straight one without anything between the units.
    Board(int columns, int rows);
    /// `finished` is the side of a unit.
    Board(const Setting& setting, measure::Length finished);

    /// Of the lattice.
    int columns() const { return columns_; }
    int rows() const { return rows_; }
    int cells() const { return columns_ * rows_; }
    bool present(int cell) const { return absent_.empty() || absent_[static_cast<std::size_t>(cell)] == 0; }
    bool full() const { return absent_.empty(); } ///< No cell is absent.
    int units() const { return units_; }          ///< Cells that are present.

    /// A cell of the list; -1 for the lattice cell when there is a plain block, or no such place.
    int list_rows() const { return static_cast<int>(list_.size()); }
    int list_columns(int row) const { return static_cast<int>(list_[static_cast<std::size_t>(row)].size()); }
    int cell(int row, int column) const;
    /// Where a present cell stands in the list, from 0.
    int row(int cell) const { return row_of_[static_cast<std::size_t>(cell)]; }
    int column(int cell) const { return column_of_[static_cast<std::size_t>(cell)]; }
    std::string place(int cell) const; ///< "row 3, column 4", as files count.

    /// Lattice cells that hold plain blocks, in rising order.
    const std::vector<int>& plain_blocks() const { return plain_blocks_; }

    bool bricks() const { return arrangement_ == Arrangement::brick; }
    bool on_point() const { return arrangement_ == Arrangement::on_point; }
    /// 0 or 1: rows of bricks that are moved half a unit; 0 in all other settings.
    int parity(int row) const { return bricks() ? row & 1 : 0; }
    int parities() const { return bricks() ? 2 : 1; }
    /// From the middle of a unit in a lattice row of that parity to the middle of another unit, in unit
    /// widths along the units' own sides.
    unit::Point step(int parity, int row_step, int column_step) const;
    /// From the middle of one unit to the next: 1, and the sashing's share.
    double pitch() const { return pitch_; }
    /// The step with the sashing taken out: units on both sides of a strip count as neighbours.
    unit::Point close_step(int parity, int row_step, int column_step) const;

    /// Units from one to the other as the rule `apart` counts them: the larger of the row and the column
    /// step, half a unit aside counted whole.
    int apart(int parity, int row_step, int column_step) const;

    /// For even values: how many cells a window of 4 x 4 lattice cells holds where it holds the most (16; 8
    /// between plain blocks), and whether the window whose first cell is this holds that many.
    int window_units() const { return window_units_; }
    bool window_counts(int first_cell) const;

private:
    void list_straight(const Setting& setting);
    void list_on_point(const Setting& setting);
    void list_bricks(const Setting& setting);
    void enlist(int list_row, int cell, bool unit);
    void measure_windows();

    Arrangement arrangement_ = Arrangement::straight;
    int columns_ = 0, rows_ = 0, units_ = 0;
    double pitch_ = 1;
    std::vector<char> absent_; ///< By lattice cell; empty when none is.
    std::vector<std::vector<int>> list_;
    std::vector<int> plain_blocks_;
    std::vector<int> row_of_, column_of_; ///< By lattice cell.
    int window_units_ = 16;
    std::vector<char> window_counts_; ///< By first cell; empty when all do.
};

} // namespace motley::layout
