#pragma once
/// Where motifs stand on a repeat that continues past its edges, as on a printing roller.

#include <vector>

#include "painter/chance.h"
#include "painter/outline.h"

namespace motley::painter {

struct Spot {
    Point at = {};
    double radius = 0;
    std::uint64_t seed = 0; ///< The same in every repeat, so each copy of a spot is drawn alike.
};

/// A repeat of `side` by `side`; spots keep out of each other's way across its edges too.
class Repeat {
public:
    Repeat(double side, std::uint64_t seed) : side_(side), chance_(seed) {}

    double side() const { return side_; }
    /// Tosses up to `count` circles of the radius to free places, and returns those that found one.
    /// `crowding` below 1 lets them overlap.
    std::vector<Spot> toss(double radius, int count, double crowding = 1);
    /// As many as fit.
    std::vector<Spot> fill(double radius, double crowding = 1);

private:
    bool is_free(Point at, double radius) const;

    double side_;
    Chance chance_;
    std::vector<Spot> taken_;
};

/// The spots of every repeat that touches a cloth of this size, row by row; each column of repeats drops by
/// half.
std::vector<Spot> repeated(const std::vector<Spot>& spots, double side, double width, double height,
                           double margin);

/// Rows of places `across` by `along` apart, each second row moved by half, covering the cloth.
std::vector<Spot> half_drop(double across, double along, double width, double height, std::uint64_t seed);

} // namespace motley::painter
