#include "render/diagram_map.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "colour/space.h"
#include "fault/fault.h"

namespace motley::render {

namespace {

constexpr double most_unit = 110; ///< Points; of a unit in a map.
constexpr double labels = 15;     ///< Points around a map for the numbers of rows and columns.

unit::Box around(std::span<const unit::Point> corners) {
    unit::Box box{corners[0].x, corners[0].y, corners[0].x, corners[0].y};
    for (const unit::Point corner : corners)
        box = {std::min(box.left, corner.x), std::min(box.top, corner.y), std::max(box.right, corner.x),
               std::max(box.bottom, corner.y)};
    return box;
}

bool meet(const unit::Box& a, const unit::Box& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/// Across the largest circle around the centroid, inches.
double open_width(const std::vector<unit::Point>& outline) {
    const unit::Point middle = unit::centre(outline);
    double least = 1e300;
    for (std::size_t i = 0; i < outline.size(); ++i)
        least =
            std::min(least, unit::line_through({outline[i], outline[(i + 1) % outline.size()]}).side(middle));
    return 2 * std::max(0.0, least);
}

/// How large a letter may be in that width.
double letter_room(double points, const std::string& letter) {
    return points * (letter.size() == 1 ? 0.74 : 0.6);
}

Ink ink_of(colour::Srgb tone) {
    return {tone.r / 255.0, tone.g / 255.0, tone.b / 255.0};
}

/// Half-way to the paper: letters read on any fabric then, and it saves ink.
Ink paler(Ink ink) {
    return {(1 + ink.r) / 2, (1 + ink.g) / 2, (1 + ink.b) / 2};
}

/// Sheets whose edges lie on edges of units, as equal as that allows.
std::vector<double> edges_of(double from, double to, int parts, const std::set<double>& units) {
    std::vector<double> edges{from};
    for (int k = 1; k < parts; ++k) {
        const double wanted = from + (to - from) * k / parts;
        double best = wanted;
        if (!units.empty()) {
            auto at = units.lower_bound(wanted);
            if (at == units.end() || (at != units.begin() && *at - wanted > wanted - *std::prev(at))) --at;
            if (std::abs(*at - wanted) < (to - from) / parts / 3) best = *at;
        }
        if (best > edges.back()) edges.push_back(best);
    }
    edges.push_back(to);
    return edges;
}

std::vector<MapSheet> sheets_at(const MapSource& source, double width, double height, double least_scale) {
    const double wide = source.top.width, high = source.top.height;
    // A few units need not fill a page.
    const double most_scale = most_unit / std::max(0.5, source.layout.plan.finished.in_inches());
    const double room_x = width - labels, room_y = height - labels;
    std::set<double> xs, ys;
    if (!source.assembly.rows.diagonal)
        for (const layout::Shape& shape : source.top.shapes)
            if (shape.part == layout::Part::unit) {
                const unit::Box box = around(shape.outline);
                xs.insert(std::round(box.left * 1e6) / 1e6);
                ys.insert(std::round(box.top * 1e6) / 1e6);
            }
    // Snapping makes the largest sheet larger than an equal share: ask for one more where that matters.
    for (int total = 1; total < 400; ++total)
        for (int down = 1; down <= total; ++down) {
            if (total % down != 0) continue;
            const int across = total / down;
            const std::vector<double> x = edges_of(0, wide, across, xs), y = edges_of(0, high, down, ys);
            double widest = 0, highest = 0;
            for (std::size_t i = 1; i < x.size(); ++i) widest = std::max(widest, x[i] - x[i - 1]);
            for (std::size_t i = 1; i < y.size(); ++i) highest = std::max(highest, y[i] - y[i - 1]);
            const double scale = std::min({room_x / widest, room_y / highest, most_scale});
            if (scale < least_scale && total < 399) continue;
            std::vector<MapSheet> sheets;
            const int sheets_across = static_cast<int>(x.size()) - 1,
                      sheets_down = static_cast<int>(y.size()) - 1;
            for (int r = 0; r < sheets_down; ++r)
                for (int c = 0; c < sheets_across; ++c) {
                    const auto i = static_cast<std::size_t>(c), j = static_cast<std::size_t>(r);
                    sheets.push_back(
                        {{x[i], y[j], x[i + 1], y[j + 1]}, scale, c, r, sheets_across, sheets_down});
                }
            return sheets;
        }
    return {};
}

/// The frame of a sheet: its place on the figure, and the numbers around it.
class Sheet {
public:
    Sheet(Canvas& canvas, const MapSource& source, const MapSheet& sheet)
        : canvas_(canvas), source_(source), sheet_(sheet) {}

    unit::Point at(unit::Point inches) const {
        return unit::Point{labels, labels} +
               (inches - unit::Point{sheet_.part.left, sheet_.part.top}) * sheet_.scale;
    }
    std::vector<unit::Point> at(const std::vector<unit::Point>& outline) const {
        std::vector<unit::Point> moved;
        for (const unit::Point corner : outline) moved.push_back(at(corner));
        return moved;
    }
    unit::Box frame() const {
        const unit::Point from = at({sheet_.part.left, sheet_.part.top}),
                          to = at({sheet_.part.right, sheet_.part.bottom});
        return {from.x, from.y, to.x, to.y};
    }

    void number_rows() const {
        for (const assembly::Row& row : source_.assembly.rows.rows) {
            if (row.sashing || row.places.empty()) continue;
            const unit::Point first = unit::centre(row.places.front().outline);
            if (source_.assembly.rows.diagonal)
                number_diagonal(row);
            else if (first.y > sheet_.part.top && first.y < sheet_.part.bottom)
                number({labels - 4, at(first).y}, row.number, Side::right);
        }
        if (!source_.assembly.rows.diagonal) number_columns();
    }

private:
    void number(unit::Point where, int number, Side side) const {
        canvas_.write(where, std::to_string(number), {.size = 7.5, .ink = inks::quiet, .side = side},
                      Hold::middle);
    }
    /// Columns as the first row with most units has them; bricks' are half a unit off in every second row.
    void number_columns() const {
        const assembly::Row* most = nullptr;
        for (const assembly::Row& row : source_.assembly.rows.rows)
            if (!row.sashing && (!most || row.places.size() > most->places.size())) most = &row;
        if (!most) return;
        int column = 0;
        for (const assembly::Place& place : most->places) {
            const layout::Part part = source_.assembly.rows.kinds[static_cast<std::size_t>(place.kind)].part;
            if (part != layout::Part::unit && part != layout::Part::plain_block) continue;
            ++column;
            const double x = unit::centre(place.outline).x;
            if (x > sheet_.part.left && x < sheet_.part.right)
                number({at({x, 0}).x, labels - 7}, column, Side::middle);
        }
    }
    /// Beside the upper left end of a diagonal row, at the edge it begins on.
    void number_diagonal(const assembly::Row& row) const {
        const unit::Box box = around(row.places.front().outline);
        const unit::Point start{box.left, box.top};
        if (start.x - 1e-6 <= source_.top.left && sheet_.part.left <= 1e-6 && box.bottom > sheet_.part.top &&
            unit::centre(row.places.front().outline).y < sheet_.part.bottom &&
            unit::centre(row.places.front().outline).y > sheet_.part.top)
            number({labels - 4, at(unit::centre(row.places.front().outline)).y}, row.number, Side::right);
        else if (sheet_.part.top <= 1e-6) {
            const double x = unit::centre(row.places.front().outline).x;
            if (x > sheet_.part.left && x < sheet_.part.right)
                number({at({x, 0}).x, labels - 7}, row.number, Side::middle);
        }
    }

    Canvas& canvas_;
    const MapSource& source_;
    const MapSheet& sheet_;
};

Figure figure_of(const MapSheet& sheet, const std::string& alt) {
    return {.width = sheet.part.width() * sheet.scale + labels + 1,
            .height = sheet.part.height() * sheet.scale + labels + 1,
            .draw = {},
            .alt = alt};
}

/// In the corner of each unit which unit of which pile it is.
void write_codes(Canvas& canvas, const MapSource& source, const Sheet& on, const MapSheet& sheet,
                 double letter) {
    const double side = source.layout.plan.finished.in_inches() * sheet.scale;
    const double size = std::clamp(side * 0.085, letter * 1.05, letter * 1.8);
    for (const assembly::Row& row : source.assembly.rows.rows)
        for (const assembly::Place& place : row.places) {
            const auto cell = static_cast<std::size_t>(std::max(place.cell, 0));
            const std::string& code = source.assembly.cards.codes.at(cell);
            if (place.cell < 0 || code.empty() || !meet(around(place.outline), sheet.part)) continue;
            // The corner of its square that lies highest, and of two the left one.
            const unit::Point middle = unit::centre(place.outline),
                              corner = *std::min_element(place.outline.begin(), place.outline.end(),
                                                         [](const unit::Point& a, const unit::Point& b) {
                                                             return std::pair(std::round(a.y * 64), a.x) <
                                                                    std::pair(std::round(b.y * 64), b.x);
                                                         });
            const double wide = size * (0.56 * static_cast<double>(code.size()) + 0.4), high = size * 1.15;
            const unit::Point from = on.at(corner);
            const bool aslant = std::abs(corner.x - middle.x) < 0.01;
            const unit::Point at = aslant ? from + unit::Point{0, wide * 0.5 + high * 0.5 + 1}
                                          : from + unit::Point{wide / 2 + 0.8, high / 2 + 0.8};
            canvas.box({at.x - wide / 2, at.y - high / 2, at.x + wide / 2, at.y + high / 2}, Ink{1, 1, 1},
                       {0.3, inks::text});
            canvas.write(at, code, {.size = size, .side = Side::middle}, Hold::middle);
        }
}

const std::string& letter_of(const MapSource& source, const layout::Shape& shape) {
    return source.assembly.letters.at(palette::index(shape.fabric));
}

} // namespace

std::vector<MapSheet> map_sheets(const MapSource& source, double width, double height, double letter) {
    // Of all patches but the smallest twentieth.
    std::vector<double> needs;
    for (const layout::Shape& shape : source.top.shapes)
        needs.push_back(letter /
                        letter_room(std::max(open_width(shape.outline), 1e-3), letter_of(source, shape)));
    std::sort(needs.begin(), needs.end());
    const double scale = needs.empty() ? 1 : needs[(needs.size() - 1) * 19 / 20];
    // Slivers would ask for a wall of paper: units need not be larger than this.
    const double most = letter * 9.5 / std::max(0.5, source.layout.plan.finished.in_inches());
    return sheets_at(source, width, height, std::min(scale, most));
}

std::vector<MapSheet> seam_sheets(const MapSource& source, double width, double height, double arrow) {
    double least = 1e300;
    for (const assembly::PressedSeam& seam : source.assembly.pressing.seams)
        if (seam.of == assembly::SeamOf::neighbours && !seam.fixed)
            least = std::min(least, unit::length(seam.at.to - seam.at.from));
    return sheets_at(source, width, height, least > 1e200 ? 0 : arrow / least);
}

int unlettered(const MapSource& source, const MapSheet& sheet, double letter) {
    int count = 0;
    for (const layout::Shape& shape : source.top.shapes)
        if (meet(around(shape.outline), sheet.part) &&
            letter_room(open_width(shape.outline) * sheet.scale, letter_of(source, shape)) < letter)
            ++count;
    return count;
}

Figure draw_letters(const MapSource& source, const MapSheet& sheet, double letter, const std::string& alt) {
    Figure figure = figure_of(sheet, alt);
    figure.draw = [source, sheet, letter](Canvas& canvas) {
        const Sheet on(canvas, source, sheet);
        canvas.within(on.frame(), [&] {
            for (const layout::Shape& shape : source.top.shapes) {
                if (!meet(around(shape.outline), sheet.part)) continue;
                const palette::Fabric& fabric = source.layout.fabrics[palette::index(shape.fabric)];
                expects(fabric.colour.has_value());
                canvas.outline(on.at(shape.outline), paler(ink_of(fabric.colour->srgb)), {0.4, inks::text});
            }
            for (const layout::Shape& shape : source.top.shapes) {
                if (!meet(around(shape.outline), sheet.part)) continue;
                const std::string& name = letter_of(source, shape);
                const double size =
                    std::min(letter * 2.4, letter_room(open_width(shape.outline) * sheet.scale, name));
                if (size >= letter * 0.999)
                    canvas.write(on.at(unit::centre(shape.outline)), name,
                                 {.size = size, .side = Side::middle}, Hold::middle);
            }
            if (source.assembly.cards.numbered) write_codes(canvas, source, on, sheet, letter);
        });
        canvas.box(on.frame(), std::nullopt, {0.9, inks::text});
        on.number_rows();
    };
    return figure;
}

Figure draw_pressing(const MapSource& source, const MapSheet& sheet, const std::string& alt) {
    Figure figure = figure_of(sheet, alt);
    figure.draw = [source, sheet](Canvas& canvas) {
        const Sheet on(canvas, source, sheet);
        const assembly::Pressing& pressing = source.assembly.pressing;
        canvas.within(on.frame(), [&] {
            for (const layout::Shape& shape : source.top.shapes) {
                if (!meet(around(shape.outline), sheet.part)) continue;
                const palette::Fabric& fabric = source.layout.fabrics[palette::index(shape.fabric)];
                const double grey = colour::grey_of(fabric.colour->lab.l) / 255.0, pale = 0.72 + 0.28 * grey;
                canvas.outline(on.at(shape.outline), Ink{pale, pale, pale}, {0.3, inks::hairline});
            }
            for (const assembly::PressedSeam& seam : pressing.seams) {
                const unit::Point from = on.at(seam.at.from), to = on.at(seam.at.to),
                                  middle = (from + to) * 0.5;
                const double length = unit::length(to - from);
                if (length < 2) continue;
                const Ink ink = seam.of != assembly::SeamOf::neighbours ? inks::quiet
                                : seam.lighter > 0 && !seam.fixed       ? inks::accent
                                                                        : inks::text;
                canvas.line(from, to, {seam.of == assembly::SeamOf::neighbours ? 0.7 : 1.1, ink});
                const double reach = std::clamp(length * 0.24, 1.6, 6.5);
                canvas.line(middle, middle + seam.to * reach, {0.8, ink});
                canvas.arrowhead(middle + seam.to * (reach + reach * 0.5), seam.to, reach * 0.9, ink);
            }
            for (const assembly::Joint& joint : pressing.joints)
                if (!joint.nests) {
                    const unit::Point at = on.at(joint.at);
                    canvas.box({at.x - 2.6, at.y - 2.6, at.x + 2.6, at.y + 2.6}, std::nullopt,
                               {0.9, inks::blade}, 2.6);
                }
        });
        canvas.box(on.frame(), std::nullopt, {0.9, inks::text});
        on.number_rows();
    };
    return figure;
}

Figure draw_greys(const MapSource& source, double width, double height, const std::string& alt) {
    const double scale = std::min({width / source.top.width, height / source.top.height,
                                   most_unit / std::max(0.5, source.layout.plan.finished.in_inches())});
    Figure figure{
        .width = source.top.width * scale, .height = source.top.height * scale, .draw = {}, .alt = alt};
    figure.draw = [source, scale](Canvas& canvas) {
        for (const layout::Shape& shape : source.top.shapes) {
            std::vector<unit::Point> outline;
            for (const unit::Point corner : shape.outline) outline.push_back(corner * scale);
            const palette::Fabric& fabric = source.layout.fabrics[palette::index(shape.fabric)];
            expects(fabric.colour.has_value());
            const double grey = colour::grey_of(fabric.colour->lab.l) / 255.0;
            canvas.outline(outline, Ink{grey, grey, grey}, {0.15, {grey, grey, grey}});
        }
        canvas.box({0, 0, source.top.width * scale, source.top.height * scale}, std::nullopt,
                   {0.5, inks::text});
    };
    return figure;
}

} // namespace motley::render
