#pragma once
/// A brief made ready for counting: whole-number tables that every restart shares and none changes.
/// Fixed point throughout, so that a sum of changes equals a fresh count to the last bit and no compiler can
/// tell otherwise.

#include <array>
#include <cstdint>
#include <vector>

#include "layout/brief.h"
#include "layout/contact.h"
#include "layout/layout.h"

namespace motley::placement {

/// Patches are numbered cell * P + p. A *site* is where a patch's centre lies: cell and centre together. A
/// *pose* is a unit's form and turn in one number (layout/contact.h); where there is one form it is the turn.
class Model {
public:
    explicit Model(const layout::Brief& brief);

    const layout::Brief& brief;
    layout::Contacts contacts;
    int columns, rows, cells, places; ///< places: patches per unit.
    int patches, fabrics;

    static constexpr int distance_bits = 24; ///< `pull` is 2^24 / d^2, rounded.
    static constexpr int likeness_bits = 16;
    static constexpr int near_bits = 16;    ///< Of `near`.
    static constexpr int light_steps = 256; ///< Per L*.

    /// 2^24 / d^2 between two sites; 0 for a site with itself. `pulls` is laid out so that the sum of a row
    /// (one site's) and a site number addresses it.
    std::int32_t pull(std::int32_t row, std::int32_t site) const {
        return pulls_[static_cast<std::size_t>(row + site)];
    }
    std::int32_t site(int patch, int pose) const;
    std::int32_t row(int patch, int pose) const;

    /// A neighbour within the reach of `colour`: cell step and, for each pair of centres, 2^16 / d^2 (0
    /// beyond the reach).
    struct NearStep {
        int row_step, column_step;
        std::vector<std::int32_t> weight; ///< [centre * centres + other centre]
    };
    const std::vector<NearStep>& near_steps(int cell) const {
        return near_steps_[static_cast<std::size_t>(parity(cell))];
    }
    /// 2^16 / d^2 between two patches, 0 beyond the reach.
    std::int32_t near_weight(int patch, int pose, int other, int other_pose) const;
    int centre(int place, int pose) const {
        return centre_of_[static_cast<std::size_t>(place * contacts.poses() + pose)];
    }
    int centres() const { return centres_; }

    bool same(int f, int g) const { return same_[static_cast<std::size_t>(f * fabrics + g)] != 0; }
    const std::vector<int>& alike(int f) const {
        return alike_[static_cast<std::size_t>(f)];
    } ///< All g with same(f, g).
    std::int32_t likeness(int f, int g) const { return likeness_[static_cast<std::size_t>(f * fabrics + g)]; }
    const std::int32_t* likeness_row(int f) const {
        return &likeness_[static_cast<std::size_t>(f * fabrics)];
    }
    /// Area share times L*.
    std::int32_t light(int place, int pose, int f) const {
        return light_[static_cast<std::size_t>((pose / 4 * places + place) * fabrics + f)];
    }
    std::int32_t aim(int cell) const { return aim_[static_cast<std::size_t>(cell)]; }
    bool has_aim() const { return !aim_.empty(); }
    bool exempt(int f) const { return brief.exempt[static_cast<std::size_t>(f)] != 0; }
    bool contrasts(int f, int g) const { return contrasts_[static_cast<std::size_t>(f * fabrics + g)] != 0; }
    /// Whether the rule `contrast` looks at two places of a unit: they have different roles.
    bool compared(int place, int other) const {
        return compared_[static_cast<std::size_t>(place * places + other)] != 0;
    }
    bool turns_matter() const {
        return turns_matter_;
    } ///< The search chooses turns, and they change the geometry.
    /// Whether two patches in different cells break a rule when they show the same fabric.
    bool conflict(int patch, int pose, int other, int other_pose) const;
    /// Visits the cells with which `cell` may be in conflict, itself left out.
    template <class Visit>
    void for_zone(int cell, Visit visit) const;

private:
    int parity(int cell) const { return brief.board.parity(cell / columns); }
    void lay_out_pulls();
    void lay_out_near_steps();
    void lay_out_fabrics();

    int stride_;      // Of one row of cell steps.
    int plane_;       // Of all cell steps, for one pair of centres.
    int centres_ = 0; // Different centres over places and turns.
    std::vector<int> centre_of_;
    std::vector<unit::Point> centre_points_;
    std::vector<std::int32_t> pulls_;
    std::array<std::vector<NearStep>, 2> near_steps_; // By parity.
    // By parity, [row step + 4][column step + 4] into near_steps_, -1 beyond the reach.
    std::array<std::array<int, 81>, 2> near_at_{};
    std::vector<char> same_, contrasts_, compared_;
    std::vector<std::vector<int>> alike_;
    std::vector<std::int32_t> likeness_, light_, aim_;
    int reach_; // Of touching and apart, in cells.
    bool turns_matter_ = false;
};

template <class Visit>
void Model::for_zone(int cell, Visit visit) const {
    const int r = cell / columns, c = cell % columns;
    const int top = r > reach_ ? r - reach_ : 0, bottom = r + reach_ < rows ? r + reach_ : rows - 1;
    const int left = c > reach_ ? c - reach_ : 0, right = c + reach_ < columns ? c + reach_ : columns - 1;
    for (int i = top; i <= bottom; ++i)
        for (int j = left; j <= right; ++j)
            if (i != r || j != c) visit(i * columns + j);
    if (!brief.rules.line) return;
    for (int i = 0; i < rows; ++i)
        if (i < top || i > bottom) visit(i * columns + c);
    for (int j = 0; j < columns; ++j)
        if (j < left || j > right) visit(r * columns + j);
}

} // namespace motley::placement
