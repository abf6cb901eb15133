#include "scene/card.h"

#include <cmath>
#include <cstddef>

#include "fault/fault.h"

namespace motley::scene {

namespace {

// Any two of these, in any turns, differ in five cells or more (found by trying codes in a shuffled order).
constexpr std::array<std::array<std::uint16_t, 4>, 3> codes{
    {{0xe9b1, 0x6d60, 0x50f3, 0xd7d0}, {0x38ea, 0x7b53, 0x808f, 0xb198}, {0x2839, 0xa633, 0x1e5f, 0xd328}}};
constexpr int greys = 10;
constexpr double darkest = 0.14, grey_step = 0.09; // sRGB code values.

void add_ramp(Card& card, const Area& row, bool falling) {
    for (int i = 0; i < greys; ++i) {
        const double side = row.width / greys;
        card.ramp.push_back({{row.x + i * side, row.y, side, row.height},
                             darkest + grey_step * (falling ? greys - 1 - i : i)});
    }
}

void add_markers(Card& card, double edge, double side) {
    const double right = card.width - edge - side, low = card.height - edge - side;
    const auto& code = codes.at(static_cast<std::size_t>(card.kind));
    card.markers = {{{{edge, edge, side, side}, code[0]},
                     {{right, edge, side, side}, code[1]},
                     {{right, low, side, side}, code[2]},
                     {{edge, low, side, side}, code[3]}}};
}

Card page(CardKind kind, double width, double height) {
    Card card;
    card.kind = kind;
    card.width = width;
    card.height = height;
    constexpr double edge = 0.45, side = 0.7, apart = 0.15;
    add_markers(card, edge, side);
    const double ramp_left = edge + side + 0.2, ramp_width = width - 2 * ramp_left;
    add_ramp(card, {ramp_left, edge + 0.12, ramp_width, 0.46}, false);
    add_ramp(card, {ramp_left, height - edge - side + 0.12, ramp_width, 0.46}, true);
    const double top = edge + side + apart, below = 0.8;
    const double across = std::floor((width - 1.0) / checks) * checks;
    const double down = std::floor((height - 2 * top - below) / checks) * checks;
    card.field = Area{(width - across) / 2, top, across, down};
    card.ruler = {(width - 6) / 2, top + down + 0.14, 6, 0.28};
    card.words = {0.6, top + down + 0.48, width - 1.2, 0.38};
    return card;
}

Card small_card() {
    Card card;
    card.kind = CardKind::small;
    card.width = 4;
    card.height = 3;
    constexpr double edge = 0.15, side = 0.55;
    add_markers(card, edge, side);
    const double left = edge + side + 0.12, across = card.width - 2 * left;
    add_ramp(card, {left, edge + 0.05, across, 0.42}, false);
    add_ramp(card, {left, card.height - edge - side + 0.08, across, 0.42}, true);
    card.ruler = {0.5, 1.05, 3, 0.28};
    card.words = {0.3, 1.42, 3.4, 0.7};
    return card;
}

} // namespace

const Card& card(CardKind kind) {
    static const std::array<Card, 3> cards{page(CardKind::letter, 8.5, 11),
                                           page(CardKind::a4, 210 / 25.4, 297 / 25.4), small_card()};
    return cards.at(static_cast<std::size_t>(kind));
}

std::string_view name(CardKind kind) {
    constexpr std::array<std::string_view, 3> names{"letter", "a4", "small"};
    return names.at(static_cast<std::size_t>(kind));
}

bool tinted(const Area& field, const Point& point) {
    expects(field.holds(point));
    const int column = static_cast<int>((point.x - field.x) / checks);
    const int row = static_cast<int>((point.y - field.y) / checks);
    return (column + row) % 2 == 1;
}

} // namespace motley::scene
