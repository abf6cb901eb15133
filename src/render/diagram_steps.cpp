#include "render/diagram_steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace motley::render {

namespace {

/// Soft, and told apart by hue and lightness both.
constexpr std::array<Ink, 8> tints{{{0.62, 0.79, 0.82},
                                    {0.97, 0.90, 0.72},
                                    {0.90, 0.70, 0.66},
                                    {0.76, 0.87, 0.69},
                                    {0.81, 0.75, 0.88},
                                    {0.96, 0.80, 0.62},
                                    {0.80, 0.80, 0.80},
                                    {0.93, 0.80, 0.86}}};

Ink paler(Ink ink) {
    return {(1 + ink.r) / 2, (1 + ink.g) / 2, (1 + ink.b) / 2};
}

/// Draws one thing on the table, its box's corner at the origin.
class Thing {
public:
    Thing(Canvas& canvas, const unit::Figure& figure, double scale, double type_size)
        : canvas_(canvas), figure_(figure), scale_(scale), type_size_(type_size) {}

    void draw() {
        std::vector<unit::Shape> shown;
        for (const unit::Shape& shape : figure_.shapes)
            if (!shape.hidden) shown.push_back(shape);
        std::stable_sort(shown.begin(), shown.end(),
                         [](const unit::Shape& a, const unit::Shape& b) { return a.layer < b.layer; });
        for (const unit::Shape& shape : shown) {
            const std::vector<unit::Point> outline = at(shape.outline);
            const Ink tint = step_tint(shape.input);
            canvas_.outline(outline, shape.wrong_side ? paler(tint) : tint, {0.5, inks::text});
            if (shape.wrong_side) canvas_.hatch(outline, 3.5, {0.3, inks::hairline});
        }
        for (const unit::Shape& shape : shown) number(shape, shown);
        for (const unit::Mark& mark : figure_.marks) draw(mark);
        for (const unit::Dimension& dimension : figure_.dimensions) draw(dimension);
    }

private:
    unit::Point at(unit::Point p) const {
        return (p - unit::Point{figure_.box.left, figure_.box.top}) * scale_;
    }
    std::vector<unit::Point> at(const unit::Polygon& outline) const {
        std::vector<unit::Point> moved;
        for (const unit::Point p : outline) moved.push_back(at(p));
        return moved;
    }

    /// In the largest part that no cloth lies over.
    void number(const unit::Shape& shape, const std::vector<unit::Shape>& all) {
        std::vector<unit::Polygon> parts{shape.outline};
        for (const unit::Shape& other : all) {
            if (other.layer <= shape.layer) continue;
            std::vector<unit::Polygon> left;
            for (const unit::Polygon& part : parts)
                for (unit::Polygon& rest : unit::without(part, other.outline))
                    left.push_back(std::move(rest));
            parts = std::move(left);
        }
        const unit::Polygon* largest = nullptr;
        for (const unit::Polygon& part : parts)
            if (!largest || unit::area(part) > unit::area(*largest)) largest = &part;
        if (!largest) return;
        const double room = std::sqrt(unit::area(*largest)) * scale_,
                     size = std::min(type_size_ * 1.1, room * 0.6);
        if (size >= 5)
            canvas_.write(at(unit::centre(*largest)), std::to_string(shape.input + 1),
                          {.size = size, .bold = true, .side = Side::middle}, Hold::middle);
    }

    void draw(const unit::Mark& mark) {
        unit::Point from = at(mark.at.from), to = at(mark.at.to);
        if (mark.kind == unit::Mark::Kind::cut) { // The blade goes in before the cloth and out beyond it.
            const unit::Point past = (to - from) * (4 / std::max(1.0, unit::length(to - from)));
            from = from - past;
            to = to + past;
        }
        const bool cut = mark.kind == unit::Mark::Kind::cut, seam = mark.kind == unit::Mark::Kind::seam;
        canvas_.line(from, to, {cut ? 1.0 : seam ? 0.8 : 0.4, cut ? inks::blade : inks::text, seam});
    }

    /// Outside the thing, parallel to what is measured.
    void draw(const unit::Dimension& dimension) {
        const unit::Point from = at(dimension.at.from), to = at(dimension.at.to),
                          middle = at(figure_.box.middle());
        const double length = unit::length(to - from);
        if (length < 1) return;
        const unit::Point along = (to - from) * (1 / length);
        unit::Point out{-along.y, along.x};
        if (unit::dot(out, (from + to) * 0.5 - middle) < 0) out = out * -1;
        const unit::Point start = from + out * 6, end = to + out * 6;
        canvas_.line(start, end, {0.4, inks::quiet});
        canvas_.line(from + out * 2, start + out * 1.5, {0.4, inks::quiet});
        canvas_.line(to + out * 2, end + out * 1.5, {0.4, inks::quiet});
        const unit::Point words = (start + end) * 0.5 + out * (type_size_ * 0.7);
        const bool upright = std::abs(along.y) > std::abs(along.x);
        canvas_.moved(words, upright ? -90 : 0, [&] {
            canvas_.write({0, 0}, dimension.text, {.size = type_size_ * 0.92, .side = Side::middle},
                          Hold::middle);
        });
    }

    Canvas& canvas_;
    const unit::Figure& figure_;
    double scale_, type_size_;
};

/// Where the things of a step lie: in rows, at one scale.
struct Spread {
    struct Spot {
        const unit::Figure* figure = nullptr; ///< Null: the arrow.
        double x = 0, wide = 0;
        std::size_t row = 0;
    };
    std::vector<Spot> spots;
    std::vector<double> heights, widths; ///< Of rows.
    double scale = 0;
};

Spread spread(const std::vector<const unit::Figure*>& things, double width, double scale, double around) {
    Spread made;
    made.scale = scale;
    double x = 0;
    for (const unit::Figure* thing : things) {
        const double wide = thing ? std::max(40.0, thing->box.width() * scale) + 2 * around : 26;
        const double high = thing ? thing->box.height() * scale : 0;
        if (made.heights.empty() || x + wide > width) {
            made.heights.push_back(0);
            made.widths.push_back(0);
            x = 0;
        }
        made.heights.back() = std::max(made.heights.back(), high);
        made.spots.push_back({thing, x, wide, made.heights.size() - 1});
        x += wide;
        made.widths.back() = x;
    }
    return made;
}

} // namespace

Ink step_tint(int input) {
    return tints[static_cast<std::size_t>(input) % tints.size()];
}

Figure draw_step_lines(const unit::Step& step, double width, double type_size) {
    std::vector<const unit::Figure*> things;
    for (const unit::Figure& figure : step.before) things.push_back(&figure);
    if (!step.before.empty() && !step.after.empty()) things.push_back(nullptr);
    for (const unit::Figure& figure : step.after) things.push_back(&figure);
    double largest = 0;
    for (const unit::Figure* thing : things)
        if (thing) largest = std::max({largest, thing->box.width(), thing->box.height()});
    if (largest <= 0) return {};
    const double around = type_size * 2.0, most = std::min(type_size * 13 / largest, type_size * 3.4);
    Spread all;
    for (std::size_t rows = 1; rows <= 3 && all.spots.empty(); ++rows)
        for (double scale = most; scale >= 0.45 * most; scale *= 0.95) {
            Spread tried = spread(things, width, scale, around);
            if (tried.heights.size() > rows) continue;
            all = std::move(tried);
            break;
        }
    if (all.spots.empty()) all = spread(things, width, 0.45 * most, around);
    const double caption = type_size * 3.2; // The measurement below a thing, and its name.
    double height = 0;
    for (const double row : all.heights) height += row + around + caption;
    Figure figure{.width = width, .height = height, .draw = {}, .alt = "Drawing of this step: " + step.text};
    figure.draw = [all, around, caption, type_size](Canvas& canvas) {
        std::vector<double> tops;
        double y = 0;
        for (const double row : all.heights) {
            tops.push_back(y + around);
            y += row + around + caption;
        }
        for (const Spread::Spot& spot : all.spots) {
            const double middle = tops[spot.row] + all.heights[spot.row] / 2;
            if (!spot.figure) {
                canvas.line({spot.x + 3, middle}, {spot.x + 19, middle}, {1.2, inks::quiet});
                canvas.arrowhead({spot.x + 24, middle}, {1, 0}, 7, inks::quiet);
                continue;
            }
            const double wide = spot.figure->box.width() * all.scale,
                         high = spot.figure->box.height() * all.scale;
            const unit::Point corner{spot.x + (spot.wide - wide) / 2, middle - high / 2};
            canvas.moved(corner, 0, [&] { Thing(canvas, *spot.figure, all.scale, type_size).draw(); });
            const std::string name = spot.figure->copies > 1
                                         ? fmt::format("{} × {}", spot.figure->name, spot.figure->copies)
                                         : spot.figure->name;
            canvas.write({spot.x + spot.wide / 2, corner.y + high + caption - type_size * 0.5}, name,
                         {.size = type_size, .ink = inks::quiet, .side = Side::middle}, Hold::baseline);
        }
    };
    return figure;
}

Figure draw_strip_set(const std::vector<DrawnStrip>& strips, double section, int sections_drawn, double width,
                      double most_height, const std::string& alt) {
    double across = 0;
    for (const DrawnStrip& strip : strips) across += strip.width;
    const double beyond = 0.45 * section; // Some of the set goes on beyond the last cut.
    const double long_way = section * sections_drawn + beyond;
    const double scale = std::min(width / long_way, most_height / std::max(across, 1e-6));
    Figure figure{.width = width, .height = across * scale + 4, .draw = {}, .alt = alt};
    figure.draw = [=](Canvas& canvas) {
        double y = 2;
        for (const DrawnStrip& strip : strips) {
            const double high = strip.width * scale;
            canvas.box({0, y, long_way * scale, y + high}, strip.ink, {0.5, inks::text});
            const double size = std::min(10.0, high * 0.8);
            for (int s = 0; s < sections_drawn && size >= 4; ++s)
                canvas.write(
                    {(s + 0.5) * section * scale, y + high / 2}, strip.letter,
                    {.size = size, .bold = s == 0, .ink = readable_on(strip.ink), .side = Side::middle},
                    Hold::middle);
            y += high;
        }
        for (int s = 1; s <= sections_drawn; ++s)
            canvas.line({s * section * scale, 0}, {s * section * scale, y + 2}, {1.0, inks::blade, true});
    };
    return figure;
}

} // namespace motley::render
