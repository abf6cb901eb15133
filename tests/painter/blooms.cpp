#include <algorithm>
#include <array>
#include <cmath>

#include "painter/figures.h"

namespace motley::painter {

void add(Drawing& drawing, const Drawing& more, const Pose& pose) {
    for (const Part& part : more) {
        Tint tint = part.tint;
        tint.heart = placed(tint.heart, pose);
        tint.reach *= pose.size;
        drawing.push_back({placed(part.outline, pose), tint});
    }
}

namespace {

/// One petal with a darker edge, so that it stands off from the one below.
void lay_petal(Drawing& drawing, const Outline& shape, const Pose& pose, int ink, double lift, double fade) {
    const Point end = placed({0, -1}, {.turn = pose.turn});
    Outline wider = shape;
    for (Point& point : wider) point = point * 1.045 + Point{0, 0.012};
    drawing.push_back({placed(wider, pose), {.ink = ink, .lift = lift - 0.38, .strength = 0.75}});
    drawing.push_back({placed(shape, pose),
                       {.ink = ink,
                        .lift = lift - 0.22,
                        .fade = fade + 0.22,
                        .heart = pose.at + end * (0.05 * pose.size),
                        .reach = 0.85 * pose.size}});
}

void stamens(Drawing& drawing, Chance& chance, int ink, double reach, int count) {
    const double start = chance.between(0, pi);
    for (int k = 0; k < count; ++k) {
        const double angle = start + 2 * pi * (k + chance.around(0, 0.3)) / count,
                     far = reach * chance.between(0.7, 1.1);
        drawing.push_back({stroke({{0, 0}, towards({}, angle + 0.08, far * 0.5), towards({}, angle, far)},
                                  0.02, 0.018, 0.014),
                           {.ink = ink, .lift = -0.25}});
        drawing.push_back(
            {disc(towards({}, angle, far), chance.between(0.03, 0.048)), {.ink = ink, .lift = 0.15}});
    }
}

} // namespace

Drawing daisy(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    const int petals = 9 + chance.below(5);
    const double start = chance.between(0, pi);
    for (int k = 0; k < petals; ++k) {
        const int order = (k * 2) % petals + ((petals % 2 == 0 && k >= petals / 2) ? 1 : 0);
        const double turn = start + 2 * pi * (order + chance.around(0, 0.22)) / petals;
        lay_petal(drawing, petal(chance.between(0.86, 1.03), chance.between(3.3, 4.0) / petals, 0.66, 0.55),
                  {.turn = turn}, inks.petal, chance.around(0, 0.08), 0.05);
    }
    drawing.push_back({blob(chance, 0.27, 0.08, 9), {.ink = inks.heart, .lift = -0.35}});
    drawing.push_back(
        {blob(chance, 0.235, 0.08, 9),
         {.ink = inks.heart, .lift = 0.12, .fade = -0.2, .heart = {-0.06, -0.07}, .reach = 0.3}});
    for (int k = 0; k < 12; ++k) {
        const double angle = k * 2.4, far = 0.19 * std::sqrt(k / 12.0);
        drawing.push_back(
            {disc(towards({}, angle, far), 0.022), {.ink = inks.heart, .lift = -0.4, .strength = 0.7}});
    }
    return drawing;
}

Drawing blossom(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    const double start = chance.between(0, 2 * pi);
    for (int k = 0; k < 5; ++k) {
        const double turn = start + 2 * pi * (k * 2 % 5 + chance.around(0, 0.09)) / 5;
        const Outline shape =
            notched_petal(chance.between(0.92, 1.04), chance.between(0.98, 1.12), chance.between(0.05, 0.13));
        lay_petal(drawing, shape, {.turn = turn}, inks.petal, chance.around(0, 0.05), 0.14);
        for (const double vein : {-0.16, 0.0, 0.16}) {
            drawing.push_back({stroke({towards({}, turn + vein * 0.6, 0.16), towards({}, turn + vein, 0.5)},
                                      0.03, 0.018, 0.006),
                               {.ink = inks.second, .lift = -0.1, .strength = 0.55}});
        }
    }
    stamens(drawing, chance, inks.heart, 0.36, 11);
    drawing.push_back({blob(chance, 0.11, 0.1, 7), {.ink = inks.heart, .lift = -0.3}});
    return drawing;
}

Drawing rose(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    double start = chance.between(0, 2 * pi);
    struct Whorl {
        int petals;
        double far, size, lift;
    };
    for (const Whorl& whorl :
         {Whorl{7, 0.50, 0.52, 0.16}, Whorl{6, 0.36, 0.46, 0.06}, Whorl{5, 0.23, 0.38, -0.03},
          Whorl{4, 0.12, 0.28, -0.13}, Whorl{3, 0.05, 0.18, -0.24}}) {
        for (int k = 0; k < whorl.petals; ++k) {
            const double turn = start + 2 * pi * (k + chance.around(0, 0.14)) / whorl.petals;
            const double wide = whorl.size * chance.between(1.3, 1.55),
                         deep = whorl.size * chance.between(0.9, 1.06);
            Outline shape = through({{-wide / 2, deep * 0.16},
                                     {-wide * 0.46, -deep * 0.3},
                                     {-wide * 0.2, -deep * chance.between(0.46, 0.56)},
                                     {wide * 0.08, -deep * chance.between(0.44, 0.54)},
                                     {wide * 0.42, -deep * 0.34},
                                     {wide / 2, deep * 0.14},
                                     {wide * 0.2, deep * 0.5},
                                     {-wide * 0.2, deep * 0.5}},
                                    true, 6);
            const Pose pose{.at = towards({}, turn, whorl.far), .turn = turn};
            Outline wider = shape;
            for (Point& point : wider) point = point * 1.06 + Point{0, -0.012};
            const double lift = whorl.lift + chance.around(0, 0.05);
            drawing.push_back(
                {placed(wider, pose), {.ink = inks.petal, .lift = lift - 0.5, .strength = 0.7}});
            drawing.push_back({placed(shape, pose),
                               {.ink = inks.petal,
                                .lift = lift - 0.3,
                                .fade = 0.38,
                                .heart = towards({}, turn, whorl.far - whorl.size * 0.3),
                                .reach = whorl.size * 0.8}});
        }
        start += 0.5 + chance.around(0, 0.2);
    }
    std::vector<Point> curl;
    for (int k = 0; k < 8; ++k) curl.push_back(towards({}, start + k * 0.8, 0.018 * k));
    drawing.push_back({stroke(curl, 0.01, 0.03, 0.02), {.ink = inks.second, .lift = -0.45}});
    return drawing;
}

Drawing poppy(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    const double start = chance.between(0, 2 * pi);
    for (const int k : {0, 2, 1, 3}) {
        const double turn = start + pi / 2 * (k + chance.around(0, 0.12)), w = chance.between(0.66, 0.78);
        const Outline shape = through({{0, 0.06},
                                       {w * 0.8, -0.36},
                                       {w, -chance.between(0.66, 0.74)},
                                       {w * 0.55, -chance.between(0.9, 0.98)},
                                       {w * 0.2, -chance.between(0.88, 1.0)},
                                       {-w * 0.2, -chance.between(0.9, 1.02)},
                                       {-w * 0.6, -chance.between(0.86, 0.96)},
                                       {-w, -chance.between(0.62, 0.72)},
                                       {-w * 0.8, -0.34}},
                                      true, 6);
        lay_petal(drawing, shape, {.turn = turn}, inks.petal, k % 2 == 0 ? -0.06 : 0.0, 0.04);
        for (int crease = -2; crease <= 2; ++crease) {
            const double way = turn + crease * 0.24 + chance.around(0, 0.06);
            drawing.push_back({stroke({towards({}, way, 0.28), towards({}, way + 0.03, 0.52),
                                       towards({}, way, chance.between(0.68, 0.8))},
                                      0.016, 0.022, 0.004),
                               {.ink = inks.petal, .lift = -0.4, .strength = 0.5}});
        }
    }
    drawing.push_back({blob(chance, 0.27, 0.14, 11), {.ink = inks.second, .lift = -0.3, .strength = 0.8}});
    stamens(drawing, chance, inks.heart, 0.34, 15);
    drawing.push_back({blob(chance, 0.12, 0.07, 9), {.ink = inks.leaf, .lift = 0.1}});
    return drawing;
}

Drawing bloom(Chance& chance, Floral::Bloom kind, const BloomInks& inks) {
    switch (kind) {
        case Floral::Bloom::daisy:
            return daisy(chance, inks);
        case Floral::Bloom::blossom:
            return blossom(chance, inks);
        case Floral::Bloom::rose:
            return rose(chance, inks);
        case Floral::Bloom::poppy:
            return poppy(chance, inks);
        case Floral::Bloom::mixed:
            break;
    }
    const int pick = chance.below(4);
    return pick == 0   ? daisy(chance, inks)
           : pick == 1 ? blossom(chance, inks)
           : pick == 2 ? rose(chance, inks)
                       : poppy(chance, inks);
}

Drawing bud(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    const double bend = chance.around(0, 0.3);
    drawing.push_back(
        {stroke({{bend, 1}, {bend * 0.3, 0.5}, {0, 0}}, 0.05, 0.06, 0.07), {.ink = inks.leaf, .lift = -0.1}});
    for (const double turn : {-0.42, 0.42, 0.0}) {
        lay_petal(drawing, petal(0.85, 0.5, 0.55, 0.8),
                  {.at = {0, 0.05}, .turn = turn + chance.around(0, 0.08), .size = 0.9}, inks.petal, 0.02,
                  0.1);
    }
    for (const double turn : {-0.6, 0.6, 0.0}) {
        drawing.push_back({placed(petal(0.42, 0.2, 0.45, 1.2), {.at = {0, 0.1}, .turn = turn}),
                           {.ink = inks.leaf, .lift = turn < 0 ? 0.06 : -0.12}});
    }
    return drawing;
}

namespace {

/// The drop, every part of its rim drawn in by `depth` towards its bent middle line; out where that is
/// negative.
Outline drop(double depth) {
    constexpr std::array<std::array<Point, 2>, 5> ribs{{{{{0.26, -0.86}, {0.36, -0.74}}},
                                                        {{{-0.1, -0.56}, {0.2, -0.4}}},
                                                        {{{-0.42, -0.14}, {0.42, -0.06}}},
                                                        {{{-0.52, 0.34}, {0.6, 0.3}}},
                                                        {{{-0.3, 0.78}, {0.5, 0.7}}}}};
    const auto drawn_in = [depth](Point rim, Point middle) {
        return rim + (middle - rim) * std::min(1.0, depth / length(middle - rim));
    };
    const Point belly{0.05, 0.36};
    std::vector<Point> left{drawn_in({0.62, -0.98}, (ribs[1][0] + ribs[1][1]) * 0.5)}, right;
    for (const auto& rib : ribs) {
        const Point middle = (rib[0] + rib[1]) * 0.5;
        left.push_back(drawn_in(rib[0], middle));
        right.push_back(drawn_in(rib[1], middle));
    }
    left.push_back(drawn_in({0.12, 0.92}, belly));
    left.insert(left.end(), right.rbegin(), right.rend());
    return through(left, true, 7);
}

} // namespace

Drawing teardrop(Chance& chance, const BloomInks& inks) {
    Drawing drawing;
    drawing.push_back({drop(0), {.ink = inks.petal, .lift = -0.12}});
    drawing.push_back({drop(0.055), {.ink = inks.second, .lift = 0.05}});
    drawing.push_back({drop(0.105), {.ink = inks.petal, .fade = 0.16, .heart = {0.1, -0.4}, .reach = 1.2}});
    const Outline rim = drop(-0.09), inner = drop(0.17);
    for (std::size_t k = 0; k < rim.size(); k += 5)
        drawing.push_back({disc(rim[k], 0.036), {.ink = inks.heart}});
    for (std::size_t k = 9; k + 9 < inner.size(); k += 5)
        drawing.push_back({disc(inner[k], 0.028), {.ink = inks.second, .lift = 0.15}});
    add(drawing,
        daisy(chance, {.petal = inks.second, .second = inks.second, .heart = inks.heart, .leaf = inks.leaf}),
        {.at = {0.04, 0.38}, .size = 0.3});
    add(drawing, sprig(chance, inks.leaf, inks.heart), {.at = {-0.02, 0.06}, .turn = 0.36, .size = 0.5});
    return drawing;
}

} // namespace motley::painter
