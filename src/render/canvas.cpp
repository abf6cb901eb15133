#include "render/canvas.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <vector>

#include "fault/fault.h"
#include "photo/encode_jpeg.h"
#include "render/typeset.h"

namespace motley::render {

void Canvas::use(Ink ink) {
    cairo_set_source_rgb(pen_, ink.r, ink.g, ink.b);
}

void Canvas::trace(std::span<const unit::Point> corners) {
    cairo_new_path(pen_);
    for (const unit::Point corner : corners) cairo_line_to(pen_, corner.x, corner.y);
    cairo_close_path(pen_);
}

void Canvas::stroke(const Stroke& stroke) {
    if (stroke.width <= 0) {
        cairo_new_path(pen_);
        return;
    }
    const double dashes[] = {std::max(1.5, stroke.width * 4), std::max(1.2, stroke.width * 3)};
    if (stroke.dashed) cairo_set_dash(pen_, dashes, 2, 0);
    use(stroke.ink);
    cairo_set_line_width(pen_, stroke.width);
    cairo_stroke(pen_);
    if (stroke.dashed) cairo_set_dash(pen_, nullptr, 0, 0);
}

void Canvas::line(unit::Point from, unit::Point to, const Stroke& with) {
    cairo_move_to(pen_, from.x, from.y);
    cairo_line_to(pen_, to.x, to.y);
    stroke(with);
}

void Canvas::outline(std::span<const unit::Point> corners, std::optional<Ink> fill, const Stroke& with) {
    trace(corners);
    if (fill) {
        use(*fill);
        cairo_fill_preserve(pen_);
    }
    stroke(with);
}

void Canvas::box(const unit::Box& box, std::optional<Ink> fill, const Stroke& with, double round) {
    if (round <= 0) {
        outline(box.outline(), fill, with);
        return;
    }
    constexpr double quarter = 1.5707963267948966;
    cairo_new_path(pen_);
    cairo_arc(pen_, box.right - round, box.top + round, round, -quarter, 0);
    cairo_arc(pen_, box.right - round, box.bottom - round, round, 0, quarter);
    cairo_arc(pen_, box.left + round, box.bottom - round, round, quarter, 2 * quarter);
    cairo_arc(pen_, box.left + round, box.top + round, round, 2 * quarter, 3 * quarter);
    cairo_close_path(pen_);
    if (fill) {
        use(*fill);
        cairo_fill_preserve(pen_);
    }
    stroke(with);
}

void Canvas::hatch(std::span<const unit::Point> corners, double apart, const Stroke& with) {
    if (corners.empty()) return;
    unit::Box around{corners[0].x, corners[0].y, corners[0].x, corners[0].y};
    for (const unit::Point corner : corners)
        around = {std::min(around.left, corner.x), std::min(around.top, corner.y),
                  std::max(around.right, corner.x), std::max(around.bottom, corner.y)};
    cairo_save(pen_);
    trace(corners);
    cairo_clip(pen_);
    for (double c = std::floor((around.left + around.top) / apart) * apart; c <= around.right + around.bottom;
         c += apart) {
        cairo_move_to(pen_, c - around.top, around.top);
        cairo_line_to(pen_, c - around.bottom, around.bottom);
    }
    stroke(with);
    cairo_restore(pen_);
}

void Canvas::arrowhead(unit::Point tip, unit::Point along, double length, Ink ink) {
    const unit::Point back = tip - along * length, aside{-along.y * length * 0.42, along.x * length * 0.42};
    const unit::Point corners[] = {tip, back + aside, back - aside};
    outline(corners, ink, no_stroke);
}

double Canvas::write(unit::Point at, const Text& text, const Type& type, Hold hold, double room) {
    const Words words = set_type(text, type, room);
    const Measure size = measure_of(words.get());
    constexpr double capitals = 0.36; // Half of their height, of the type's size: true of most faces.
    const double width = room > 0 ? room : size.width;
    const double x = type.side == Side::left    ? at.x
                     : type.side == Side::right ? at.x - width
                                                : at.x - width / 2;
    const double y = hold == Hold::top        ? at.y
                     : hold == Hold::baseline ? at.y - size.baseline
                                              : at.y + capitals * type.size - size.baseline;
    use(type.ink);
    cairo_move_to(pen_, x, y);
    pango_cairo_show_layout(pen_, words.get());
    cairo_new_path(pen_);
    return size.height;
}

void Canvas::picture(const photo::Raster& raster, const unit::Box& box) {
    expects(raster.width > 0 && raster.height > 0 && (raster.channels == 1 || raster.channels == 3));
    // The surface only says how large the picture is: what goes into the file is the JPEG.
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, raster.width, raster.height));
    expects(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    auto jpeg = std::make_unique<std::vector<std::byte>>(photo::encode_jpeg(raster));
    const auto* bytes = reinterpret_cast<const unsigned char*>(jpeg->data());
    const auto count = static_cast<unsigned long>(jpeg->size());
    const cairo_status_t kept = cairo_surface_set_mime_data(
        surface.get(), CAIRO_MIME_TYPE_JPEG, bytes, count,
        [](void* held) { delete static_cast<std::vector<std::byte>*>(held); }, jpeg.get());
    expects(kept == CAIRO_STATUS_SUCCESS);
    (void)jpeg.release(); // The surface's now.
    cairo_save(pen_);
    cairo_translate(pen_, box.left, box.top);
    cairo_scale(pen_, box.width() / raster.width, box.height() / raster.height);
    cairo_set_source_surface(pen_, surface.get(), 0, 0);
    cairo_rectangle(pen_, 0, 0, raster.width, raster.height);
    cairo_fill(pen_);
    cairo_restore(pen_);
}

void Canvas::moved(unit::Point to, double degrees, const std::function<void()>& draw) {
    cairo_save(pen_);
    cairo_translate(pen_, to.x, to.y);
    cairo_rotate(pen_, degrees * 3.141592653589793 / 180);
    draw();
    cairo_restore(pen_);
}

void Canvas::scaled(double times, const std::function<void()>& draw) {
    cairo_save(pen_);
    cairo_scale(pen_, times, times);
    draw();
    cairo_restore(pen_);
}

void Canvas::within(const unit::Box& box, const std::function<void()>& draw) {
    cairo_save(pen_);
    cairo_rectangle(pen_, box.left, box.top, box.width(), box.height());
    cairo_clip(pen_);
    draw();
    cairo_restore(pen_);
}

void Canvas::tagged(const char* tag, const std::function<void()>& draw, const std::string& attributes) {
    cairo_tag_begin(pen_, tag, attributes.c_str());
    draw();
    cairo_tag_end(pen_, tag);
}

void Canvas::figure(const std::string& alt, const std::function<void()>& draw) {
    alts_.push_back(alt);
    tagged("Figure", draw);
}

double Canvas::least_width(const Text& text, const Type& type) {
    return render::least_width(text, type);
}

double Canvas::width_of(const Text& text, const Type& type) {
    return measure_of(set_type(text, type).get()).width;
}

double Canvas::height_of(const Text& text, const Type& type, double room) {
    return measure_of(set_type(text, type, room).get()).height;
}

} // namespace motley::render
