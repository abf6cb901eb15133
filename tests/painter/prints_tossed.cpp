// Motifs strewn over a ground: dots, flowers, leaves, small pictures, paisleys.
#include <algorithm>
#include <cmath>

#include "painter/prints.h"

namespace motley::painter {
namespace {

/// A repeat, and the canvas and colours it is printed with.
class Strewing {
public:
    Strewing(Canvas& canvas, const Design& design, double side)
        : canvas_(canvas), dyes_(design), repeat_(side, mixed(design.seed, 20)) {
        canvas.flood(dyes_.ground());
    }

    Repeat& repeat() { return repeat_; }

    /// Draws `what(chance)` at every copy of every spot, turned as `turn(chance)` says.
    template <typename What, typename Turn>
    void lay(const std::vector<Spot>& spots, What what, Turn turn, double size = 1) {
        for (const Spot& spot :
             repeated(spots, repeat_.side(), canvas_.width(), canvas_.height(), 2.2 * largest(spots))) {
            Chance chance(spot.seed);
            const double angle = turn(chance);
            const Drawing drawing = what(chance);
            draw(canvas_, dyes_, drawing,
                 {.at = spot.at, .turn = angle, .size = spot.radius * size, .mirrored = chance.odds(0.5)});
        }
    }

private:
    static double largest(const std::vector<Spot>& spots) {
        double radius = 0;
        for (const Spot& spot : spots) radius = std::max(radius, spot.radius);
        return radius;
    }

    Canvas& canvas_;
    Dyes dyes_;
    Repeat repeat_;
};

double any_turn(Chance& chance) {
    return chance.between(0, 2 * pi);
}
auto nearly_upright(double swing) {
    return [swing](Chance& chance) { return chance.around(0, swing); };
}

int count_in(double side, double scale, double share) {
    return std::max(1, static_cast<int>(std::lround(share * side * side / (scale * scale))));
}

void ditsy(Strewing& strewing, const Design& design, const Floral& floral) {
    const double s = design.scale, side = strewing.repeat().side();
    const auto flowers = strewing.repeat().toss(0.34 * s, count_in(side, s, 0.75), 1.1);
    const auto small = strewing.repeat().toss(0.2 * s, count_in(side, s, 0.8), 1.05);
    const auto sprigs = strewing.repeat().fill(0.2 * s, 1.0);
    const auto dots = strewing.repeat().fill(0.055 * s, 1.6);
    strewing.lay(sprigs, [](Chance& c) { return sprig(c, 3, c.odds(0.4) ? 2 : -2); }, any_turn, 1.1);
    strewing.lay(
        flowers,
        [&](Chance& c) {
            Drawing drawing;
            for (int k = 0; k < 3; ++k)
                add(drawing, leaf(c, 3, false),
                    {.at = {}, .turn = c.between(0, 2 * pi), .size = c.between(1.2, 1.5)});
            add(drawing, bloom(c, floral.bloom, {.petal = 0, .second = 1}), {.size = 0.95});
            return drawing;
        },
        any_turn);
    strewing.lay(
        small,
        [&](Chance& c) {
            return bloom(c, floral.bloom == Floral::Bloom::rose ? Floral::Bloom::blossom : floral.bloom,
                         {.petal = 1, .second = 0});
        },
        any_turn);
    strewing.lay(
        dots, [](Chance& c) { return Drawing{{blob(c, 1, 0.15, 7), {.ink = c.below(3)}}}; }, any_turn);
}

/// The stem of a flower, with its leaves.
Drawing stalk(Chance& chance) {
    Drawing drawing;
    const double sway = chance.around(0, 0.5);
    const Point foot{sway, 1.9}, middle{sway * 0.2, 0.9};
    drawing.push_back({stroke({foot, middle, {0, 0}}, 0.05, 0.06, 0.07), {.ink = 3, .lift = -0.15}});
    for (int k = 0; k < 3; ++k) {
        const double t = 0.25 + 0.25 * k;
        const Point at{std::lerp(0.0, sway, t * t), 1.9 * t};
        add(drawing, leaf(chance, 3, true),
            {.at = at,
             .turn = (k % 2 == 0 ? 1 : -1) * chance.between(0.7, 1.2),
             .size = chance.between(0.6, 0.9)});
    }
    return drawing;
}

void meadow(Strewing& strewing, const Design& design, const Floral& floral) {
    const double s = design.scale, side = strewing.repeat().side();
    const auto large = strewing.repeat().toss(0.36 * s, count_in(side, s, 0.9), 1.05);
    const auto medium = strewing.repeat().toss(0.24 * s, count_in(side, s, 1.2), 1.0);
    const auto buds = strewing.repeat().toss(0.2 * s, count_in(side, s, 1.2), 0.95);
    const auto greens = strewing.repeat().fill(0.18 * s, 0.8);
    const auto specks = strewing.repeat().fill(0.026 * s, 1.7);
    strewing.lay(greens, [](Chance& c) { return c.odds(0.5) ? fern(c, 3) : sprig(c, 3, 2); }, any_turn, 1.3);
    strewing.lay(buds, [&](Chance& c) { return bud(c, {.petal = c.below(2)}); }, any_turn, 0.95);
    // All stems lie under all flowers; a spot's chance gives both the same turn.
    strewing.lay(medium, stalk, any_turn);
    strewing.lay(large, stalk, any_turn);
    strewing.lay(
        specks,
        [](Chance& c) {
            return Drawing{{blob(c, 1, 0.2, 7), {.ink = c.odds(0.3) ? 2 : c.odds(0.6) ? 1 : 3}}};
        },
        any_turn);
    const bool third = design.inks.size() > 4;
    strewing.lay(
        medium,
        [&](Chance& c) {
            return bloom(c, floral.bloom, {.petal = third && c.odds(0.5) ? 4 : 1, .second = 0});
        },
        any_turn, 0.95);
    strewing.lay(
        large, [&](Chance& c) { return bloom(c, floral.bloom, {.petal = 0, .second = 1}); }, any_turn, 0.95);
}

void bouquet(Strewing& strewing, const Design& design, const Floral& floral) {
    const double s = design.scale, side = strewing.repeat().side();
    const auto large = strewing.repeat().toss(0.42 * s, count_in(side, s, 0.8), 0.98);
    const auto medium = strewing.repeat().toss(0.27 * s, count_in(side, s, 1.3), 0.95);
    const auto fillers = strewing.repeat().fill(0.14 * s, 0.95);
    const auto wreath = [](Chance& c, int leaves, double reach) {
        Drawing drawing;
        const double start = c.between(0, 2 * pi);
        for (int k = 0; k < leaves; ++k) {
            const double turn = start + 2 * pi * (k + c.around(0, 0.3)) / leaves;
            if (k % 3 == 2) {
                add(drawing, fern(c, 3), {.at = towards({}, turn, reach * 0.9), .turn = turn, .size = 0.62});
            } else {
                add(drawing, leaf(c, 3, true),
                    {.at = towards({}, turn, 0.5),
                     .turn = turn + c.around(0, 0.3),
                     .size = reach * c.between(0.8, 1.1)});
            }
        }
        return drawing;
    };
    strewing.lay(medium, [&](Chance& c) { return wreath(c, 5, 1.0); }, any_turn);
    strewing.lay(large, [&](Chance& c) { return wreath(c, 7, 0.95); }, any_turn);
    strewing.lay(fillers, [](Chance& c) { return sprig(c, 3, 2); }, any_turn, 1.35);
    const bool third = design.inks.size() > 4;
    strewing.lay(
        medium,
        [&](Chance& c) {
            return bloom(c, c.odds(0.5) ? Floral::Bloom::blossom : floral.bloom,
                         {.petal = third && c.odds(0.5) ? 4 : 1, .second = 0});
        },
        any_turn, 0.95);
    strewing.lay(
        large, [&](Chance& c) { return bloom(c, floral.bloom, {.petal = 0, .second = 1}); }, any_turn);
}

} // namespace

void print(Canvas& canvas, const Design& design, const Dots& dots) {
    const Dyes dyes(design);
    const double radius = design.scale * dots.diameter / 2;
    const int colours = std::max<int>(1, static_cast<int>(design.inks.size()) - (dots.haloed ? 1 : 0));
    const auto dot = [&](Chance& c) {
        Drawing drawing;
        const int ink = c.below(colours);
        if (dots.haloed) drawing.push_back({blob(c, 1.32, 0.025, 11), {.ink = colours}});
        drawing.push_back({blob(c, 1, 0.022, 11), {.ink = ink, .lift = c.around(0, 0.03)}});
        return drawing;
    };
    if (dots.order == Dots::Order::half_drop) {
        canvas.flood(dyes.ground());
        for (const Spot& spot :
             half_drop(design.scale, design.scale / 2, canvas.width(), canvas.height(), design.seed)) {
            Chance chance(spot.seed);
            draw(canvas, dyes, dot(chance), {.at = spot.at, .size = radius});
        }
        return;
    }
    Strewing strewing(canvas, design, design.scale * 6);
    const auto whole = strewing.repeat().toss(radius, 60, 1 / std::sqrt(dots.diameter));
    const auto more = strewing.repeat().fill(radius * 0.8, 0.8 / std::sqrt(dots.diameter));
    strewing.lay(whole, dot, any_turn);
    strewing.lay(more, dot, any_turn);
}

void print(Canvas& canvas, const Design& design, const Floral& floral) {
    Strewing strewing(canvas, design, design.scale * (floral.habit == Floral::Habit::ditsy ? 6 : 3.4));
    switch (floral.habit) {
        case Floral::Habit::ditsy:
            return ditsy(strewing, design, floral);
        case Floral::Habit::meadow:
            return meadow(strewing, design, floral);
        case Floral::Habit::bouquet:
            return bouquet(strewing, design, floral);
    }
}

void print(Canvas& canvas, const Design& design, const Leaves& leaves) {
    const double s = design.scale;
    const int inks = std::max<int>(1, static_cast<int>(design.inks.size()));
    if (leaves.habit == Leaves::Habit::vine) {
        const Dyes dyes(design);
        canvas.flood(dyes.ground());
        // Vines climb side by side; each sways at its own pace and carries leaves left and right.
        for (int column = -1; column * s < canvas.width() + s; ++column) {
            Chance chance(mixed(design.seed, static_cast<std::uint64_t>(column + 1000)));
            const double phase = chance.between(0, 2 * pi), home = (column + 0.5) * s;
            const auto spine = [&](double y) {
                return Point{
                    home + 0.2 * s * std::sin(y / s * 2.1 + phase) + 0.05 * s * std::sin(y / s * 5 + phase),
                    y};
            };
            std::vector<Point> knots;
            for (double y = -s; y < canvas.height() + s; y += s / 6) knots.push_back(spine(y));
            int side = 1;
            for (double y = -s; y < canvas.height() + s; y += s * 0.27, side = -side) {
                const double turn = side * chance.between(0.8, 1.25);
                draw(canvas, dyes, leaf(chance, chance.below(inks), true),
                     {.at = spine(y), .turn = turn, .size = s * chance.between(0.4, 0.5)});
                if (inks > 1 && chance.odds(0.45)) {
                    const Point end = towards(spine(y + s * 0.1), -turn * 0.8, s * 0.17);
                    draw(canvas, dyes,
                         {{stroke({spine(y + s * 0.1), end}, 0.02 * s, 0.018 * s, 0.015 * s),
                           {.ink = 0, .lift = -0.15}}},
                         {});
                    draw(canvas, dyes, {{disc(end, s * 0.05), {.ink = inks - 1, .lift = 0.1}}}, {});
                }
            }
            draw(canvas, dyes, {{stroke(knots, 0.045 * s, 0.045 * s, 0.045 * s), {.ink = 0, .lift = -0.15}}},
                 {});
        }
        return;
    }
    Strewing strewing(canvas, design, s * 5);
    const auto large = strewing.repeat().toss(0.4 * s, 70, 0.66);
    const auto medium = strewing.repeat().fill(0.3 * s, 0.6);
    const auto small = strewing.repeat().fill(0.07 * s, 1.3);
    const auto what = [&](Chance& c) {
        const int ink = c.below(inks);
        if (leaves.habit == Leaves::Habit::fern) return fern(c, ink);
        if (leaves.habit == Leaves::Habit::sprigs) return sprig(c, ink, inks > 1 ? inks - 1 : -2);
        Drawing drawing;
        add(drawing, leaf(c, ink, true), {.at = {0, 0.92}, .size = 1.85});
        return drawing;
    };
    strewing.lay(large, what, any_turn);
    strewing.lay(medium, what, any_turn);
    strewing.lay(
        small, [&](Chance& c) { return Drawing{{blob(c, 0.5, 0.1, 8), {.ink = inks - 1}}}; }, any_turn);
}

void print(Canvas& canvas, const Design& design, const Novelty& novelty_print) {
    const double s = design.scale;
    Strewing strewing(canvas, design, s * 4);
    const auto pictures = strewing.repeat().fill(0.38 * s, 0.96);
    const auto sprigs = strewing.repeat().fill(0.15 * s, 0.95);
    const auto specks = strewing.repeat().fill(0.035 * s, 2.4);
    const auto figures = static_cast<int>(novelty_print.figures.size());
    strewing.lay(
        pictures,
        [&](Chance& c) {
            return novelty(c, figures > 0 ? novelty_print.figures[static_cast<std::size_t>(c.below(figures))]
                                          : Novelty::Figure::bird);
        },
        nearly_upright(0.42));
    strewing.lay(
        sprigs,
        [](Chance& c) {
            return c.odds(0.6) ? sprig(c, 3, -2)
                               : Drawing{{placed(petal(1.2, 0.5, 0.5, 0.7), {.at = {0, 0.6}}), {.ink = 3}}};
        },
        any_turn, 0.9);
    strewing.lay(
        specks, [](Chance& c) { return Drawing{{blob(c, 1, 0.12, 7), {.ink = c.odds(0.5) ? 3 : 1}}}; },
        any_turn);
}

void print(Canvas& canvas, const Design& design, const Paisley&) {
    const double s = design.scale;
    Strewing strewing(canvas, design, s * 3.5);
    const auto large = strewing.repeat().toss(0.5 * s, 60, 0.88);
    const auto medium = strewing.repeat().fill(0.3 * s, 0.85);
    const auto small = strewing.repeat().fill(0.11 * s, 1.0);
    const auto dots = strewing.repeat().fill(0.04 * s, 1.15);
    const auto drop = [](Chance& c) {
        return teardrop(c, c.odds(0.5) ? BloomInks{0, 1, 2, 3} : BloomInks{1, 0, 2, 3});
    };
    strewing.lay(large, drop, any_turn);
    strewing.lay(medium, drop, any_turn);
    strewing.lay(
        small, [](Chance& c) { return c.odds(0.5) ? daisy(c, {.petal = 1, .second = 0}) : sprig(c, 3, 2); },
        any_turn, 1.1);
    strewing.lay(
        dots, [](Chance& c) { return Drawing{{blob(c, 0.7, 0.1, 7), {.ink = c.odds(0.5) ? 2 : 0}}}; },
        any_turn);
}

} // namespace motley::painter
