#include <cmath>

#include "painter/figures.h"

namespace motley::painter {

Drawing leaf(Chance& chance, int ink, bool veins) {
    Drawing drawing;
    const double wide = chance.between(0.36, 0.5), bend = chance.around(0, 0.18),
                 lift = chance.around(0, 0.14);
    const auto bent = [&](Outline outline) {
        for (Point& point : outline) point.x += bend * point.y * point.y;
        return outline;
    };
    const Outline whole = bent(petal(1, wide, 0.42, 1.25));
    drawing.push_back({whole, {.ink = ink, .lift = lift - 0.1, .fade = 0.14, .heart = {0, 0}, .reach = 1}});
    if (!veins) return drawing;
    // One half in shade, as if folded along the middle.
    Outline half;
    for (const Point& point : petal(1, wide, 0.42, 1.25)) half.push_back({std::max(0.0, point.x), point.y});
    drawing.push_back({bent(half), {.ink = ink, .lift = lift - 0.3, .strength = 0.6}});
    drawing.push_back({bent(stroke({{0, 0.03}, {0, -0.4}, {0, -0.9}}, 0.045, 0.03, 0.008)),
                       {.ink = ink, .lift = lift + 0.28, .strength = 0.85}});
    for (int k = 1; k <= 4; ++k) {
        const double y = -0.17 * k, reach = wide * 0.42 * std::sin(pi * (0.14 + 0.19 * k));
        for (const double side : {-1.0, 1.0}) {
            drawing.push_back(
                {bent(stroke({{0, y}, {side * reach * 0.55, y - 0.07}, {side * reach, y - 0.17}}, 0.02, 0.015,
                             0.006)),
                 {.ink = ink, .lift = lift + 0.22, .strength = 0.6}});
        }
    }
    return drawing;
}

Drawing sprig(Chance& chance, int ink, int berries) {
    Drawing drawing;
    const double bend = chance.around(0, 0.35);
    const auto spine = [&](double t) { return Point{bend * t * t, 0.9 - 1.75 * t}; };
    drawing.push_back({stroke({spine(0), spine(0.3), spine(0.6), spine(1)}, 0.05, 0.035, 0.018),
                       {.ink = ink, .lift = -0.18}});
    const int pairs = 4 + chance.below(2);
    for (int k = 0; k <= pairs; ++k) {
        const double t = 0.16 + 0.84 * k / pairs, turn = bend * t * 1.1;
        const double size = (0.58 - 0.2 * t) * chance.between(0.85, 1.1);
        for (const double side : {-1.0, 1.0}) {
            if (k == pairs && side > 0) continue;
            const double lean = k == pairs ? 0 : side * chance.between(0.75, 1.05);
            const Point foot = spine(t - (side > 0 ? 0.06 : 0));
            if (berries > -2 && k % 2 == 1) {
                const Point end = towards(foot, turn + lean * 0.8, size * 0.6);
                drawing.push_back({stroke({foot, end}, 0.026, 0.022, 0.02), {.ink = ink, .lift = -0.18}});
                drawing.push_back({disc(end, 0.105),
                                   {.ink = berries,
                                    .lift = 0.18,
                                    .fade = -0.34,
                                    .heart = end + Point{-0.03, -0.04},
                                    .reach = 0.14}});
                continue;
            }
            add(drawing, leaf(chance, ink, false), {.at = foot, .turn = turn + lean, .size = size});
        }
    }
    return drawing;
}

Drawing fern(Chance& chance, int ink) {
    Drawing drawing;
    const double bend = chance.around(0.1, 0.4);
    const auto spine = [&](double t) { return Point{bend * t * t, 0.95 - 1.9 * t}; };
    drawing.push_back({stroke({spine(0), spine(0.35), spine(0.7), spine(1)}, 0.045, 0.03, 0.012),
                       {.ink = ink, .lift = -0.15}});
    constexpr int fronds = 15;
    for (int k = 0; k < fronds; ++k) {
        const double t = 0.12 + 0.86 * k / (fronds - 1), size = 0.5 * std::sin(pi * (0.16 + 0.8 * t)) + 0.06;
        for (const double side : {-1.0, 1.0}) {
            const double turn = bend * t + side * (1.25 - 0.6 * t);
            drawing.push_back(
                {placed(petal(1, 0.17, 0.42, 1.2),
                        {.at = spine(t), .turn = turn, .size = size * chance.between(0.9, 1.08)}),
                 {.ink = ink, .lift = side > 0 ? -0.06 : 0.06}});
        }
    }
    return drawing;
}

} // namespace motley::painter
