#include "render/card.h"

#include <cairo-pdf.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/canvas.h"
#include "render/pdf_notes.h"
#include "render/pen.h"

namespace motley::render {

namespace {

using scene::Area;
using scene::Card;
using unit::Box;
using unit::Point;

constexpr double inch = 72; // Points.

cairo_status_t append(void* to, const unsigned char* data, unsigned int count) {
    auto& bytes = *static_cast<std::vector<std::byte>*>(to);
    const auto* first = reinterpret_cast<const std::byte*>(data);
    bytes.insert(bytes.end(), first, first + count);
    return CAIRO_STATUS_SUCCESS;
}

Box box_of(const Area& area) {
    return {area.x * inch, area.y * inch, (area.x + area.width) * inch, (area.y + area.height) * inch};
}

constexpr Ink black{0, 0, 0};
constexpr Ink grey(double code) {
    return {code, code, code};
}

void draw_marker(Canvas& canvas, const scene::Marker& marker) {
    const double cell = marker.area.width / scene::marker_cells;
    canvas.box(box_of(marker.area), black, no_stroke);
    for (int row = 0; row < 4; ++row)
        for (int column = 0; column < 4; ++column)
            if (((marker.code >> (15 - (row * 4 + column))) & 1) == 0)
                canvas.box(box_of({marker.area.x + (column + 1) * cell, marker.area.y + (row + 1) * cell,
                                   cell, cell}),
                           inks::paper, no_stroke);
}

void draw_field(Canvas& canvas, const Area& field) {
    const int columns = static_cast<int>(std::lround(field.width / scene::checks));
    const int rows = static_cast<int>(std::lround(field.height / scene::checks));
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column)
            if ((row + column) % 2 == 1)
                canvas.box(box_of({field.x + column * scene::checks, field.y + row * scene::checks,
                                   scene::checks, scene::checks}),
                           grey(scene::tint), no_stroke);
    canvas.box(box_of(field), std::nullopt, {scene::rim * inch, black});
}

void draw_ruler(Canvas& canvas, const Area& ruler) {
    const double low = (ruler.y + ruler.height) * inch;
    const int eighths = static_cast<int>(std::lround(ruler.width * 8));
    canvas.line({ruler.x * inch, low}, {(ruler.x + ruler.width) * inch, low}, {0.6, black});
    for (int i = 0; i <= eighths; ++i) {
        const double x = (ruler.x + i / 8.0) * inch;
        const double tall = i % 8 == 0 ? 11 : i % 4 == 0 ? 8 : i % 2 == 0 ? 6 : 4;
        canvas.line({x, low}, {x, low - tall}, {0.6, black});
        if (i % 8 == 0 && i > 0 && i < eighths)
            canvas.write({x - 4, low - 6}, std::to_string(i / 8),
                         {.size = 7, .ink = black, .side = Side::right}, Hold::baseline);
    }
}

std::string instruction(const Card& card) {
    const auto inches = static_cast<int>(std::lround(card.ruler.width));
    if (!card.field)
        return fmt::format(
            "Lay this card flat on the cloth and photograph both from above, all four corner marks in "
            "view. Printed at 100 %, the ruler is {} in long: if yours is not, tell motley its true "
            "length with --ruler.",
            inches);
    return fmt::format(
        "Lay the cloth flat inside the frame, a little of the checks in view all around it, and "
        "photograph the whole page, all four corner marks in view. Printed at 100 %, the ruler is {} in "
        "long: if yours is not, tell motley its true length with --ruler.",
        inches);
}

void draw_card(Canvas& canvas, const Card& card) {
    for (const scene::Marker& marker : card.markers) draw_marker(canvas, marker);
    for (const scene::Grey& one : card.ramp) canvas.box(box_of(one.area), grey(one.code), no_stroke);
    if (card.field) draw_field(canvas, *card.field);
    draw_ruler(canvas, card.ruler);
    canvas.write({card.words.x * inch, card.words.y * inch}, instruction(card),
                 {.size = card.field ? 8.5 : 8.0, .ink = black}, Hold::top, card.words.width * inch);
    if (!card.field)
        canvas.box(box_of({0, 0, card.width, card.height}), std::nullopt, {0.4, inks::hairline, true});
}

} // namespace

std::vector<std::byte> print_card(scene::CardKind kind, scene::CardKind paper) {
    expects(paper != scene::CardKind::small);
    const Card& card = scene::card(kind);
    const Card& page = kind == scene::CardKind::small ? scene::card(paper) : card;
    std::vector<std::byte> bytes;
    {
        const Surface surface(
            cairo_pdf_surface_create_for_stream(append, &bytes, page.width * inch, page.height * inch));
        cairo_pdf_surface_restrict_to_version(surface.get(), CAIRO_PDF_VERSION_1_5);
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE,
                                       "Card for photographing fabrics");
        // One day for all: the clock would change the bytes.
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
        const Pen pen(cairo_create(surface.get()));
        Canvas canvas(pen.get());
        const Point corner{(page.width - card.width) / 2 * inch, (page.height - card.height) / 4 * inch};
        canvas.moved(corner, 0, [&] { draw_card(canvas, card); });
        cairo_show_page(pen.get());
        cairo_surface_finish(surface.get());
        expects(cairo_status(pen.get()) == CAIRO_STATUS_SUCCESS);
    }
    return bytes;
}

photo::Raster draw_found(const photo::LinearImage& picture, std::span<const scene::Quad> pieces,
                         const std::vector<std::string>& names) {
    expects(pieces.size() == names.size());
    photo::Raster out{picture.width, picture.height, 3, {}};
    out.pixels.reserve(picture.pixels.size());
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height));
    expects(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    unsigned char* data = cairo_image_surface_get_data(surface.get());
    const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface.get()));
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) {
            const float* pixel = picture.pixels.data() +
                                 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                      static_cast<std::size_t>(x));
            const colour::Srgb code = colour::srgb({pixel[0], pixel[1], pixel[2]});
            const std::uint32_t word = static_cast<std::uint32_t>(code.r) << 16 |
                                       static_cast<std::uint32_t>(code.g) << 8 |
                                       static_cast<std::uint32_t>(code.b);
            *reinterpret_cast<std::uint32_t*>(data + static_cast<std::size_t>(y) * stride +
                                              4 * static_cast<std::size_t>(x)) = word;
        }
    cairo_surface_mark_dirty(surface.get());
    const Pen pen(cairo_create(surface.get()));
    Canvas canvas(pen.get());
    const double size = std::max(11.0, std::max(picture.width, picture.height) / 55.0);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        std::vector<Point> outline;
        Point middle{};
        for (const scene::Point& corner : pieces[i]) {
            outline.push_back({corner.x, corner.y});
            middle.x += corner.x / 4;
            middle.y += corner.y / 4;
        }
        canvas.outline(outline, std::nullopt, {size / 4, inks::paper});
        canvas.outline(outline, std::nullopt, {size / 9, black});
        const std::string words = fmt::format("{}  {}", i + 1, names[i]);
        const Type type{.size = size, .bold = true, .ink = black, .side = Side::middle};
        const double wide = Canvas::width_of(words, type) / 2 + size / 2;
        canvas.box({middle.x - wide, middle.y - size, middle.x + wide, middle.y + size}, inks::paper,
                   no_stroke, size / 3);
        canvas.write({middle.x, middle.y}, words, type, Hold::middle);
    }
    cairo_surface_flush(surface.get());
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x) {
            const std::uint32_t word = *reinterpret_cast<const std::uint32_t*>(
                data + static_cast<std::size_t>(y) * stride + 4 * static_cast<std::size_t>(x));
            for (const int shift : {16, 8, 0})
                out.pixels.push_back(static_cast<std::uint8_t>(word >> shift & 0xff));
        }
    return out;
}

} // namespace motley::render
