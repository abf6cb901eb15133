#pragma once
/// What a unit shows its neighbours along its outer edges: how light each is, and where seams inside the unit
/// end. Private to this folder.

#include <array>
#include <vector>

#include "layout/layout.h"

namespace motley::assembly {

/// A seam that ends within an edge of a unit at turn 0.
struct InnerEnd {
    double at = 0;             ///< Along the edge, clockwise, share of it.
    int before = 0, after = 0; ///< The patches on both sides.
    /// It lies between these two alone, and the recipe has it pressed towards the darker of them.
    bool to_darker = false;
};

/// Of one form, turn 0.
struct FormEdges {
    std::array<std::vector<InnerEnd>, 4> ends; ///< Top, right, bottom, left.
    std::array<char, 4> corner{};              ///< A seam ends where that edge ends, clockwise.
};

/// By form. Sides to which inner seams are pressed are known of the program's recipes that press every seam
/// towards the darker fabric.
std::vector<FormEdges> edges_of(const layout::Plan& plan);

/// The side of the form (0 top, clockwise) that lies at `side` of a unit that is turned.
constexpr int side_of_form(int side, int turn) {
    return (side + 4 - turn % 4) % 4;
}

} // namespace motley::assembly
