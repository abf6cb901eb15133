// The pages written as a PDF by cairo.
#include <cairo-pdf.h>
#include <fmt/format.h>

#include "fault/fault.h"
#include "render/page.h"
#include "render/pdf_notes.h"
#include "render/pen.h"

namespace motley::render {

namespace {

cairo_status_t append(void* to, const unsigned char* data, unsigned int count) {
    auto& bytes = *static_cast<std::vector<std::byte>*>(to);
    const auto* first = reinterpret_cast<const std::byte*>(data);
    bytes.insert(bytes.end(), first, first + count);
    return CAIRO_STATUS_SUCCESS;
}

std::string target(std::size_t mark) {
    return fmt::format("'place-{}'", mark);
}

} // namespace

void Pages::draw_contents(Canvas& canvas, const std::string& part, const Type& type) const {
    std::size_t mark = 0;
    while (mark < marks_.size() && (marks_[mark].under || marks_[mark].name != part)) ++mark;
    if (mark == marks_.size()) return; // A part that this quilt does not need.
    const double wide = reading_width(), base = type.size * 1.2;
    const std::string number = std::to_string(marks_[mark].page + 1);
    canvas.tagged(
        "Link",
        [&] {
            Type figures = type;
            figures.side = Side::right;
            canvas.write({0, base}, part, type, Hold::baseline);
            canvas.write({wide, base}, number, figures, Hold::baseline);
        },
        "dest=" + target(mark));
    const double from = Canvas::width_of(part, type) + 6, to = wide - Canvas::width_of(number, type) - 6;
    if (to > from) canvas.line({from, base - 1}, {to, base - 1}, {0.5, inks::hairline});
}

void Pages::draw_page(Canvas& canvas, std::size_t number) const {
    const Page& page = pages_[number];
    for (const Placed& placed : page.placed) {
        const auto draw = [&] { canvas.moved(placed.at, 0, [&] { placed.block->draw(canvas); }); };
        if (placed.mark >= 0)
            canvas.tagged("cairo.dest", draw, "name=" + target(static_cast<std::size_t>(placed.mark)));
        else
            draw();
    }
    Type type = types_.small;
    const double left = setup_.margin, right = setup_.width - setup_.margin;
    if (number > 0) {
        type.side = Side::right;
        canvas.write({right, setup_.margin - 8 + lower()}, page.part, type, Hold::baseline);
        type.side = Side::left;
        // What is left of the line for the title.
        const double free = room() - Canvas::width_of(page.part, type) - 20;
        std::string title = setup_.title;
        while (!title.empty() && Canvas::width_of(title + "…", type) > free) {
            do title.pop_back();
            while (!title.empty() && (static_cast<unsigned char>(title.back()) & 0xc0) == 0x80);
            if (!title.empty() && (static_cast<unsigned char>(title.back()) & 0xc0) == 0xc0) title.pop_back();
        }
        canvas.write({left, setup_.margin - 8 + lower()}, title == setup_.title ? title : title + "…", type,
                     Hold::baseline);
        canvas.line({left, setup_.margin - 2 + lower()}, {right, setup_.margin - 2 + lower()},
                    {0.4, inks::hairline});
    }
    type.side = Side::middle;
    canvas.write({setup_.width / 2, setup_.height - setup_.margin + 8 - lower()},
                 fmt::format("{} of {}", number + 1, pages_.size()), type, Hold::baseline);
}

std::vector<std::byte> Pages::print() {
    finish_headings();
    std::vector<std::byte> bytes;
    std::vector<std::string> alts;
    {
        const Surface surface(
            cairo_pdf_surface_create_for_stream(append, &bytes, setup_.width, setup_.height));
        cairo_pdf_surface_restrict_to_version(surface.get(), CAIRO_PDF_VERSION_1_5);
        const auto note = [&](cairo_pdf_metadata_t what, const std::string& words) {
            cairo_pdf_surface_set_metadata(surface.get(), what, words.c_str());
        };
        note(CAIRO_PDF_METADATA_TITLE, setup_.title);
        note(CAIRO_PDF_METADATA_SUBJECT, setup_.subject);
        note(CAIRO_PDF_METADATA_AUTHOR, setup_.author);
        note(CAIRO_PDF_METADATA_CREATOR, setup_.author);
        // One day for all: the clock would change the bytes.
        note(CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
        const Pen pen(cairo_create(surface.get()));
        Canvas canvas(pen.get());
        int part = CAIRO_PDF_OUTLINE_ROOT;
        for (std::size_t m = 0; m < marks_.size(); ++m) {
            const int made = cairo_pdf_surface_add_outline(
                surface.get(), marks_[m].under ? part : CAIRO_PDF_OUTLINE_ROOT, marks_[m].name.c_str(),
                ("dest=" + target(m)).c_str(), static_cast<cairo_pdf_outline_flags_t>(0));
            if (!marks_[m].under) part = made;
        }
        cairo_tag_begin(pen.get(), "Document", nullptr);
        for (std::size_t page = 0; page < pages_.size(); ++page) {
            cairo_pdf_surface_set_page_label(surface.get(), std::to_string(page + 1).c_str());
            draw_page(canvas, page);
            cairo_show_page(pen.get());
        }
        cairo_tag_end(pen.get(), "Document");
        alts = canvas.alts();
        cairo_surface_finish(surface.get());
        expects(cairo_status(pen.get()) == CAIRO_STATUS_SUCCESS);
        expects(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    }
    return with_notes(std::move(bytes), setup_.language, alts);
}

} // namespace motley::render
