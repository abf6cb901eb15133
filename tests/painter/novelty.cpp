// Small pictures. Each is drawn from a few flat shapes with a shaded side, as a printed novelty cotton has
// them.
#include <cmath>

#include "painter/figures.h"

namespace motley::painter {
namespace {

Tint flat(int ink, double lift = 0) {
    return {.ink = ink, .lift = lift};
}
Tint round(int ink, Point heart, double reach, double lift = 0.12) {
    return {.ink = ink, .lift = lift, .fade = -0.3, .heart = heart, .reach = reach};
}

Drawing bird(Chance& chance) {
    Drawing d;
    const double tail = chance.around(0, 0.08);
    d.push_back({through({{0.42, 0.12},
                          {0.7, 0.12 + tail},
                          {1.05, 0.28 + tail},
                          {0.98, 0.38 + tail},
                          {0.66, 0.34},
                          {0.36, 0.34}},
                         true),
                 flat(0, -0.3)});
    d.push_back({stroke({{-0.04, 0.5}, {-0.06, 0.82}}, 0.03, 0.025, 0.025), flat(2, -0.3)});
    d.push_back({stroke({{0.12, 0.5}, {0.12, 0.82}}, 0.03, 0.025, 0.025), flat(2, -0.3)});
    d.push_back({through({{-0.86, -0.36},
                          {-0.7, -0.62},
                          {-0.4, -0.66},
                          {-0.16, -0.42},
                          {0.2, -0.28},
                          {0.56, 0.1},
                          {0.4, 0.42},
                          {0, 0.56},
                          {-0.4, 0.42},
                          {-0.62, 0.08}},
                         true),
                 round(0, {-0.3, -0.3}, 0.95)});
    d.push_back(
        {through({{-0.6, 0.06}, {-0.4, -0.06}, {-0.1, 0.2}, {0, 0.52}, {-0.3, 0.46}, {-0.52, 0.28}}, true),
         flat(1, 0.05)});
    for (const double k : {0.0, 1.0, 2.0}) {
        d.push_back({placed(petal(0.72 - k * 0.14, 0.34, 0.42, 1.2),
                            {.at = {-0.2, -0.12 + k * 0.03}, .turn = 1.95 + k * 0.16}),
                     flat(k > 0 ? 2 : 0, -0.28 + 0.12 * k)});
    }
    d.push_back({polygon({{-0.84, -0.48}, {-1.06, -0.36}, {-0.84, -0.32}}), flat(2, 0.05)});
    d.push_back({disc({-0.6, -0.44}, 0.062), flat(-1, 0.3)});
    d.push_back({disc({-0.61, -0.44}, 0.036), flat(0, -0.85)});
    return d;
}

Drawing teacup(Chance& chance) {
    Drawing d;
    d.push_back({ellipse({0, 0.62}, 0.94, 0.15), flat(0, -0.25)});
    d.push_back({ellipse({0, 0.59}, 0.94, 0.14), flat(0, 0.1)});
    d.push_back({placed(ring({0.7, 0.0}, 0.24, 0.1), {.turn = 0.1}), flat(0, -0.2)});
    d.push_back({through({{-0.68, -0.38},
                          {-0.62, 0.1},
                          {-0.34, 0.5},
                          {0, 0.58},
                          {0.34, 0.5},
                          {0.62, 0.1},
                          {0.68, -0.38},
                          {0, -0.34}},
                         true),
                 round(0, {-0.28, -0.1}, 1.1)});
    d.push_back(
        {stroke({{-0.655, -0.1}, {-0.3, 0.0}, {0.3, 0.0}, {0.655, -0.1}}, 0.05, 0.07, 0.05), flat(1)});
    for (int k = -2; k <= 2; ++k)
        d.push_back({disc({k * 0.21, 0.2 - 0.02 * std::abs(k)}, 0.062), flat(k % 2 == 0 ? 2 : 1)});
    d.push_back({ellipse({0, -0.38}, 0.68, 0.13), flat(0, 0.25)});
    d.push_back({ellipse({0, -0.365}, 0.58, 0.09), flat(2, -0.3)});
    for (const double side : {-0.2, 0.16}) {
        const double sway = chance.between(0.06, 0.12);
        d.push_back(
            {stroke({{side, -0.52}, {side + sway, -0.68}, {side - sway, -0.84}, {side + sway * 0.5, -1.02}},
                    0.02, 0.05, 0.012),
             flat(3)});
    }
    return d;
}

Drawing boat(Chance& chance) {
    Drawing d;
    const double wind = chance.around(0, 0.05);
    d.push_back({stroke({{0.02, -1}, {0.0, 0.36}}, 0.035, 0.045, 0.05), flat(2, -0.3)});
    d.push_back({through({{0.08, -0.92},
                          {0.36 + wind, -0.5},
                          {0.62, -0.02},
                          {0.7, 0.22},
                          {0.4, 0.2},
                          {0.08, 0.22},
                          {0.09, -0.3}},
                         true, 6),
                 round(1, {0.2, -0.3}, 0.8)});
    d.push_back(
        {through(
             {{-0.05, -0.8}, {-0.06, -0.2}, {-0.05, 0.2}, {-0.34, 0.18}, {-0.6, 0.2}, {-0.4 - wind, -0.22}},
             true, 6),
         flat(1, 0.16)});
    d.push_back({polygon({{0.02, -1}, {0.24, -0.93}, {0.02, -0.86}}), flat(2)});
    d.push_back({through({{-0.9, 0.34},
                          {-0.4, 0.38},
                          {0.3, 0.38},
                          {0.95, 0.28},
                          {0.72, 0.62},
                          {0.4, 0.72},
                          {-0.3, 0.73},
                          {-0.66, 0.62}},
                         true),
                 round(0, {-0.2, 0.4}, 1)});
    d.push_back(
        {stroke({{-0.84, 0.43}, {-0.3, 0.47}, {0.3, 0.47}, {0.88, 0.38}}, 0.03, 0.05, 0.03), flat(2, 0.1)});
    for (const double y : {0.83, 0.97}) {
        const double shift = y > 0.9 ? 0.18 : 0;
        d.push_back({stroke({{-0.78 + shift, y},
                             {-0.5 + shift, y - 0.06},
                             {-0.2 + shift, y + 0.02},
                             {0.1 + shift, y - 0.06},
                             {0.44 + shift, y + 0.02}},
                            0.015, 0.05, 0.015),
                     flat(3)});
    }
    return d;
}

Drawing key(Chance& chance) {
    Drawing d;
    d.push_back({stroke({{0, -0.2}, {0, 0.9}}, 0.13, 0.12, 0.12), flat(0, -0.1)});
    for (int k = 0; k < 3; ++k)
        d.push_back(
            {placed(ring({0, -0.28}, 0.2, 0.1), {.at = {0, -0.46}, .turn = 2 * pi * k / 3}), flat(0, 0.04)});
    for (const double y : {0.52, 0.78}) {
        const double reach = chance.between(0.26, 0.36);
        d.push_back({polygon({{0.03, y - 0.08}, {reach, y - 0.09}, {reach, y + 0.08}, {0.03, y + 0.08}}),
                     flat(0, -0.18)});
    }
    for (const double y : {-0.08, 0.06}) d.push_back({ellipse({0, y}, 0.13, 0.045), flat(0, 0.22)});
    d.push_back({disc({0, -0.46}, 0.085), flat(1)});
    return d;
}

Drawing anchor(Chance& chance) {
    Drawing d;
    d.push_back({ring({0, -0.8}, 0.15, 0.09), flat(0)});
    d.push_back({stroke({{0, -0.66}, {0, 0.84}}, 0.13, 0.12, 0.16), flat(0, -0.08)});
    d.push_back({stroke({{-0.42, -0.44}, {0, -0.46}, {0.42, -0.44}}, 0.12, 0.1, 0.12), flat(0, 0.06)});
    d.push_back(
        {stroke({{-0.72, 0.3}, {-0.56, 0.66}, {0, 0.88}, {0.56, 0.66}, {0.72, 0.3}}, 0.07, 0.16, 0.07),
         flat(0)});
    for (const double side : {-1.0, 1.0})
        d.push_back({polygon({{side * 0.8, 0.1}, {side * 0.96, 0.48}, {side * 0.54, 0.4}}), flat(0, -0.05)});
    std::vector<Point> rope;
    for (int k = 0; k <= 7; ++k)
        rope.push_back({0.26 * std::sin(k * 1.5 + chance.around(0, 0.15)), -0.7 + k * 0.22});
    d.push_back({stroke(rope, 0.05, 0.06, 0.05), flat(1)});
    return d;
}

Drawing fish(Chance& chance) {
    Drawing d;
    const double lash = chance.around(0, 0.07);
    d.push_back({through({{0.5, -0.02},
                          {0.8, -0.34 + lash},
                          {1, -0.4 + lash},
                          {0.86, 0.02},
                          {1, 0.42 + lash},
                          {0.8, 0.34 + lash},
                          {0.5, 0.06}},
                         true, 6),
                 flat(1, -0.06)});
    d.push_back({through({{-0.3, -0.3}, {0, -0.62}, {0.34, -0.5}, {0.3, -0.22}}, true, 6), flat(1, 0.08)});
    d.push_back({through({{-0.96, 0.02},
                          {-0.7, -0.26},
                          {-0.2, -0.42},
                          {0.3, -0.26},
                          {0.64, 0.02},
                          {0.3, 0.28},
                          {-0.2, 0.42},
                          {-0.7, 0.26}},
                         true),
                 round(0, {-0.3, -0.14}, 0.85)});
    for (int k = 0; k < 3; ++k) {
        const double x = -0.18 + 0.24 * k, y = 0.31 - 0.07 * k;
        d.push_back({stroke({{x, -y}, {x + 0.09, 0}, {x, y}}, 0.02, 0.06, 0.02), flat(1, 0.12)});
    }
    d.push_back({placed(petal(0.34, 0.2, 0.55, 0.9), {.at = {-0.3, 0.1}, .turn = 2.1}), flat(1)});
    d.push_back({disc({-0.64, -0.07}, 0.085), flat(-1, 0.4)});
    d.push_back({disc({-0.65, -0.07}, 0.045), flat(2, -0.6)});
    return d;
}

Drawing fruit(Chance& chance, bool pear) {
    Drawing d;
    const std::vector<Point> knots =
        pear ? std::vector<Point>{{0, -0.62},    {0.2, -0.5},   {0.3, -0.16},   {0.54, 0.2},
                                  {0.56, 0.58},  {0.3, 0.88},   {0, 0.9},       {-0.32, 0.88},
                                  {-0.58, 0.58}, {-0.54, 0.18}, {-0.28, -0.18}, {-0.18, -0.5}}
             : std::vector<Point>{{0, -0.38},   {0.3, -0.5},   {0.64, -0.36},  {0.74, 0.08},
                                  {0.54, 0.6},  {0.2, 0.8},    {0, 0.74},      {-0.22, 0.8},
                                  {-0.56, 0.6}, {-0.74, 0.06}, {-0.64, -0.36}, {-0.3, -0.5}};
    const double top = pear ? -0.6 : -0.4;
    d.push_back(
        {stroke({{0, top + 0.06}, {0.02, top - 0.16}, {0.1, top - 0.36}}, 0.05, 0.05, 0.08), flat(2, -0.45)});
    const Outline skin = through(knots, true);
    d.push_back({skin, round(pear ? 0 : 1, {-0.2, 0.22}, 0.95, 0.16)});
    d.push_back({placed(ellipse({0, 0}, 0.3, 0.5, 0.2), {.at = {0.24, 0.34}}),
                 {.ink = pear ? 1 : 0, .lift = 0, .strength = 0.45}});
    d.push_back({placed(ellipse({0, 0}, 0.07, 0.17, 0.35), {.at = {-0.32, 0.12}}),
                 {.ink = -1, .lift = 0.5, .strength = 0.6}});
    add(d, leaf(chance, 2, true), {.at = {0.03, top - 0.12}, .turn = chance.between(0.9, 1.3), .size = 0.55});
    return d;
}

Drawing gull(Chance& chance) {
    Drawing d;
    const double lift = chance.around(0, 0.12);
    for (const double side : {-1.0, 1.0}) {
        d.push_back({through({{0, 0.06},
                              {side * 0.3, -0.24 - lift},
                              {side * 0.64, -0.3 - lift},
                              {side * 1, -0.02 - lift},
                              {side * 0.66, -0.16 - lift},
                              {side * 0.34, -0.06},
                              {side * 0.08, 0.2}},
                             true),
                     {.ink = 0, .lift = 0.1, .fade = -0.25, .heart = {0, 0}, .reach = 1}});
        d.push_back(
            {placed(petal(0.3, 0.09, 0.4, 1.2), {.at = {side * 0.76, -0.18 - lift}, .turn = side * 2.0}),
             flat(1, -0.2)});
    }
    d.push_back(
        {through({{-0.08, -0.1}, {0.08, -0.1}, {0.12, 0.14}, {0.05, 0.42}, {-0.05, 0.42}, {-0.12, 0.14}},
                 true),
         flat(0, 0.05)});
    d.push_back({polygon({{-0.04, -0.13}, {0.04, -0.13}, {0, -0.27}}), flat(2)});
    return d;
}

Drawing shell(Chance& chance) {
    Drawing d;
    std::vector<Point> rim{{0.14, 0.7}};
    constexpr int ribs = 9;
    for (int k = 0; k <= ribs * 2; ++k) {
        const double angle = 1.22 - 2.44 * k / (ribs * 2.0);
        rim.push_back(towards({0, 0.62}, angle, k % 2 == 1 ? 1.36 : 1.27));
    }
    rim.push_back({-0.14, 0.7});
    d.push_back({polygon({{-0.32, 0.62}, {0.32, 0.62}, {0.24, 0.84}, {-0.24, 0.84}}), flat(0, -0.2)});
    d.push_back(
        {through(rim, true, 5), {.ink = 0, .lift = -0.2, .fade = 0.32, .heart = {0, 0.62}, .reach = 1.3}});
    for (int k = 1; k < ribs; ++k) {
        const double angle = 1.22 - 2.44 * k / ribs;
        d.push_back({stroke({towards({0, 0.62}, angle, 0.12), towards({0, 0.62}, angle, 0.7),
                             towards({0, 0.62}, angle, 1.25)},
                            0.014, 0.03, 0.045),
                     flat(1, chance.around(0, 0.06))});
    }
    return d;
}

Drawing bee(Chance& chance) {
    Drawing d;
    for (const double side : {-1.0, 1.0}) {
        d.push_back({placed(petal(0.92, 0.46, 0.62, 0.7),
                            {.at = {side * 0.06, -0.1}, .turn = side * chance.between(0.85, 1.05)}),
                     {.ink = 1, .lift = 0.25, .strength = 0.8}});
        d.push_back({placed(petal(0.62, 0.34, 0.6, 0.7), {.at = {side * 0.06, 0.02}, .turn = side * 1.6}),
                     {.ink = 1, .lift = 0.1, .strength = 0.8}});
        d.push_back(
            {stroke({{side * 0.06, -0.5}, {side * 0.12, -0.66}, {side * 0.22, -0.72}}, 0.03, 0.025, 0.02),
             flat(2, -0.5)});
    }
    d.push_back({ellipse({0, 0.26}, 0.24, 0.46), round(0, {-0.06, 0.1}, 0.5)});
    for (const double y : {0.1, 0.3, 0.5}) {
        const double half = 0.24 * std::sqrt(std::max(0.0, 1 - (y - 0.26) * (y - 0.26) / 0.2116));
        d.push_back(
            {stroke({{-half, y - 0.02}, {0, y + 0.03}, {half, y - 0.02}}, 0.09, 0.1, 0.09), flat(2, -0.5)});
    }
    d.push_back({disc({0, -0.2}, 0.2), flat(2, -0.3)});
    d.push_back({disc({0, -0.44}, 0.14), flat(2, -0.55)});
    return d;
}

Drawing acorn(Chance& chance) {
    Drawing d;
    d.push_back(
        {through(
             {{-0.42, -0.1}, {-0.4, 0.34}, {-0.16, 0.76}, {0, 0.92}, {0.16, 0.76}, {0.4, 0.34}, {0.42, -0.1}},
             true),
         round(0, {-0.14, 0.1}, 0.8, 0.2)});
    d.push_back({stroke({{0, -0.5}, {0.04, -0.7}, {0.12, -0.84}}, 0.06, 0.05, 0.07), flat(1, -0.3)});
    d.push_back({through({{-0.54, -0.08},
                          {-0.48, -0.36},
                          {-0.2, -0.56},
                          {0.2, -0.56},
                          {0.48, -0.36},
                          {0.54, -0.08},
                          {0.2, 0.02},
                          {-0.2, 0.02}},
                         true),
                 flat(1)});
    for (int row = 0; row < 3; ++row) {
        for (int k = -3; k <= 3; ++k) {
            const double x = (k + (row % 2) * 0.5) * 0.15;
            if (std::abs(x) < 0.46 - row * 0.1)
                d.push_back({ellipse({x, -0.1 - row * 0.14}, 0.05, 0.055), flat(1, 0.22)});
        }
    }
    add(d, leaf(chance, 2, true), {.at = {0.06, -0.62}, .turn = -chance.between(1.0, 1.5), .size = 0.7});
    return d;
}

} // namespace

Drawing novelty(Chance& chance, Novelty::Figure figure) {
    switch (figure) {
        case Novelty::Figure::bird:
            return bird(chance);
        case Novelty::Figure::teacup:
            return teacup(chance);
        case Novelty::Figure::boat:
            return boat(chance);
        case Novelty::Figure::key:
            return key(chance);
        case Novelty::Figure::anchor:
            return anchor(chance);
        case Novelty::Figure::fish:
            return fish(chance);
        case Novelty::Figure::pear:
            return fruit(chance, true);
        case Novelty::Figure::apple:
            return fruit(chance, false);
        case Novelty::Figure::gull:
            return gull(chance);
        case Novelty::Figure::shell:
            return shell(chance);
        case Novelty::Figure::bee:
            return bee(chance);
        case Novelty::Figure::acorn:
            break;
    }
    return acorn(chance);
}

} // namespace motley::painter
