// Quiet prints of one colour, and small figures in rank and file.
#include <algorithm>
#include <cmath>

#include "painter/prints.h"

namespace motley::painter {
namespace {

void scrolls(Canvas& canvas, const Dyes& dyes, const Design& design) {
    Repeat repeat(design.scale * 4, mixed(design.seed, 30));
    const auto large = repeat.fill(0.34 * design.scale, 0.9), small = repeat.fill(0.16 * design.scale, 0.9);
    for (const auto* spots : {&small, &large}) {
        for (const Spot& spot :
             repeated(*spots, repeat.side(), canvas.width(), canvas.height(), design.scale * 1.5)) {
            Chance chance(spot.seed);
            Drawing drawing;
            std::vector<Point> curl;
            for (int k = 0; k <= 12; ++k) curl.push_back(towards({}, 0.62 * k, 0.05 + 0.92 * k / 12.0));
            const int ink = chance.below(2);
            drawing.push_back({stroke(curl, 0.2, 0.13, 0.03), {.ink = ink}});
            drawing.push_back({disc({}, 0.15), {.ink = ink}});
            for (int k = 4; k <= 11; k += 2) {
                add(drawing, leaf(chance, ink, false),
                    {.at = curl[static_cast<std::size_t>(k)], .turn = 0.62 * k + 0.5, .size = 0.5});
            }
            draw(canvas, dyes, drawing,
                 {.at = spot.at,
                  .turn = chance.between(0, 2 * pi),
                  .size = spot.radius,
                  .mirrored = chance.odds(0.5)});
        }
    }
}

void marbled(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const double w = canvas.width() + 0.2, h = canvas.height() + 0.2;
    const Field cloud(mixed(design.seed, 31), w, h, design.scale, 4),
        drift(mixed(design.seed, 32), w, h, design.scale * 0.8, 3);
    const Field deep(mixed(design.seed, 33), w, h, design.scale * 0.45, 4);
    const colour::LinearRgb ground = dyes.ground(), dark = dyes.dye(0), light = dyes.dye(1);
    canvas.shade([&](double x, double y) {
        const double bent = 0.25 * design.scale * drift.at(std::max(x, 0.0), std::max(y, 0.0));
        const double tone =
            cloud.at(x + bent, std::max(0.0, y - bent)) + 0.5 * deep.at(std::max(0.0, x - bent), y + bent);
        const colour::LinearRgb other = tone > 0 ? light : dark;
        const double share = std::min(1.0, 1.35 * std::abs(tone));
        return colour::LinearRgb{std::lerp(ground.r, other.r, share), std::lerp(ground.g, other.g, share),
                                 std::lerp(ground.b, other.b, share)};
    });
}

void brushed(Canvas& canvas, const Dyes& dyes, const Design& design) {
    Chance chance(mixed(design.seed, 34));
    const double gap = design.scale * 0.09;
    // Dry brush strokes, lengthwise then across, each paler or deeper than the ground.
    for (const bool across : {false, true}) {
        const double run = across ? canvas.width() : canvas.height(),
                     rise = across ? canvas.height() : canvas.width();
        for (double place = -gap; place < rise + gap; place += gap * chance.between(0.5, 1.5)) {
            for (double start = -design.scale * chance.between(0, 1.5); start < run;) {
                const double end = start + design.scale * chance.between(0.6, 2.2);
                std::vector<Point> knots;
                for (int k = 0; k <= 5; ++k) {
                    const double along = std::lerp(start, end, k / 5.0),
                                 aside = place + chance.around(0, gap * 0.35);
                    knots.push_back(across ? Point{along, aside} : Point{aside, along});
                }
                const double width = gap * chance.between(0.15, 0.75);
                canvas.fill(stroke(knots, width * 0.3, width, width * 0.2),
                            dyes.ink({.ink = chance.below(2), .strength = chance.between(0.25, 0.75)}));
                start = end + design.scale * chance.between(0.0, 0.5);
            }
        }
    }
}

void quiet_sprigs(Canvas& canvas, const Dyes& dyes, const Design& design) {
    for (const Spot& spot :
         half_drop(design.scale, design.scale * 0.55, canvas.width(), canvas.height(), design.seed)) {
        Chance chance(spot.seed);
        draw(canvas, dyes, sprig(chance, chance.below(2), -2),
             {.at = spot.at, .turn = chance.around(0, 0.5), .size = design.scale * 0.26});
    }
}

void scallops(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const double s = design.scale, radius = s / 2;
    for (int row = -2; row * s * 0.25 < canvas.height() + s; ++row) {
        for (int column = -1; column * s < canvas.width() + s; ++column) {
            const Point at{(column + (row % 2 != 0 ? 0.5 : 0.0)) * s, row * s * 0.25};
            const auto seed =
                static_cast<std::uint64_t>(row + 500) * 2048 + static_cast<std::uint64_t>(column + 500);
            Chance chance(mixed(design.seed, seed));
            int layer = 0;
            for (double size = 1; size > 0.15; size -= 0.2, ++layer) {
                canvas.fill(placed(blob(chance, 1, 0.006, 14), {.at = at, .size = radius * size}),
                            dyes.ink({.ink = layer % 2 == 0 ? 0 : -1, .lift = chance.around(0, 0.02)}));
                canvas.fill(placed(blob(chance, 1, 0.006, 14), {.at = at, .size = radius * (size - 0.07)}),
                            dyes.ink({.ink = layer % 2 == 0 ? -1 : 1}));
            }
        }
    }
}

Drawing ordered_figure(Chance& chance, Geometric::Figure figure, int ink) {
    const double uneven = chance.around(0, 0.04);
    switch (figure) {
        case Geometric::Figure::crosses:
            return {{stroke({{-1, uneven}, {0, 0}, {1, -uneven}}, 0.5, 0.46, 0.5), {.ink = ink}},
                    {stroke({{uneven, -1}, {0, 0}, {-uneven, 1}}, 0.5, 0.46, 0.5), {.ink = ink}}};
        case Geometric::Figure::stars: {
            std::vector<Point> tips;
            for (int k = 0; k < 10; ++k)
                tips.push_back(towards({}, pi * k / 5 + uneven, k % 2 == 0 ? 1 : 0.43));
            return {{polygon(tips), {.ink = ink}}};
        }
        default:
            break;
    }
    Drawing drawing;
    for (int k = -2; k <= 2; ++k) {
        const double lean = chance.around(0, 0.05);
        drawing.push_back({stroke({{0.4 * k + lean, -0.85 - uneven}, {0.4 * k - lean, 0.85}}, 0.1, 0.14, 0.1),
                           {.ink = ink}});
    }
    return drawing;
}

void ranks(Canvas& canvas, const Dyes& dyes, const Design& design, Geometric::Figure figure) {
    const int inks = std::max<int>(1, static_cast<int>(design.inks.size()));
    const double size = figure == Geometric::Figure::hatch ? 0.235 : 0.17;
    for (const Spot& spot :
         half_drop(design.scale, design.scale / 2, canvas.width(), canvas.height(), design.seed)) {
        Chance chance(spot.seed);
        const double steps =
            std::round(spot.at.x / design.scale * 2) + std::round(spot.at.y / design.scale * 2);
        const double turn =
            figure == Geometric::Figure::hatch && static_cast<int>(steps) % 2 != 0 ? pi / 2 : 0;
        const Drawing drawing = ordered_figure(chance, figure, chance.below(inks));
        draw(canvas, dyes, drawing,
             {.at = spot.at, .turn = turn + chance.around(0, 0.05), .size = design.scale * size});
    }
}

void trellis(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const double s = design.scale, reach = canvas.width() + canvas.height();
    for (const double side : {1.0, -1.0}) {
        for (double place = -reach; place < reach; place += s / 1.5) {
            std::vector<Point> knots;
            for (double along = -0.5; along < canvas.height() + 0.5; along += s / 5)
                knots.push_back({place + side * along / 1.5 + (side < 0 ? canvas.height() : 0), along});
            canvas.fill(stroke(knots, 0.05 * s, 0.05 * s, 0.05 * s), dyes.ink({.ink = 0}));
        }
    }
    const double shift = std::fmod(canvas.height(), s / 1.5);
    for (const Spot& spot : half_drop(s / 1.5, s / 2, canvas.width(), canvas.height(), design.seed)) {
        Chance chance(spot.seed);
        const Point at{spot.at.x + shift / 2 + s / 6, spot.at.y};
        draw(canvas, dyes, blossom(chance, {.petal = 1, .second = 0, .heart = 0}),
             {.at = at, .turn = chance.between(0, 2), .size = s * 0.13});
    }
}

void herringbone(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const double s = design.scale, half = s / 2, pitch = s / 4;
    const int inks = std::max<int>(1, static_cast<int>(design.inks.size()));
    for (int column = -1; column * half < canvas.width() + s; ++column) {
        const double left = column * half + 0.02 * s, right = (column + 1) * half - 0.02 * s,
                     slope = column % 2 == 0 ? half : -half;
        int row = 0;
        for (double y = -s; y < canvas.height() + s; y += pitch, ++row) {
            Chance chance(mixed(design.seed, static_cast<std::uint64_t>(column + 64) * 4096 +
                                                 static_cast<std::uint64_t>(row)));
            const double thick = pitch * chance.between(0.5, 0.6), top = y + (slope > 0 ? 0 : half);
            canvas.fill(
                polygon(
                    {{left, top}, {right, top + slope}, {right, top + slope + thick}, {left, top + thick}}),
                dyes.ink({.ink = chance.below(inks), .lift = chance.around(0, 0.04)}));
        }
    }
}

void waves(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const double s = design.scale;
    const int inks = std::max<int>(1, static_cast<int>(design.inks.size()));
    int row = 0;
    for (double y = -s; y < canvas.height() + s; y += s * 0.22, ++row) {
        Chance chance(mixed(design.seed, static_cast<std::uint64_t>(row)));
        const double phase = chance.between(0, 2 * pi), swell = s * chance.between(0.05, 0.09),
                     pace = 2 * pi / (s * chance.between(0.9, 1.15));
        std::vector<Point> knots;
        for (double x = -0.3; x < canvas.width() + 0.3; x += s / 9)
            knots.push_back({x, y + swell * std::sin(x * pace + phase)});
        canvas.fill(stroke(knots, s * 0.05, s * chance.between(0.04, 0.09), s * 0.05),
                    dyes.ink({.ink = chance.below(inks), .lift = chance.around(0, 0.06)}));
    }
}

void bricks(Canvas& canvas, const Dyes& dyes, const Design& design) {
    const int inks = std::max<int>(1, static_cast<int>(design.inks.size()));
    const double s = design.scale;
    for (const Spot& spot : half_drop(s, s * 0.4, canvas.width(), canvas.height(), design.seed)) {
        Chance chance(spot.seed);
        const double x = s * 0.46, y = s * 0.165, uneven = s * 0.012;
        const auto near = [&](double a, double b) {
            return spot.at + Point{a + chance.around(0, uneven), b + chance.around(0, uneven)};
        };
        const Outline brick = polygon({near(-x, -y), near(x, -y), near(x, y), near(-x, y)});
        canvas.fill(brick, dyes.ink({.ink = chance.below(inks), .lift = chance.around(0, 0.08)}));
    }
}

} // namespace

void print(Canvas& canvas, const Design& design, const ToneOnTone& quiet) {
    const Dyes dyes(design);
    canvas.flood(dyes.ground());
    switch (quiet.figure) {
        case ToneOnTone::Figure::scrolls:
            return scrolls(canvas, dyes, design);
        case ToneOnTone::Figure::marbled:
            return marbled(canvas, dyes, design);
        case ToneOnTone::Figure::brushed:
            return brushed(canvas, dyes, design);
        case ToneOnTone::Figure::sprigs:
            return quiet_sprigs(canvas, dyes, design);
    }
}

void print(Canvas& canvas, const Design& design, const Geometric& geometric) {
    const Dyes dyes(design);
    canvas.flood(dyes.ground());
    switch (geometric.figure) {
        case Geometric::Figure::scallops:
            return scallops(canvas, dyes, design);
        case Geometric::Figure::trellis:
            return trellis(canvas, dyes, design);
        case Geometric::Figure::herringbone:
            return herringbone(canvas, dyes, design);
        case Geometric::Figure::waves:
            return waves(canvas, dyes, design);
        case Geometric::Figure::bricks:
            return bricks(canvas, dyes, design);
        case Geometric::Figure::crosses:
        case Geometric::Figure::stars:
        case Geometric::Figure::hatch:
            return ranks(canvas, dyes, design, geometric.figure);
    }
}

} // namespace motley::painter
