#include "render/pen.h"

namespace motley::render {

namespace {

using Font = std::unique_ptr<PangoFontDescription, Free<PangoFontDescription, pango_font_description_free>>;
using FontOptions =
    std::unique_ptr<cairo_font_options_t, Free<cairo_font_options_t, cairo_font_options_destroy>>;

} // namespace

Words lettered(cairo_t* pen, const std::string& words, double pixels, bool bold) {
    Words layout(pango_cairo_create_layout(pen));
    const FontOptions options(cairo_font_options_create());
    cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
    PangoContext* context = pango_layout_get_context(layout.get());
    pango_cairo_context_set_font_options(context, options.get());
    pango_cairo_context_set_resolution(context, 72);
    const Font font(pango_font_description_new());
    pango_font_description_set_family(font.get(), "DejaVu Sans");
    pango_font_description_set_weight(font.get(), bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font.get(), pixels * PANGO_SCALE);
    pango_layout_set_font_description(layout.get(), font.get());
    pango_layout_set_text(layout.get(), words.c_str(), static_cast<int>(words.size()));
    return layout;
}

Size size_of(PangoLayout* words) {
    Size size;
    pango_layout_get_pixel_size(words, &size.width, &size.height);
    return size;
}

} // namespace motley::render
