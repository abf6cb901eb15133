#pragma once
/// Units hanging on the wall: what an exchange would change, and what it did.
/// Asking costs the eight neighbours of each cell, part by part; all that lies further away is read off
/// running sums (`fields`), one for each fabric and cell. Making an exchange brings those up to date. Every
/// figure is a whole number: a walk of exchanges leaves the tally equal to a fresh count of the result.

#include <cstdint>
#include <optional>
#include <vector>

#include "placement/arrange_light.h"
#include "placement/arrange_units.h"

namespace motley::placement {

/// For a change: after less before.
struct HangingTally {
    std::int64_t rules = 0; ///< Pairs of parts that break touching, apart or line.
    std::int64_t twins = 0; ///< Pairs of units of one set that meet.
    std::int64_t links = 0; ///< Pulls times weights (see Prices): spread, colour, twins, stripes.
    LightTally light;
    bool operator==(const HangingTally&) const = default;
};

struct Hung {
    std::vector<int> units;          ///< [cell] into Kit::units, -1 where nothing hangs.
    std::vector<std::uint8_t> turns; ///< [cell]
};

class Hanging {
public:
    /// Counts the wishes only with `wished`.
    Hanging(const Units& units, const Prices& prices, Hung start, bool wished);

    const HangingTally& tally() const { return tally_; }
    const Hung& hung() const { return hung_; }
    int unit(int cell) const { return hung_.units[static_cast<std::size_t>(cell)]; }
    int turn(int cell) const { return hung_.turns[static_cast<std::size_t>(cell)]; }
    int cell_of(int unit) const { return cell_of_[static_cast<std::size_t>(unit)]; } ///< -1: spare.
    double base() const { return static_cast<double>(base_); }

    /// What hangs in one or two cells (b = -1) afterwards.
    struct Change {
        int a = -1, b = -1;
        int unit_a = -1, unit_b = -1;
        int turn_a = 0, turn_b = 0;
    };
    /// The units of two cells; turns stay with the cells.
    Change exchange(int a, int b) const { return {a, b, unit(b), unit(a), turn(a), turn(b)}; }
    /// A spare unit for the one in the cell.
    Change replace(int a, int spare) const { return {a, -1, spare, -1, turn(a), 0}; }
    Change turning(int a, int to) const { return {a, -1, unit(a), -1, to, 0}; }

    struct Breaks {
        std::int64_t rules = 0, twins = 0;
    };
    Breaks breaks(const Change& change) const;
    /// Of the unit in a cell.
    Breaks trouble(int cell) const;
    /// Change in the wishes.
    HangingTally gain(const Change& change) const;
    void make(const Change& change);

    /// Visits the cells whose trouble depends on what hangs in `cell`, itself left out.
    template <class Visit>
    void for_zone(int cell, Visit visit) const;

private:
    Breaks breaks_at(int cell, int unit, int pose, int without) const;
    Breaks between(int u, int pose_u, int a, int v, int pose_v, int b) const;
    std::int64_t links_at(int cell, int unit, int pose, int without) const;
    std::int64_t link(int u, int pose_u, int v, int pose_v, int way) const;
    std::int64_t field_at(int cell, int unit) const;
    std::int64_t across(int a, int b, int from_a, int to_a, int from_b, int to_b) const;
    std::int64_t likeness(int u, int v) const;
    std::int64_t twin_pull(int unit, int cell, int without) const;
    std::int64_t twin_gain(const Change& change) const;
    void add_to_fields(int cell, int unit, int sign);
    void count();
    int pose(int cell) const { return units_.pose(unit(cell), turn(cell)); }
    std::int32_t price(int f, int g) const {
        return prices_.links[static_cast<std::size_t>(f * units_.fabrics + g)];
    }

    const Units& units_;
    const Wall& wall_;
    const Prices& prices_;
    Hung hung_;
    bool wished_, zone_;
    std::vector<int> cell_of_;
    HangingTally tally_;
    std::vector<std::int32_t>
        spread_field_; // [fabric][cell] pulls of patches of that fabric, neighbours left out.
    std::vector<std::int64_t>
        colour_field_;                  // [cell][fabric] weighted pulls that a patch of that fabric feels.
    std::vector<std::int64_t> weighed_; // [fabric] for add_to_fields.
    bool coloured_ = false;
    std::int64_t base_ = 0;
    std::optional<Light> light_; // None without wishes.
};

template <class Visit>
void Hanging::for_zone(int cell, Visit visit) const {
    for (const Wall::Neighbour near : wall_.around(cell)) visit(near.cell);
    if (!zone_) return;
    wall_.for_apart(cell, [&](int other) {
        if (unit(other) >= 0 && wall_.way(cell, other) < 0) visit(other);
    });
}

} // namespace motley::placement
