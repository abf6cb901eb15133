#include "layout/frame.h"

#include <algorithm>
#include <cmath>

namespace motley::layout {

using unit::Motion;
using unit::Point;

double Frame::root_half() {
    return std::sqrt(0.5);
}

Frame::Frame(const Plan& plan)
    : board_(plan.board()),
      side_(plan.finished.in_inches()),
      sash_(plan.setting.sashing ? plan.setting.sashing->width.in_inches() : 0),
      around_(plan.setting.sashing && plan.setting.sashing->around ? sash_ : 0) {
    const double pitch = side_ + sash_;
    const int columns = plan.setting.columns, rows = plan.setting.rows;
    if (board_.on_point()) {
        width_ = (pitch * (columns - 1) + side_) * 2 * root_half();
        height_ = (pitch * (rows - 1) + side_) * 2 * root_half();
    } else {
        width_ = pitch * columns - sash_ + 2 * around_;
        height_ = pitch * rows - sash_ + 2 * around_;
    }
}

Motion Frame::from_lattice() const {
    if (!board_.on_point()) return unit::shifted({side_ / 2 + around_, side_ / 2 + around_});
    const Motion tilt = unit::rotated(45);
    const int first = board_.cell(0, 0);
    const Point middle = tilt(lattice_middle(first / board_.columns(), first % board_.columns()));
    const Point wanted{side_ * root_half(), side_ * root_half()};
    return unit::shifted(wanted - middle).after(tilt);
}

Point Frame::lattice_middle(int row, int column) const {
    const double aside = board_.parity(row) * 0.5;
    return {(column + aside) * (side_ + sash_), row * (side_ + sash_)};
}

Motion Frame::from_unit(int cell, int turn) const {
    const Motion turned = unit::rotated(90 * turn).after(unit::shifted({-side_ / 2, -side_ / 2}));
    const Point middle = lattice_middle(cell / board_.columns(), cell % board_.columns());
    return from_lattice().after(unit::shifted(middle).after(turned));
}

bool Frame::block(int row, int column) const {
    if (row < 0 || row >= board_.rows() || column < 0 || column >= board_.columns()) return false;
    const int cell = row * board_.columns() + column;
    const std::vector<int>& plain = board_.plain_blocks();
    return board_.present(cell) || std::binary_search(plain.begin(), plain.end(), cell);
}

bool Frame::crossing(int row, int column) const {
    int blocks = 0;
    for (int i = 0; i <= 1; ++i)
        for (int j = 0; j <= 1; ++j) blocks += block(row + i, column + j);
    return around_ > 0 ? blocks > 0 : blocks == 4;
}

} // namespace motley::layout
