#include "render/diagram_cuts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>

namespace motley::render {

namespace {

/// Soft enough to read letters on, told apart in grey as well.
constexpr std::array<Ink, 6> tints{{{0.80, 0.89, 0.90},
                                    {0.96, 0.90, 0.76},
                                    {0.90, 0.80, 0.78},
                                    {0.83, 0.90, 0.79},
                                    {0.87, 0.84, 0.93},
                                    {0.90, 0.90, 0.90}}};
constexpr Stroke edge{0.5, inks::text}, waste{0.35, inks::hairline};

class StripDrawing {
public:
    StripDrawing(Canvas& canvas, const cutting::CutList& list, double scale, double type_size)
        : canvas_(canvas), list_(list), scale_(scale), type_size_(type_size) {}

    /// The strip from (left, top) of `length`; `across`: it runs down the page instead.
    void strip(const cutting::Strip& strip, double left, double top, measure::Length length, bool down) {
        const auto box = [&](double from, double at, double long_way, double high) {
            return down ? unit::Box{left + at, top + from, left + at + high, top + from + long_way}
                        : unit::Box{left + from, top + at, left + from + long_way, top + at + high};
        };
        const unit::Box all = box(0, 0, points(length), points(strip.height));
        canvas_.box(all, inks::paper, no_stroke);
        canvas_.hatch(all.outline(), 3.2, waste);
        double along = 0;
        for (const cutting::Segment& segment : strip.segments) {
            double up = 0;
            for (const cutting::LaidPiece& laid : segment.pieces) {
                piece(box(along, up, points(laid.width), points(laid.height)), laid.piece);
                up += points(laid.height);
            }
            along += points(segment.width);
        }
        canvas_.box(all, std::nullopt, edge);
    }

    double points(measure::Length length) const { return length.in_inches() * scale_; }

private:
    void piece(const unit::Box& box, int piece) {
        canvas_.box(box, tints[static_cast<std::size_t>(piece) % tints.size()], edge);
        const std::string letter = piece_letter(piece);
        const double size =
            std::min({type_size_, box.height() * 0.8, box.width() * 1.3 / double(letter.size())});
        if (size >= 4)
            canvas_.write(box.middle(), letter, {.size = size, .side = Side::middle}, Hold::middle);
    }

    Canvas& canvas_;
    const cutting::CutList& list_;
    double scale_, type_size_;
};

bool equal(const cutting::Strip& a, const cutting::Strip& b) {
    if (a.height != b.height || a.segments.size() != b.segments.size()) return false;
    for (std::size_t s = 0; s < a.segments.size(); ++s) {
        const auto &one = a.segments[s].pieces, &other = b.segments[s].pieces;
        if (a.segments[s].width != b.segments[s].width || one.size() != other.size()) return false;
        for (std::size_t p = 0; p < one.size(); ++p)
            if (one[p].piece != other[p].piece || one[p].turned != other[p].turned) return false;
    }
    return true;
}

} // namespace

std::string piece_letter(int piece) {
    const std::string letter(1, static_cast<char>('a' + piece % 26));
    return piece < 26 ? letter : letter + std::to_string(piece / 26 + 1);
}

std::vector<EqualStrips> equal_strips(const std::vector<cutting::Strip>& strips) {
    std::vector<EqualStrips> groups;
    for (const cutting::Strip& strip : strips)
        if (!groups.empty() && equal(*groups.back().strip, strip))
            ++groups.back().count;
        else
            groups.push_back({&strip, 1});
    return groups;
}

bool equally_cut(const cutting::SheetCuts& a, const cutting::SheetCuts& b) {
    return a.sheet == b.sheet && a.along == b.along &&
           std::equal(a.strips.begin(), a.strips.end(), b.strips.begin(), b.strips.end(), equal);
}

Figure draw_strips(const cutting::CutList& list, const std::vector<cutting::Strip>& strips, double width,
                   double type_size) {
    const double sizes = Canvas::width_of("10 1/2 in", {.size = type_size}) + 6;
    const double times = Canvas::width_of("× 10", {.size = type_size, .bold = true}) + 5;
    const double scale = (width - sizes - times) / list.usable_width.in_inches();
    const double gap = type_size * 0.45, above = type_size * 1.7;
    double height = above;
    const std::vector<EqualStrips> groups = equal_strips(strips);
    const auto high = [=](const EqualStrips& group) {
        return std::max(group.strip->height.in_inches() * scale, type_size);
    };
    for (const EqualStrips& group : groups) height += high(group) + gap;
    Figure figure{.width = width, .height = height};
    figure.draw = [=, &list](Canvas& canvas) {
        StripDrawing drawing(canvas, list, scale, type_size);
        const Type type{.size = type_size, .ink = inks::quiet};
        const double right = sizes + drawing.points(list.usable_width), line = above - type_size * 0.75;
        canvas.line({sizes, line}, {right, line}, {0.4, inks::quiet});
        canvas.arrowhead({sizes, line}, {-1, 0}, 4, inks::quiet);
        canvas.arrowhead({right, line}, {1, 0}, 4, inks::quiet);
        Type middle = type;
        middle.side = Side::middle;
        canvas.write({(sizes + right) / 2, line - 2.5}, measure::print(list.usable_width, list.measure),
                     middle, Hold::baseline);
        double y = above;
        for (const EqualStrips& group : groups) {
            drawing.strip(*group.strip, sizes, y, list.usable_width, false);
            Type size = type;
            size.side = Side::right;
            const double at = y + drawing.points(group.strip->height) / 2;
            canvas.write({sizes - 5, at}, measure::print(group.strip->height, list.measure), size,
                         Hold::middle);
            if (group.count > 1)
                canvas.write({right + 4, at}, strong(fmt::format("× {}", group.count)),
                             {.size = type_size, .ink = inks::accent}, Hold::middle);
            y += high(group) + gap;
        }
    };
    return figure;
}

Figure draw_sheet(const cutting::CutList& list, const cutting::SheetCuts& cuts, double width,
                  double type_size) {
    const cutting::Sheet& sheet = list.sheets.at(static_cast<std::size_t>(cuts.sheet));
    const double sizes = Canvas::width_of("10 1/2 in", {.size = type_size}) + 6, above = type_size * 1.7;
    const double widest = std::max(list.usable_width, sheet.width).in_inches();
    const double scale = (width - sizes - Canvas::width_of("× 10", {.size = type_size}) - 5) / widest;
    // What nobody cuts into is not drawn to its end: the edge there is torn.
    measure::Length used;
    if (cuts.along)
        used = sheet.length;
    else
        for (const cutting::Strip& strip : cuts.strips) used = used + strip.height;
    const double rest = (sheet.length - used).in_inches() * scale,
                 drawn_rest = std::min(rest, type_size * 2.2);
    const bool torn = drawn_rest < rest - 1;
    const double high = used.in_inches() * scale + drawn_rest;
    Figure figure{.width = width, .height = above + high + 3, .draw = {}};
    figure.draw = [=, &list, &sheet, &cuts](Canvas& canvas) {
        StripDrawing drawing(canvas, list, scale, type_size);
        const unit::Box all{sizes, above, sizes + drawing.points(sheet.width), above + high};
        std::vector<unit::Point> outline{{all.left, all.top}, {all.right, all.top}, {all.right, all.bottom}};
        const int teeth = torn ? std::max(4, static_cast<int>(all.width() / 9)) : 0;
        for (int tooth = 1; tooth < 2 * teeth; ++tooth)
            outline.push_back(
                {all.right - all.width() * tooth / (2 * teeth), all.bottom - (tooth % 2 ? 3.0 : 0.0)});
        outline.push_back({all.left, all.bottom});
        canvas.outline(outline, inks::paper, no_stroke);
        canvas.hatch(outline, 3.2, waste);
        double at = 0;
        for (const cutting::Strip& strip : cuts.strips) {
            if (cuts.along)
                drawing.strip(strip, all.left + at, all.top, sheet.length, true);
            else
                drawing.strip(strip, all.left, all.top + at, sheet.width, false);
            at += drawing.points(strip.height);
        }
        canvas.outline(outline, std::nullopt, {0.9, inks::text});
        Type type{.size = type_size, .ink = inks::quiet, .side = Side::middle};
        canvas.write({(all.left + all.right) / 2, all.top - 3}, measure::print(sheet.width, list.measure),
                     type, Hold::baseline);
        type.side = Side::right;
        canvas.write({all.left - 5, (all.top + all.bottom) / 2}, measure::print(sheet.length, list.measure),
                     type, Hold::middle);
    };
    return figure;
}

} // namespace motley::render
