#pragma once
/// Which group of fabrics covers which cells, when every cell shows one fabric: the part of the floor that
/// groups have in common.

#include <vector>

namespace motley::placement {

/// Fabrics used about equally often. Without fabrics: the cells that are left to those that do not count.
struct Group {
    int fabrics = 0;
    int cells = 0;           ///< All of them together.
    int most = 0;            ///< Uses of the one used most.
    double squares = 0;      ///< Sum of the squares of their uses.
    std::vector<int> uses{}; ///< Of each, falling.
};

/// For a group: S >= fixed + the prices of the cells that its fabrics cover, whichever they are.
struct Prices {
    std::vector<double> by_cell;
    double fixed = 0;
};

/// S over all groups is at least this, whichever cells each covers; the groups have all the cells between
/// them. By the dual of the assignment of cells to groups: a discount for each group, every cell where it is
/// cheapest; one discount after the other set to its best.
double least_cover(const std::vector<Prices>& prices, const std::vector<Group>& groups);

/// A share of each cell for each group, kept near what each of them wants.
class Cover {
public:
    /// `weight[i]` cells count as one place i.
    Cover(std::vector<Group> groups, std::vector<int> weight);

    /// [group][place], [0, 1].
    const std::vector<std::vector<double>>& shares() const { return shares_; }
    /// Moves the shares towards the nearest to `wanted`, by squares weighted with the group's `stiffness`,
    /// that fill every place and give each group its number of cells: exactly so only after many calls.
    void settle(const std::vector<std::vector<double>>& wanted, const std::vector<double>& stiffness);

private:
    std::vector<Group> groups_;
    std::vector<int> weight_;
    std::vector<std::vector<double>> shares_;
    std::vector<double> toll_; // By group.
};

} // namespace motley::placement
