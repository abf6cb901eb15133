#pragma once
/// The printed card that swatches are photographed on: where everything on it is. Drawn by `render`, read
/// here. Units: inches from the top left corner of the page, y down.
///
/// Words: a *marker* is one of the four coded squares at the corners; the *ramp* is a row of greys, printed
/// once above and once below in opposite order, so that light from one side cannot pass for a tone curve;
/// the *field* is where swatches lie, in white and pale grey squares by turns: whatever colour a cloth has,
/// it differs from one of the two. Printed greys are nominal: what a printer makes of them is assumed.

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "scene/plane.h"

namespace motley::scene {

struct Area {
    double x = 0, y = 0, width = 0, height = 0;

    Quad corners() const { return {{{x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}}}; }
    bool holds(const Point& point) const {
        return point.x >= x && point.x < x + width && point.y >= y && point.y < y + height;
    }
};

/// A square of 6 x 6 cells: a dark rim, and inside it 4 x 4 cells dark (1) or light (0), row by row.
struct Marker {
    Area area;
    std::uint16_t code = 0; ///< The top left cell is the highest bit.
};

struct Grey {
    Area area;
    double code = 0; ///< sRGB code value as printed, [0, 1].
};

enum class CardKind : std::uint8_t { letter, a4, small };

/// What a card is made of.
struct Card {
    CardKind kind = CardKind::letter;
    double width = 0, height = 0;  ///< Of the page; of the small card its own size.
    std::array<Marker, 4> markers; ///< Clockwise from the top left.
    std::vector<Grey> ramp;
    std::optional<Area> field; ///< Where swatches lie; the small card has none.
    Area ruler;                ///< Its length is `width`, whole inches.
    Area words;
};

inline constexpr double checks = 0.25;      ///< Side of the squares of the field.
inline constexpr double tint = 208.0 / 255; ///< sRGB code value of its grey squares.
inline constexpr double rim = 0.02;         ///< Width of the black line around the field.
inline constexpr int marker_cells = 6;
/// Light that plain white paper gives back, of a perfect white. Office paper is between 0.83 and 0.92 (common
/// practice, no source).
inline constexpr double paper_white = 0.9;

const Card& card(CardKind kind);
std::string_view name(CardKind kind); ///< "letter", "a4", "small".

/// Which square of the field a point lies in: true for the grey ones. Expects that it lies in the field.
bool tinted(const Area& field, const Point& point);

} // namespace motley::scene
