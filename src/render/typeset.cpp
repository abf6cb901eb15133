#include "render/typeset.h"

#include <algorithm>
#include <cctype>
#include <string_view>

namespace motley::render {

namespace {

using Font = std::unique_ptr<PangoFontDescription, Free<PangoFontDescription, pango_font_description_free>>;
using Attributes = std::unique_ptr<PangoAttrList, Free<PangoAttrList, pango_attr_list_unref>>;
using FontOptions =
    std::unique_ptr<cairo_font_options_t, Free<cairo_font_options_t, cairo_font_options_destroy>>;

struct Unref {
    void operator()(PangoContext* context) const { g_object_unref(context); }
};

/// One for each thread: making one looks through the fonts.
PangoContext* context() {
    thread_local const std::unique_ptr<PangoContext, Unref> one = [] {
        std::unique_ptr<PangoContext, Unref> made(
            pango_font_map_create_context(pango_cairo_font_map_get_default()));
        const FontOptions options(cairo_font_options_create());
        cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
        cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
        cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
        pango_cairo_context_set_font_options(made.get(), options.get());
        pango_cairo_context_set_resolution(made.get(), 72);
        pango_context_set_round_glyph_positions(made.get(), FALSE);
        // Not the machine's: what it prefers would choose other faces for other scripts.
        pango_context_set_language(made.get(), pango_language_from_string("en"));
        return made;
    }();
    return one.get();
}

void insert(PangoAttrList* list, PangoAttribute* attribute, std::size_t from, std::size_t to) {
    attribute->start_index = static_cast<guint>(from);
    attribute->end_index = static_cast<guint>(to);
    pango_attr_list_insert(list, attribute);
}

bool digit(const std::string& words, std::size_t at) {
    return at < words.size() && words[at] >= '0' && words[at] <= '9';
}

/// Figures of one width and height everywhere, so that columns stand; "1/2" as a true fraction. No ligatures:
/// some readers cannot search for words that have them.
void set_figures(PangoAttrList* list, const std::string& words) {
    std::size_t done = 0;
    for (std::size_t slash = words.find('/'); slash != std::string::npos;
         slash = words.find('/', slash + 1)) {
        std::size_t from = slash, to = slash + 1;
        while (from > done && digit(words, from - 1)) --from;
        while (digit(words, to)) ++to;
        if (from == slash || to == slash + 1 || to - from > 6) continue;
        if (from > done) insert(list, pango_attr_font_features_new("tnum=1, lnum=1, liga=0"), done, from);
        insert(list, pango_attr_font_features_new("frac=1, lnum=1"), from, to);
        done = to;
    }
    if (done < words.size())
        insert(list, pango_attr_font_features_new("tnum=1, lnum=1, liga=0"), done, words.size());
}

bool unit_at(const std::string& words, std::size_t at) {
    for (const std::string_view unit : {"in", "cm", "mm", "yd", "m", "×"})
        if (words.compare(at, unit.size(), unit) == 0 &&
            (at + unit.size() == words.size() ||
             !std::isalpha(static_cast<unsigned char>(words[at + unit.size()]))))
            return true;
    return false;
}

/// "6 1/2 in" stays on one line, and so does "A/C".
void keep_sizes_whole(PangoAttrList* list, const std::string& words) {
    for (std::size_t space = words.find(' '); space != std::string::npos;
         space = words.find(' ', space + 1)) {
        if (space >= 4 && words.compare(space - 2, 2, "×") == 0 && words[space - 3] == ' ' &&
            digit(words, space - 4)) // "3 × A/C": so many of them.
            insert(list, pango_attr_allow_breaks_new(FALSE), space - 2, space + 2);
        if (space == 0 || !digit(words, space - 1)) continue;
        std::size_t next = space + 1;
        while (digit(words, next)) ++next;
        const bool fraction = next > space + 1 && next < words.size() && words[next] == '/';
        if (fraction || unit_at(words, space + 1))
            insert(list, pango_attr_allow_breaks_new(FALSE), space - 1, space + 2);
    }
    for (std::size_t slash = words.find('/'); slash != std::string::npos; slash = words.find('/', slash + 1))
        if (slash > 0 && slash + 1 < words.size() &&
            std::isalnum(static_cast<unsigned char>(words[slash - 1])) &&
            std::isalnum(static_cast<unsigned char>(words[slash + 1])))
            insert(list, pango_attr_allow_breaks_new(FALSE), slash - 1, slash + 2);
}

} // namespace

Words set_type(const Text& text, const Type& type, double room) {
    Words layout(pango_layout_new(context()));
    const Font font(pango_font_description_new());
    pango_font_description_set_family(font.get(), type.display ? "Linux Libertine O" : "Lato");
    pango_font_description_set_weight(font.get(), type.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_style(font.get(), type.italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
    pango_font_description_set_absolute_size(font.get(), type.size * PANGO_SCALE);
    pango_layout_set_font_description(layout.get(), font.get());
    const std::string words = text.words();
    pango_layout_set_text(layout.get(), words.c_str(), static_cast<int>(words.size()));
    const Attributes attributes(pango_attr_list_new());
    std::size_t at = 0;
    for (const Run& run : text.runs()) {
        if (run.bold)
            insert(attributes.get(), pango_attr_weight_new(PANGO_WEIGHT_BOLD), at, at + run.words.size());
        at += run.words.size();
    }
    set_figures(attributes.get(), words);
    keep_sizes_whole(attributes.get(), words);
    pango_layout_set_attributes(layout.get(), attributes.get());
    pango_layout_set_line_spacing(layout.get(), static_cast<float>(type.leading));
    // Where a script reads from the right, "left" is where its lines begin; on these pages it is a side.
    pango_layout_set_auto_dir(layout.get(), FALSE);
    pango_layout_set_alignment(layout.get(), type.side == Side::middle  ? PANGO_ALIGN_CENTER
                                             : type.side == Side::right ? PANGO_ALIGN_RIGHT
                                                                        : PANGO_ALIGN_LEFT);
    if (room > 0) {
        pango_layout_set_width(layout.get(), static_cast<int>(room * PANGO_SCALE));
        pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
    }
    return layout;
}

Measure measure_of(PangoLayout* words) {
    PangoRectangle box;
    pango_layout_get_extents(words, nullptr, &box);
    constexpr double points = 1.0 / PANGO_SCALE;
    return {box.width * points, box.height * points, pango_layout_get_baseline(words) * points};
}

double least_width(const Text& text, const Type& type) {
    const Words words = set_type(text, type);
    pango_layout_set_wrap(words.get(), PANGO_WRAP_WORD);
    pango_layout_set_width(words.get(), 1);
    return measure_of(words.get()).width;
}

} // namespace motley::render
