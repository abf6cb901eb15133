#pragma once
/// The units of a kit once its slots have fabrics: what each shows, and how two of them get on.

#include <cstdint>
#include <vector>

#include "placement/arrange_wall.h"

namespace motley::placement {

/// What the wishes make of a top, in whole numbers: weights of links between two fabrics, of twins and of
/// stripes, and what a link and a square of light cost.
struct Prices {
    std::vector<std::int32_t>
        links;                   ///< [f * fabrics + g]: 2^14 at most. Only the colour part off the diagonal.
    std::int32_t same = 0;       ///< The diagonal, where the fabric is not exempt.
    std::int32_t twins = 0;      ///< Of a pull between two units of one set.
    std::int64_t stripes = 0;    ///< Of two units side by side whose stripes run one way.
    double link = 0, square = 0; ///< Cost of one.
    int in_window = 16;
    double units = 1, windows = 0;
    bool asks_nothing = true;
};

class Units {
public:
    Units(const Wall& wall, const std::vector<layout::FabricId>& slots);

    const Wall& wall;
    std::vector<layout::FabricId> slots;
    int fabrics;

    int count() const { return static_cast<int>(made_.size()); }
    int form(int unit) const { return made_[static_cast<std::size_t>(unit)].form; }
    int twins(int unit) const { return made_[static_cast<std::size_t>(unit)].twins; }
    std::int32_t light(int unit) const { return made_[static_cast<std::size_t>(unit)].light; }
    int parts(int unit) const { return made_[static_cast<std::size_t>(unit)].parts; }
    int pose(int unit, int turn) const { return wall.pose(form(unit), turn); }
    /// Of a part, and in how many patches it shows.
    int fabric(int unit, int part) const {
        return fabric_[static_cast<std::size_t>(unit * wall.most_parts() + part)];
    }
    int patches(int unit, int part) const {
        return static_cast<int>(wall.parts(form(unit))[static_cast<std::size_t>(part)].size());
    }
    const std::vector<int>& group(int twins) const { return groups_[static_cast<std::size_t>(twins)]; }
    const std::vector<std::vector<int>>& groups() const { return groups_; }

    /// Whether two units cannot be told apart.
    bool identical(int u, int v) const;
    bool same(int f, int g) const { return same_[static_cast<std::size_t>(f * fabrics + g)] != 0; }
    bool exempt(int f) const { return !same(f, f); }

    /// Pairs of parts that break a rule if the units hang in these cells; 0 or 1 for two of one set that
    /// meet.
    int rule_breaks(int u, int pose_u, int a, int v, int pose_v, int b, int way) const;
    int twin_breaks(int u, int v, int way) const {
        return way >= 0 && wall.meet(way) && twins(u) == twins(v) && u != v;
    }
    /// Products of patch counts over shared fabrics that are not exempt.
    std::int64_t shared(int u, int v) const;

private:
    struct Made {
        int form = 0, twins = 0, parts = 0;
        std::int32_t light = 0;
        std::uint64_t fabrics = 0, alike = 0; // One bit for each fabric, modulo 64; what counts as the same.
    };

    std::vector<Made> made_;
    std::vector<int> fabric_;
    std::vector<std::vector<int>> groups_;
    std::vector<char> same_;
};

} // namespace motley::placement
