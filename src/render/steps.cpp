#include "render/steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fault/fault.h"
#include "render/pen.h"

namespace motley::render {

namespace {

constexpr double margin = 36;
constexpr double gap = 34;    ///< Between things.
constexpr double arrow = 76;  ///< From before to after, without the gaps.
constexpr double around = 44; ///< Room for measurements, at the sides where they stand.
constexpr double caption = 30;
constexpr double indent = 52;        ///< Of words, for the step's number.
constexpr double highest = 430;      ///< Pixels; of a thing.
constexpr double most_per_inch = 42; ///< Small things are not blown up beyond that,
constexpr double readable = 260;     ///< unless the largest would stay smaller than this.

struct Ink {
    double r = 0, g = 0, b = 0;
};
constexpr Ink dark{0.17, 0.16, 0.15}, quiet{0.45, 0.43, 0.41}, blade{0.78, 0.13, 0.12}, paper{1, 1, 1};
/// Soft, and told apart by hue and lightness both.
constexpr std::array<Ink, 10> tints{{{0.56, 0.72, 0.85},
                                     {0.96, 0.86, 0.62},
                                     {0.87, 0.60, 0.58},
                                     {0.66, 0.80, 0.60},
                                     {0.75, 0.66, 0.83},
                                     {0.95, 0.73, 0.52},
                                     {0.58, 0.78, 0.76},
                                     {0.93, 0.76, 0.84},
                                     {0.75, 0.70, 0.60},
                                     {0.84, 0.87, 0.66}}};

Ink tint_of(int input) {
    return tints[static_cast<std::size_t>(input) % tints.size()];
}
Ink paler(Ink ink) {
    constexpr double share = 0.45;
    return {1 - share * (1 - ink.r), 1 - share * (1 - ink.g), 1 - share * (1 - ink.b)};
}

/// Draws in pixels; figures in inches through a place and a scale.
class Drawing {
public:
    explicit Drawing(cairo_t* pen) : pen_(pen) {}

    /// Puts the figure's box at (x, y).
    void figure(const unit::Figure& figure, double x, double y, double scale);
    void to_right(double x, double y); ///< The arrow from before to after.
    Size write(const std::string& words, double pixels, bool bold, double x, double y, double room, Ink ink);
    void centre(const std::string& words, double pixels, bool bold, unit::Point at, Ink ink);

private:
    unit::Point at(unit::Point inches) const { return origin_ + inches * scale_; }
    void use(Ink ink) { cairo_set_source_rgb(pen_, ink.r, ink.g, ink.b); }
    void trace(const unit::Polygon& outline);
    void cloth(const unit::Shape& shape);
    void hatch(const unit::Polygon& outline);
    void mark(const unit::Mark& mark);
    void dimension(const unit::Dimension& dimension, unit::Point middle);
    void arrowhead(unit::Point tip, unit::Point along);
    void line(unit::Point from, unit::Point to);

    cairo_t* pen_;
    unit::Point origin_;
    double scale_ = 1;
};

Size Drawing::write(const std::string& words, double pixels, bool bold, double x, double y, double room,
                    Ink ink) {
    const Words layout = lettered(pen_, words, pixels, bold);
    if (room > 0) {
        pango_layout_set_width(layout.get(), static_cast<int>(room) * PANGO_SCALE);
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    }
    use(ink);
    cairo_move_to(pen_, x, y);
    pango_cairo_show_layout(pen_, layout.get());
    return size_of(layout.get());
}

void Drawing::centre(const std::string& words, double pixels, bool bold, unit::Point at, Ink ink) {
    const Words layout = lettered(pen_, words, pixels, bold);
    const Size size = size_of(layout.get());
    use(ink);
    cairo_move_to(pen_, at.x - size.width / 2.0, at.y - size.height / 2.0);
    pango_cairo_show_layout(pen_, layout.get());
}

void Drawing::line(unit::Point from, unit::Point to) {
    cairo_move_to(pen_, from.x, from.y);
    cairo_line_to(pen_, to.x, to.y);
}

void Drawing::trace(const unit::Polygon& outline) {
    cairo_new_path(pen_);
    for (const unit::Point corner : outline) {
        const unit::Point to = at(corner);
        cairo_line_to(pen_, to.x, to.y);
    }
    cairo_close_path(pen_);
}

/// Fine lines aslant, inside the outline.
void Drawing::hatch(const unit::Polygon& outline) {
    double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
    for (const unit::Point corner : outline) {
        const unit::Point p = at(corner);
        left = std::min(left, p.x);
        right = std::max(right, p.x);
        top = std::min(top, p.y);
        bottom = std::max(bottom, p.y);
    }
    cairo_save(pen_);
    trace(outline);
    cairo_clip(pen_);
    constexpr double apart = 9;
    // On one grid for the whole picture, so that the parts of a piece go on from one to the next.
    for (double c = std::floor((left + top) / apart) * apart; c <= right + bottom; c += apart)
        line({c - top, top}, {c - bottom, bottom});
    cairo_set_line_width(pen_, 0.8);
    cairo_set_source_rgba(pen_, dark.r, dark.g, dark.b, 0.16);
    cairo_stroke(pen_);
    cairo_restore(pen_);
}

void Drawing::cloth(const unit::Shape& shape) {
    const Ink tint = tint_of(shape.input);
    trace(shape.outline);
    use(shape.wrong_side ? paler(tint) : tint);
    cairo_fill_preserve(pen_);
    cairo_set_line_width(pen_, 1.2);
    use(dark);
    cairo_stroke(pen_);
    if (shape.wrong_side) hatch(shape.outline);
}

void Drawing::mark(const unit::Mark& mark) {
    constexpr double stitches[] = {5, 4};
    cairo_save(pen_);
    use(mark.kind == unit::Mark::Kind::cut ? blade : mark.kind == unit::Mark::Kind::line ? quiet : dark);
    cairo_set_line_width(pen_, mark.kind == unit::Mark::Kind::line ? 0.8 : 1.6);
    if (mark.kind == unit::Mark::Kind::seam) cairo_set_dash(pen_, stitches, 2, 0);
    unit::Point from = at(mark.at.from), to = at(mark.at.to);
    if (mark.kind == unit::Mark::Kind::cut) { // The blade goes in before the cloth and out beyond it.
        const unit::Point past = (to - from) * (9 / std::max(1.0, unit::length(to - from)));
        from = from - past;
        to = to + past;
    }
    line(from, to);
    cairo_stroke(pen_);
    cairo_restore(pen_);
}

void Drawing::arrowhead(unit::Point tip, unit::Point along) {
    constexpr double length = 7, half = 2.6;
    const unit::Point back = tip - along * length, aside{-along.y * half, along.x * half};
    cairo_move_to(pen_, tip.x, tip.y);
    cairo_line_to(pen_, back.x + aside.x, back.y + aside.y);
    cairo_line_to(pen_, back.x - aside.x, back.y - aside.y);
    cairo_close_path(pen_);
    cairo_fill(pen_);
}

/// Outside the thing, parallel to what is measured, between two thin lines that lead out to it.
void Drawing::dimension(const unit::Dimension& dimension, unit::Point middle) {
    const unit::Point from = at(dimension.at.from), to = at(dimension.at.to);
    const double length = unit::length(to - from);
    if (length < 1) return;
    const unit::Point along = (to - from) * (1 / length);
    unit::Point out{-along.y, along.x};
    if (unit::dot(out, (from + to) * 0.5 - middle) < 0) out = out * -1;
    constexpr double off = 16;
    const unit::Point start = from + out * off, end = to + out * off;
    use(quiet);
    cairo_set_line_width(pen_, 0.8);
    line(from + out * 4, start + out * 4);
    line(to + out * 4, end + out * 4);
    line(start, end);
    cairo_stroke(pen_);
    arrowhead(start, along * -1);
    arrowhead(end, along);
    cairo_save(pen_);
    const unit::Point words = (start + end) * 0.5 + out * 12;
    cairo_translate(pen_, words.x, words.y);
    if (std::abs(along.y) > std::abs(along.x))
        cairo_rotate(pen_, -1.5707963267948966); // Read from the right.
    centre(dimension.text, 13.5, false, {0, 0}, dark);
    cairo_restore(pen_);
}

/// The largest part that no cloth lies over.
unit::Polygon seen_of(const unit::Shape& shape, const std::vector<unit::Shape>& all) {
    std::vector<unit::Polygon> parts{shape.outline};
    for (const unit::Shape& other : all) {
        if (other.layer <= shape.layer) continue;
        std::vector<unit::Polygon> left;
        for (const unit::Polygon& part : parts)
            for (unit::Polygon& rest : unit::without(part, other.outline)) left.push_back(std::move(rest));
        parts = std::move(left);
    }
    const auto largest = std::max_element(parts.begin(), parts.end(), [](const auto& a, const auto& b) {
        return unit::area(a) < unit::area(b);
    });
    return largest == parts.end() ? unit::Polygon{} : *largest;
}

void Drawing::figure(const unit::Figure& figure, double x, double y, double scale) {
    scale_ = scale;
    origin_ = unit::Point{x, y} - unit::Point{figure.box.left, figure.box.top} * scale;
    std::vector<unit::Shape> shown;
    for (const unit::Shape& shape : figure.shapes)
        if (!shape.hidden) shown.push_back(shape);
    std::stable_sort(shown.begin(), shown.end(),
                     [](const unit::Shape& a, const unit::Shape& b) { return a.layer < b.layer; });
    for (const unit::Shape& shape : shown) cloth(shape);
    for (const unit::Shape& shape : shown) {
        const unit::Polygon open = seen_of(shape, shown);
        const double room = open.empty() ? 0 : std::sqrt(unit::area(open)) * scale;
        if (room >= 17)
            centre(letter_of(shape.input), std::min(18.0, room * 0.55), true, at(unit::centre(open)), dark);
    }
    for (const unit::Mark& each : figure.marks) mark(each);
    for (const unit::Dimension& each : figure.dimensions) dimension(each, at(figure.box.middle()));
    const std::string name =
        figure.copies > 1 ? fmt::format("{}  × {}", figure.name, figure.copies) : figure.name;
    centre(name, 14.5, false,
           {x + figure.box.width() * scale / 2, y + figure.box.height() * scale + around + 8}, quiet);
}

void Drawing::to_right(double x, double y) {
    use(quiet);
    cairo_set_line_width(pen_, 2.4);
    line({x, y}, {x + arrow - 12, y});
    cairo_stroke(pen_);
    cairo_move_to(pen_, x + arrow, y);
    cairo_line_to(pen_, x + arrow - 17, y - 8);
    cairo_line_to(pen_, x + arrow - 17, y + 8);
    cairo_close_path(pen_);
    cairo_fill(pen_);
}

/// Where the things lie: in rows, at one scale.
struct Arrangement {
    struct Spot {
        const unit::Figure* figure = nullptr; ///< Null for the arrow.
        int row = 0;
        double x = 0;
    };
    std::vector<Spot> spots;
    std::vector<double> heights; ///< Of the rows, pixels, without room for words.
    double scale = 0;

    double height() const {
        double sum = 0;
        for (const double row : heights) sum += row + around + caption + gap / 2;
        return sum;
    }
};

Arrangement arranged(const std::vector<const unit::Figure*>& things, int width, double scale) {
    Arrangement made;
    made.scale = scale;
    double x = margin;
    for (const unit::Figure* thing : things) {
        const double wide = thing ? std::max(90.0, thing->box.width() * scale) + around : arrow;
        const double high = thing ? thing->box.height() * scale : 0;
        const bool fits = !made.heights.empty() && x + wide <= width - margin;
        if (!fits) {
            made.heights.push_back(0);
            x = margin;
        }
        made.heights.back() = std::max(made.heights.back(), high);
        made.spots.push_back({thing, static_cast<int>(made.heights.size()) - 1, thing ? x + around : x});
        x += wide + gap;
    }
    return made;
}

/// The largest scale at which all stands in one row, or where that is too small to see, in two or three.
Arrangement arranged(const std::vector<const unit::Figure*>& things, int width) {
    double largest = 0;
    for (const unit::Figure* thing : things)
        if (thing) largest = std::max({largest, thing->box.width(), thing->box.height()});
    if (largest <= 0) return {};
    const double most = std::min(std::max(most_per_inch, readable / largest), highest / largest);
    for (std::size_t rows = 1; rows <= 3; ++rows)
        for (double scale = most; scale >= 0.5 * most; scale *= 0.96)
            if (Arrangement made = arranged(things, width, scale); made.heights.size() <= rows) return made;
    return arranged(things, width, 0.5 * most);
}

photo::Raster raster_of(cairo_surface_t* surface, int width, int height) {
    cairo_surface_flush(surface);
    const unsigned char* from = cairo_image_surface_get_data(surface);
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
    photo::Raster raster{width, height, 3, {}};
    raster.pixels.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y)
        for (std::size_t x = 0; x < static_cast<std::size_t>(width); ++x) {
            std::uint32_t code = 0; // As cairo has it: a number of the machine's own byte order.
            std::copy_n(from + y * stride + x * 4, 4, reinterpret_cast<unsigned char*>(&code));
            for (const int shift : {16, 8, 0})
                raster.pixels.push_back(static_cast<std::uint8_t>(code >> shift));
        }
    return raster;
}

/// "A strip 1   B strip 2": the inputs that the step shows.
std::string legend(const std::vector<const unit::Figure*>& things, const std::vector<unit::Input>& inputs) {
    std::vector<char> seen(inputs.size());
    for (const unit::Figure* thing : things)
        if (thing)
            for (const unit::Shape& shape : thing->shapes) seen.at(static_cast<std::size_t>(shape.input)) = 1;
    std::string words;
    for (std::size_t i = 0; i < inputs.size(); ++i)
        if (seen[i] != 0)
            words += fmt::format("{}{} {}", words.empty() ? "" : "     ", letter_of(static_cast<int>(i)),
                                 inputs[i].name);
    return words;
}

} // namespace

std::string letter_of(int input) {
    expects(input >= 0);
    const std::string letter(1, static_cast<char>('A' + input % 26));
    return input < 26 ? letter : letter + std::to_string(input / 26 + 1);
}

photo::Raster draw_step(const unit::Step& step, const std::vector<unit::Input>& inputs, int width) {
    expects(width >= 400 && width <= 4000);
    std::vector<const unit::Figure*> things;
    for (const unit::Figure& figure : step.before) things.push_back(&figure);
    if (!step.before.empty() && !step.after.empty()) things.push_back(nullptr);
    for (const unit::Figure& figure : step.after) things.push_back(&figure);
    const Arrangement all = arranged(things, width);
    // Twice: how high the words come out shows on the first sheet, which is thrown away.
    int height = 1;
    for (const bool final : {false, true}) {
        const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
        const Pen pen(cairo_create(surface.get()));
        expects(cairo_status(pen.get()) == CAIRO_STATUS_SUCCESS);
        cairo_set_source_rgb(pen.get(), paper.r, paper.g, paper.b);
        cairo_paint(pen.get());
        cairo_set_line_join(pen.get(), CAIRO_LINE_JOIN_ROUND);
        Drawing drawing(pen.get());
        const double room = width - 2 * margin - indent;
        double y = margin;
        drawing.write(std::to_string(step.number), 26, true, margin, y - 4, 0, dark);
        y += drawing.write(step.text, 18, false, margin + indent, y, room, dark).height + 30;
        std::vector<double> tops;
        for (const double row : all.heights) {
            tops.push_back(y);
            y += row + around + caption + gap / 2;
        }
        for (const Arrangement::Spot& spot : all.spots) {
            const auto row = static_cast<std::size_t>(spot.row);
            const double middle = tops[row] + all.heights[row] / 2;
            if (spot.figure)
                drawing.figure(*spot.figure, spot.x, middle - spot.figure->box.height() * all.scale / 2,
                               all.scale);
            else
                drawing.to_right(spot.x, middle);
        }
        y += 4;
        if (!step.outcome.empty())
            y += drawing.write(step.outcome, 16, true, margin + indent, y, room, dark).height + 10;
        if (const std::string words = legend(things, inputs); !words.empty())
            y += drawing.write(words, 14, false, margin + indent, y, room, quiet).height;
        if (final) return raster_of(surface.get(), width, height);
        height = static_cast<int>(std::ceil(y + margin * 0.7));
    }
    return {};
}

} // namespace motley::render
