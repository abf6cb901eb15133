#pragma once
/// The light on a sewn top: the shallow valley of every seam, the seam allowance pressed under one side of
/// it, and the pucker of cloth.

#include <cstdint>
#include <span>
#include <vector>

#include "render/bands.h"
#include "render/draft.h"
#include "render/ripple.h"

namespace motley::render {

/// The form of a top as heights, in inches, and how deep in its seams each place lies. Refers to the draft.
/// May be read from several threads.
class Relief {
public:
    /// `beyond`: columns on both sides of the top that are asked for. `reach`: the farthest that a drift is
    /// off.
    Relief(const Draft& draft, int beyond, double reach);

    /// Light falling on `count` rows of the top from row y on, each from x = -beyond on, around 1. Light
    /// comes from above left. `right` and `below` are Hand::drift of those rows and of one more before and
    /// after.
    void rows(int y, int count, std::span<const float> right, std::span<const float> below,
              std::span<float> light) const;

private:
    /// Rows of the form: heights, and what the seams let through of the light of the room.
    struct Form {
        int first = 0;
        std::span<const float> right, below;
        std::vector<float> narrow, broad, lifted;
    };

    void press(std::size_t seam, int y, Form& form) const;

    const Draft& draft_;
    int beyond_;
    double reach_;                         ///< How far a seam is felt, drift included.
    std::vector<std::vector<float>> firm_; ///< By seam: how firmly it is pressed, pixel by pixel along it.
    Bands bands_;
    Ripple pucker_, drape_;
};

} // namespace motley::render
