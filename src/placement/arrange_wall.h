#pragma once
/// The design wall: what a brief says about where units can hang and how units there meet, as whole-number
/// tables that every restart shares and none changes.
/// Words: a *part* is what one slot shows of a unit, one patch or several; a *pose* is a form and a turn; a
/// *way* is the step to one of the eight neighbours on the lattice, and the parity of the row it starts in.

#include <array>
#include <cstdint>
#include <vector>

#include "layout/brief.h"
#include "layout/contact.h"
#include "placement/arrange_light.h"

namespace motley::placement {

class Wall {
public:
    explicit Wall(const layout::Brief& brief);

    const layout::Brief& brief;
    const layout::Kit& kit;
    int columns, rows, cells;
    std::vector<int> places; ///< Cells that hold a unit, in rising order.
    LightMap light_map;

    static constexpr int pull_bits = 14; ///< Pulls are 2^14 / d^2, rounded.
    /// Further than so many lattice steps, pulls are taken for nothing: they change little from cell to cell.
    static constexpr int reach = 20;

    /// Patches of each part of a form.
    const std::vector<std::vector<int>>& parts(int form) const {
        return parts_[static_cast<std::size_t>(form)];
    }
    int most_parts() const { return most_parts_; }
    int pose(int form, int turn) const {
        return form * turns() + turn_number_[static_cast<std::size_t>(turn)];
    }
    int poses() const { return static_cast<int>(brief.forms.size()) * turns(); }
    /// -1: the search may turn the unit there.
    int turn(int cell) const { return brief.turns[static_cast<std::size_t>(cell)]; }

    struct Neighbour {
        int cell = 0, way = 0;
    };
    struct Neighbours {
        std::array<Neighbour, 8> list;
        int count = 0;
        const Neighbour* begin() const { return list.data(); }
        const Neighbour* end() const { return list.data() + count; }
    };
    /// The cells around a cell that hold units.
    const Neighbours& around(int cell) const { return around_[static_cast<std::size_t>(cell)]; }
    /// The way from one to the other, -1 when they are not neighbours.
    int way(int from, int to) const;

    /// Sums of pulls between parts, [part * most_parts() + other part].
    const std::int32_t* pulls(int way, int pose, int other_pose) const {
        return &pulls_[pair(way, pose, other_pose) * parts_squared()];
    }
    /// Parts that touch as the touching rule forbids it to a fabric.
    struct Touch {
        std::uint8_t part = 0, other = 0;
    };
    struct Touches {
        const Touch *first, *last;
        const Touch* begin() const { return first; }
        const Touch* end() const { return last; }
    };
    Touches touches(int way, int pose, int other_pose) const {
        const std::size_t at = pair(way, pose, other_pose);
        return {&touches_[touches_from_[at]], &touches_[touches_from_[at + 1]]};
    }
    /// Whether units meet on that way at all; along an edge.
    bool meet(int way) const { return meet_[static_cast<std::size_t>(way)] != 0; }
    bool beside(int way) const { return beside_[static_cast<std::size_t>(way)] != 0; }

    /// Pull between the middles of two cells, neighbours included.
    std::int32_t pull(int a, int b) const;
    /// The same without neighbours (they pull part by part): by step within `reach`.
    const std::int32_t* far_row(int parity, int row_step) const {
        return &far_[static_cast<std::size_t>((parity * side + row_step + reach) * side)];
    }
    /// Further steps than to a neighbour, as far as colour looks.
    struct NearStep {
        int row_step = 0, column_step = 0;
        std::int32_t pull = 0;
    };
    const std::vector<NearStep>& near_steps(int cell) const {
        return near_steps_[static_cast<std::size_t>(parity(cell))];
    }
    /// Of `near_steps` between two cells, or 0.
    std::int32_t near_pull(int a, int b) const;

    /// Visits the cells in which no fabric of the unit in `cell` may be again, whether they touch or not.
    template <class Visit>
    void for_apart(int cell, Visit visit) const;
    bool apart(int a, int b) const;

    /// Which way the stripes of a pose run, from 0; -1 where it has none.
    int stripes(int pose) const { return stripes_[static_cast<std::size_t>(pose)]; }

    int parity(int cell) const { return brief.board.parity(cell / columns); }

    static constexpr int side = 2 * reach + 1;

private:
    std::size_t pair(int way, int pose, int other_pose) const {
        return (static_cast<std::size_t>(way) * static_cast<std::size_t>(poses()) +
                static_cast<std::size_t>(pose)) *
                   static_cast<std::size_t>(poses()) +
               static_cast<std::size_t>(other_pose);
    }
    std::size_t parts_squared() const {
        return static_cast<std::size_t>(most_parts_) * static_cast<std::size_t>(most_parts_);
    }
    int turns() const { return static_cast<int>(turns_.size()); }
    /// As `layout` numbers poses.
    int laid(int pose) const {
        return layout::pose(pose / turns(), turns_[static_cast<std::size_t>(pose % turns())]);
    }
    void find_parts();
    void find_neighbours();
    void lay_out_ways();
    void lay_out_pair(int way, int parity, int row_step, int column_step, const layout::Contacts& contacts);
    void list_touches(const layout::Contacts& contacts);
    void lay_out_far();
    void find_stripes();

    std::vector<std::vector<std::vector<int>>> parts_; // [form][part] patches
    int most_parts_ = 0;
    std::vector<int> turns_;           // Those that occur,
    std::array<int, 4> turn_number_{}; // and which one of them a turn is.
    std::vector<Neighbours> around_;
    std::vector<std::int32_t> pulls_;
    std::vector<Touch> touches_;
    std::vector<std::size_t> touches_from_;
    std::array<char, 16> meet_{}, beside_{};
    std::vector<std::int32_t> all_, far_; // [parity][row step][column step]
    std::array<std::vector<NearStep>, 2> near_steps_;
    std::array<std::vector<std::pair<int, int>>, 2> apart_steps_; // By parity.
    std::vector<int> stripes_;
};

template <class Visit>
void Wall::for_apart(int cell, Visit visit) const {
    const int r = cell / columns, c = cell % columns;
    for (const auto& [dr, dc] : apart_steps_[static_cast<std::size_t>(parity(cell))])
        if (r + dr >= 0 && r + dr < rows && c + dc >= 0 && c + dc < columns) visit(cell + dr * columns + dc);
    if (!brief.rules.line) return;
    const int zone = brief.rules.apart - 1;
    for (int i = 0; i < rows; ++i)
        if (i < r - zone || i > r + zone) visit(i * columns + c);
    for (int j = 0; j < columns; ++j)
        if (j < c - zone || j > c + zone) visit(r * columns + j);
}

} // namespace motley::placement
