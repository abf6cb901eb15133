#pragma once
/// Scenes with known truth: invented cloth on the card, on paper, on a table, photographed. For tests and for
/// measuring; all chance comes from the seed.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "colour/difference.h"
#include "colour/space.h"
#include "painter/chance.h"
#include "painter/demo.h"
#include "painter/table.h"
#include "photo/photo.h"
#include "scene/card.h"
#include "scene/plane.h"
#include "scene/scene.h"

namespace motley::staged {

using painter::Chance;
using painter::Laid;
using painter::plain;
using painter::Table;
using painter::View;

/// The card as it comes out of a printer: white is paper, greys as said.
inline photo::LinearImage printed(const scene::Card& card, double pixels_per_inch = 100) {
    const int width = static_cast<int>(std::lround(card.width * pixels_per_inch));
    const int height = static_cast<int>(std::lround(card.height * pixels_per_inch));
    const auto at = [&](const scene::Point& p) {
        for (const scene::Marker& marker : card.markers) {
            if (!marker.area.holds(p)) continue;
            const double cell = marker.area.width / scene::marker_cells;
            const int column = static_cast<int>((p.x - marker.area.x) / cell);
            const int row = static_cast<int>((p.y - marker.area.y) / cell);
            if (column == 0 || row == 0 || column == 5 || row == 5) return 0.02;
            return (marker.code >> (15 - ((row - 1) * 4 + column - 1))) & 1 ? 0.02 : 1.0;
        }
        for (const scene::Grey& grey : card.ramp)
            if (grey.area.holds(p)) return colour::decode(grey.code);
        if (!card.field) return 1.0;
        const scene::Area& field = *card.field;
        const auto grown = [&](double by) {
            return scene::Area{field.x - by, field.y - by, field.width + 2 * by, field.height + 2 * by};
        };
        if (grown(scene::rim / 2).holds(p) && !grown(-scene::rim / 2).holds(p)) return 0.02;
        if (field.holds(p)) return scene::tinted(field, p) ? colour::decode(scene::tint) : 1.0;
        return 1.0;
    };
    photo::LinearImage out{width, height, {}};
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            double sum = 0; // Lines are narrower than pixels.
            for (const double dx : {0.125, 0.375, 0.625, 0.875})
                for (const double dy : {0.125, 0.375, 0.625, 0.875})
                    sum += at({(x + dx) / pixels_per_inch, (y + dy) / pixels_per_inch}) / 16;
            for (int c = 0; c < 3; ++c) out.pixels.push_back(static_cast<float>(sum * scene::paper_white));
        }
    return out;
}

inline Laid card_on_table(const scene::Card& card, double turn = 0) {
    Laid laid;
    laid.picture = printed(card);
    laid.width = card.width;
    laid.height = card.height;
    laid.middle = {0, 0};
    laid.turn = turn;
    laid.thickness = 0.01;
    return laid;
}

/// Cloth of a design, `width` by `height` inches.
inline Laid cloth(const painter::Design& design, painter::Spot middle, double width, double height,
                  double pixels_per_inch = 90) {
    Laid laid;
    laid.picture = painter::paint(design, static_cast<int>(width * pixels_per_inch), pixels_per_inch,
                                  static_cast<int>(height * pixels_per_inch))
                       .picture;
    laid.middle = middle;
    laid.width = width;
    laid.height = height;
    return laid;
}

inline colour::LinearRgb mean(const photo::LinearImage& picture) {
    double sum[3] = {0, 0, 0};
    for (std::size_t i = 0; i < picture.pixels.size(); ++i)
        sum[i % 3] += static_cast<double>(picture.pixels[i]);
    const double pixels = static_cast<double>(picture.pixels.size()) / 3;
    return {sum[0] / pixels, sum[1] / pixels, sum[2] / pixels};
}

inline double difference(const colour::LinearRgb& one, const colour::LinearRgb& other) {
    return colour::ciede2000(colour::lab(one), colour::lab(other));
}

/// A lamp and a camera by chance: warm light from one side, a tilt of up to `most_tilt` radians.
inline View evening(Chance& chance, double most_tilt, double pixels_per_inch) {
    View view;
    const double warm = chance.between(0.0, 1.0);
    view.lamp.colour = {1 + 0.25 * warm, 1, 1 - 0.42 * warm};
    const double side = chance.between(0, 6.283);
    const double far = chance.between(5, 14);
    view.lamp.over = {far * std::cos(side), far * std::sin(side)};
    view.lamp.height = chance.between(18, 34);
    view.tilt = chance.between(0, most_tilt);
    view.from = chance.between(0, 6.283);
    view.roll = chance.between(-0.15, 0.15);
    view.focal = chance.between(0.7, 1.1);
    view.pixels_per_inch = pixels_per_inch;
    view.blur = chance.between(0.5, 1.0);
    view.noise = chance.between(0.003, 0.010);
    view.exposure = chance.between(0.7, 0.9);
    view.seed = chance.next();
    return view;
}

/// The same view on fewer pixels.
inline View coarser(View view, double times) {
    view.width = static_cast<int>(view.width * times);
    view.height = static_cast<int>(view.height * times);
    view.pixels_per_inch *= times;
    return view;
}

/// The photo as the program gets it: a JPEG file, read.
inline photo::LinearImage taken(const Table& table, const View& view, int detail = scene::looking_detail,
                                int quality = 90) {
    const auto file = painter::encode_jpeg(painter::photograph(table, view), quality);
    return photo::read(file, "scene.jpg", detail).picture;
}

/// Where a thing's corners lie in the photo.
inline scene::Quad quad_of(const Laid& laid, const View& view) {
    const painter::Eye eye(view);
    scene::Quad out;
    const auto corners = painter::corners(laid);
    for (std::size_t i = 0; i < 4; ++i) {
        const painter::Spot at = eye.seen(corners[i]);
        out[i] = {at.x, at.y};
    }
    return scene::in_order(out);
}

/// One piece on the card, tilt and light by chance.
struct OnCard {
    Table table;
    View view;
    Laid piece;
};

inline OnCard on_card(std::uint64_t seed, double most_tilt, double bulge = 0, double contrast = 0) {
    Chance chance(seed);
    OnCard out;
    const scene::Card& card = scene::card(chance.odds(0.5) ? scene::CardKind::letter : scene::CardKind::a4);
    out.table.laid.push_back(card_on_table(card));
    const auto designs = painter::invented_designs(seed, 8);
    const double width = chance.between(2.5, 5.5), height = chance.between(2.5, 5.5);
    const double middle_y = card.field->y + card.field->height / 2 - card.height / 2;
    out.piece = cloth(designs[static_cast<std::size_t>(chance.below(8))],
                      {chance.between(-0.5, 0.5), middle_y + chance.between(-0.5, 0.5)}, width, height);
    out.piece.turn = chance.between(-0.15, 0.15);
    out.table.laid.push_back(out.piece);
    out.view = evening(chance, most_tilt, 125);
    out.view.width = 1500;
    out.view.height = 1800;
    out.view.from = 1.5708;
    out.view.looks_at = {0, 0.6 * out.view.tilt};
    out.view.bulge = bulge;
    out.view.contrast = contrast;
    return out;
}

/// One piece on white paper that fills the picture.
inline OnCard on_paper(std::uint64_t seed, double most_tilt, bool shadow) {
    Chance chance(seed * 7919 + 5);
    OnCard out;
    out.table.laid.push_back(plain({0.905, 0.9, 0.89}, {0, 0}, 60, 60));
    const auto designs = painter::invented_designs(seed, 8);
    out.piece = cloth(designs[static_cast<std::size_t>(chance.below(8))],
                      {chance.between(-0.6, 0.6), chance.between(-0.6, 0.6)}, chance.between(3, 5.5),
                      chance.between(3, 5.5));
    out.piece.turn = chance.between(-0.2, 0.2);
    out.table.laid.push_back(out.piece);
    out.view = evening(chance, most_tilt, 130);
    if (shadow)
        out.table.shadows.push_back({{chance.between(-2, 2), chance.between(-2, 2)},
                                     chance.between(0, 6.283),
                                     chance.between(0.15, 0.4),
                                     chance.between(0.4, 1.2),
                                     2.5});
    return out;
}

/// Twelve pieces in three rows on paper or a table, 1/4 in apart.
struct Twelve {
    Table table;
    View view;
    std::vector<Laid> pieces; ///< In reading order.
};

inline Twelve twelve(std::uint64_t seed, double tilt, bool paper, int near_white) {
    Chance chance(seed * 104729 + 11);
    Twelve out;
    if (paper) out.table.laid.push_back(plain({0.905, 0.9, 0.89}, {0, 0}, 60, 60));
    out.table.wood = {0.30, 0.20, 0.12};
    const auto designs = painter::invented_designs(seed + 1000, 12);
    for (int i = 0; i < 12; ++i) {
        painter::Design design = designs[static_cast<std::size_t>(i)];
        if (i % 3 == 1 && i / 3 < near_white) {
            design = {};
            const auto level = static_cast<std::uint8_t>(226 + chance.below(18));
            design.ground = {level, static_cast<std::uint8_t>(level - chance.below(5)),
                             static_cast<std::uint8_t>(level - chance.below(14))};
        }
        const painter::Spot middle{(i % 4 - 1.5) * 3.25, (i / 4 - 1) * 3.25};
        Laid piece =
            cloth(design, {middle.x + chance.between(-0.04, 0.04), middle.y + chance.between(-0.04, 0.04)}, 3,
                  3, 60);
        piece.turn = chance.between(-0.015, 0.015);
        out.table.laid.push_back(piece);
        out.pieces.push_back(piece);
    }
    out.view = evening(chance, 0, 115);
    out.view.width = 2000;
    out.view.height = 1500;
    out.view.tilt = tilt;
    out.view.roll = chance.between(-0.06, 0.06);
    out.view.from = 1.5708;
    out.table.shadows.push_back({{chance.between(-5, 5), chance.between(-3, 3)},
                                 chance.between(0, 6.283),
                                 chance.between(0.2, 0.45),
                                 chance.between(0.5, 1.5),
                                 chance.between(2, 5)});
    return out;
}

} // namespace motley::staged
