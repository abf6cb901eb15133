#include "layout/board.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "fault/fault.h"

namespace motley::layout {

namespace {

constexpr int window = 4;

Setting plain(int columns, int rows) {
    Setting setting;
    setting.columns = columns;
    setting.rows = rows;
    return setting;
}

} // namespace

Board::Board(int columns, int rows) : Board(plain(columns, rows), {measure::Length::per_inch}) {}

Board::Board(const Setting& setting, measure::Length finished) : arrangement_(setting.arrangement) {
    expects(setting.columns >= 1 && setting.rows >= 1 && finished.ticks > 0);
    if (setting.sashing) pitch_ += setting.sashing->width.in_inches() / finished.in_inches();
    columns_ = setting.columns;
    rows_ = setting.rows;
    if (on_point()) columns_ = rows_ = setting.columns + setting.rows - 1;
    absent_.assign(static_cast<std::size_t>(cells()), 1);
    row_of_.assign(static_cast<std::size_t>(cells()), -1);
    column_of_ = row_of_;
    if (on_point())
        list_on_point(setting);
    else if (bricks())
        list_bricks(setting);
    else
        list_straight(setting);
    if (units_ == cells()) absent_.clear();
    std::sort(plain_blocks_.begin(), plain_blocks_.end());
    measure_windows();
}

void Board::enlist(int list_row, int cell, bool unit) {
    list_.resize(static_cast<std::size_t>(list_row) + 1);
    std::vector<int>& row = list_.back();
    if (unit) {
        absent_[static_cast<std::size_t>(cell)] = 0;
        row_of_[static_cast<std::size_t>(cell)] = list_row;
        column_of_[static_cast<std::size_t>(cell)] = static_cast<int>(row.size());
        ++units_;
    } else {
        plain_blocks_.push_back(cell);
    }
    row.push_back(unit ? cell : -1);
}

void Board::list_straight(const Setting& setting) {
    for (int r = 0; r < rows_; ++r)
        for (int c = 0; c < columns_; ++c)
            enlist(r, r * columns_ + c, setting.alternate.empty() || (r + c) % 2 == 0);
}

// In widths of a unit on point, the middle of cell c of list row r lies at x = c, y = r/2, moved by x = 1/2
// in every second row. Lattice columns run along (1/2, 1/2), lattice rows along (-1/2, 1/2): column x + y,
// row y - x.
void Board::list_on_point(const Setting& setting) {
    for (int r = 0; r < 2 * setting.rows - 1; ++r)
        for (int c = 0; c < setting.columns - r % 2; ++c) {
            const int column = c + (r + 1) / 2;
            const int row = r / 2 - c + setting.columns - 1;
            enlist(r, row * columns_ + column, setting.alternate.empty() || r % 2 == 0);
        }
    if (setting.columns == 1) // Rows between single units hold nothing, and are still rows.
        list_.resize(static_cast<std::size_t>(2 * setting.rows - 1));
}

void Board::list_bricks(const Setting&) {
    for (int r = 0; r < rows_; ++r)
        for (int c = 0; c < columns_ - r % 2; ++c) enlist(r, r * columns_ + c, true);
    list_.resize(static_cast<std::size_t>(rows_));
}

int Board::cell(int row, int column) const {
    if (row < 0 || row >= list_rows() || column < 0 || column >= list_columns(row)) return -1;
    return list_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
}

std::string Board::place(int cell) const {
    expects(present(cell));
    return fmt::format("row {}, column {}", row(cell) + 1, column(cell) + 1);
}

unit::Point Board::close_step(int parity, int row_step, int column_step) const {
    double aside = 0;
    if (bricks() && row_step % 2 != 0) aside = parity == 0 ? 0.5 : -0.5;
    return {column_step + aside, static_cast<double>(row_step)};
}

unit::Point Board::step(int parity, int row_step, int column_step) const {
    const unit::Point close = close_step(parity, row_step, column_step);
    return {close.x * pitch_, close.y * pitch_};
}

int Board::apart(int parity, int row_step, int column_step) const {
    const double aside = std::abs(close_step(parity, row_step, column_step).x);
    return std::max(std::abs(row_step), static_cast<int>(std::ceil(aside - 1e-9)));
}

void Board::measure_windows() {
    if (full()) return;
    std::vector<int> held(static_cast<std::size_t>(cells()));
    window_units_ = 0;
    for (int r = 0; r + window <= rows_; ++r)
        for (int c = 0; c + window <= columns_; ++c) {
            int& count = held[static_cast<std::size_t>(r * columns_ + c)];
            for (int i = 0; i < window; ++i)
                for (int j = 0; j < window; ++j) count += present((r + i) * columns_ + c + j);
            window_units_ = std::max(window_units_, count);
        }
    for (const int count : held) window_counts_.push_back(count == window_units_ && count > 0);
}

bool Board::window_counts(int first_cell) const {
    const int r = first_cell / columns_, c = first_cell % columns_;
    if (r + window > rows_ || c + window > columns_) return false;
    return window_counts_.empty() || window_counts_[static_cast<std::size_t>(first_cell)] != 0;
}

} // namespace motley::layout
