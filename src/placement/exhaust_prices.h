#pragma once
/// What pairs of patches cost on a small top, once the turns and the numbers of fabrics are settled.

#include <vector>

#include "placement/model.h"

namespace motley::placement {

/// Weights over expectations. In units of several patches an expectation also depends on which fabrics meet
/// in a unit; prices then take the greatest that it can be, so that none is too high.
class Prices {
public:
    /// `numbers`: [place][fabric].
    Prices(const Model& model, const std::vector<int>& turns, const std::vector<std::vector<int>>& numbers);

    /// Between patches i and j that show f and g; in one unit with an aim, also what the two together are off
    /// it.
    double pair(int i, int f, int j, int g) const {
        return pair_[static_cast<std::size_t>(
            ((i * model_.fabrics + f) * model_.patches + j) * model_.fabrics + g)];
    }
    /// What a patch costs by itself: its share of how far its unit is off the aim. May be below zero.
    double alone(int patch, int f) const {
        return alone_[static_cast<std::size_t>(patch * model_.fabrics + f)];
    }
    /// The least that two uses of one fabric cost wherever they lie.
    double closest_use() const { return closest_use_; }

    /// What a whole filling with these numbers costs, to the last digit.
    double whole(const std::vector<int>& shown) const;

private:
    /// A sum over pairs: what fabrics count for, how far it reaches, and what a shuffle gives: `settled`, and
    /// for the places p < q of each unit a share of what their two fabrics count for.
    struct Sum {
        std::vector<double> weight; // [f * fabrics + g]
        double reach_squared = 0, settled = 0;
        std::vector<double> share; // [cell][p][q]
        double wish = 0;           // Of the sum of the wishes.
    };

    void measure();
    void count_on(Sum& sum) const;
    double greatest(const Sum& sum) const;
    double ratio(const Sum& sum, const std::vector<int>& shown) const;
    double ratio_off(const std::vector<double>& units) const;
    double light(int patch, int f) const;
    void list_pairs(double spread, double colour, double value);

    const Model& model_;
    const std::vector<int>& turns_;
    const std::vector<std::vector<int>>& numbers_;
    std::vector<double> d2_; // [patch][other]
    Sum spread_, colour_;
    double value_wish_ = 0, aim_mean_ = 0, aim_variance_ = 0, closest_use_ = 0;
    std::vector<double> pair_, alone_;
};

} // namespace motley::placement
