#pragma once
/// The light on a sewn top: the shallow valley of every seam, the seam allowance pressed under one side of
/// it, and the pucker of cloth.

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "render/grid.h"
#include "render/hand.h"
#include "render/ripple.h"

namespace motley::render {

/// The form of a top as heights, in inches, and how deep in its seams each place lies. Refers to the layout,
/// the grid and the hand. May be read from several threads.
class Relief {
public:
    Relief(const layout::Layout& layout, const Grid& grid, const Hand& hand, int margin);

    /// Light falling on `count` rows of the top from row y on, each from x = -margin on, around 1. Light
    /// comes from above left.
    void rows(int y, int count, std::span<float> light) const;

private:
    /// A seam inside a unit, in pixels at one turn, with the patches to its right and its left (walking from
    /// `from` to `to`).
    struct Inner {
        unit::Point from, to;
        int right = 0, left = 0;
    };
    /// One row of the form: heights, and what the seams let through of the light of the room.
    struct Form {
        std::vector<float> height, narrow, broad, lifted;
    };

    void form(int y, Form& form) const;
    void column_seams(int row, int y, Form& form) const;
    void row_seams(int row, int y, Form& form) const;
    void inner_seams(int row, int y, Form& form) const;
    void press(Form& form, std::size_t i, double distance, bool under, float firm) const;
    bool darker(std::size_t patch, std::size_t than) const;
    std::size_t patch_at(int row, int column, int side) const;

    const layout::Layout& layout_;
    const Grid& grid_;
    const Hand& hand_;
    int margin_;
    double reach_;                            ///< How far a seam is felt, pixels.
    std::array<std::vector<Inner>, 4> inner_; ///< By turn.
    std::array<std::array<int, 4>, 4>
        edge_; ///< [turn][side] the patch along the unit's top, right, bottom, left edge.
    std::vector<std::vector<float>> offsets_; ///< Of the row seams, [seam][pixel].
    Ripple firm_, pucker_, drape_;
};

} // namespace motley::render
