// The sheet of candidates: small tops on one wall, each with its number and its scores beneath.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "fault/fault.h"
#include "render/draft.h"
#include "render/hang.h"
#include "render/pen.h"
#include "render/tone.h"

namespace motley::render {

namespace {

constexpr int tile_side = 520; ///< Of a small top.
constexpr int wall = 44;       ///< Around each.
constexpr int caption = 84;    ///< Height of the words beneath one.
constexpr int heading = 132;

/// Words drawn onto a raster.
class Lettering {
public:
    Lettering(int width, int height)
        : surface_(cairo_image_surface_create(CAIRO_FORMAT_A8, width, height)),
          pen_(cairo_create(surface_.get())) {
        expects(cairo_status(pen_.get()) == CAIRO_STATUS_SUCCESS);
    }

    /// At most `room` pixels wide, then cut with an ellipsis; the words' top left corner at (x, y). How wide
    /// they came out.
    int write(const std::string& words, double pixels, bool bold, int x, int y, int room, double ink = 1) {
        const Words layout = lettered(pen_.get(), words, pixels, bold);
        pango_layout_set_width(layout.get(), room * PANGO_SCALE);
        pango_layout_set_ellipsize(layout.get(), PANGO_ELLIPSIZE_END);
        pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
        cairo_set_source_rgba(pen_.get(), 0, 0, 0, ink);
        cairo_move_to(pen_.get(), x, y);
        pango_cairo_show_layout(pen_.get(), layout.get());
        return size_of(layout.get()).width;
    }

    /// Lays the words over a raster of the same size, in a dark warm grey.
    void print_on(photo::Raster& sheet) {
        cairo_surface_flush(surface_.get());
        const unsigned char* ink = cairo_image_surface_get_data(surface_.get());
        const auto stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface_.get()));
        constexpr int dark[3] = {52, 48, 44};
        std::uint8_t* out = sheet.pixels.data();
        for (std::size_t y = 0; y < static_cast<std::size_t>(sheet.height); ++y)
            for (std::size_t x = 0; x < static_cast<std::size_t>(sheet.width); ++x)
                for (const int tone : dark) {
                    const int covered = ink[y * stride + x];
                    *out = static_cast<std::uint8_t>((tone * covered + *out * (255 - covered) + 127) / 255);
                    ++out;
                }
    }

private:
    Surface surface_;
    Pen pen_;
};

/// "spread 0.28 · colour 0.61 · value 0.006": two figures that count, for each.
std::string scores(const layout::Score& score) {
    std::string words;
    const auto add = [&](const char* name, const std::optional<double>& ratio) {
        if (!ratio) return;
        if (!words.empty()) words += "  ·  ";
        words +=
            *ratio >= 0.095 ? fmt::format("{} {:.2f}", name, *ratio) : fmt::format("{} {:.3f}", name, *ratio);
    };
    add("spread", score.spread);
    add("colour", score.colour);
    add("value", score.value);
    return words.empty() ? "too small to score" : words;
}

/// Puts a small picture onto the sheet.
void paste(const photo::Raster& small, photo::Raster& sheet, int x, int y) {
    const std::size_t line = static_cast<std::size_t>(small.width) * 3;
    for (int row = 0; row < small.height; ++row)
        std::copy_n(&small.pixels[static_cast<std::size_t>(row) * line], line,
                    &sheet.pixels[(static_cast<std::size_t>(y + row) * static_cast<std::size_t>(sheet.width) +
                                   static_cast<std::size_t>(x)) *
                                  3]);
}

/// How many tops stand side by side: the sheet as near to a 4 : 3 page as may be.
int columns_for(int count, int width, int height) {
    int best = 1;
    double least = 1e300;
    for (int columns = 1; columns <= count; ++columns) {
        const int rows = (count + columns - 1) / columns;
        const double off = std::abs(std::log(static_cast<double>(columns) * width /
                                             (static_cast<double>(rows) * height) / (4.0 / 3.0)));
        const double empty = static_cast<double>(columns * rows - count) / count;
        if (off + empty < least) {
            least = off + empty;
            best = columns;
        }
    }
    return best;
}

} // namespace

photo::Raster draw_candidates(const std::vector<layout::Layout>& layouts, const std::vector<Cloth>& cloths,
                              const Options& options) {
    expects(!layouts.empty());
    const int side = std::min(options.longest_side, tile_side);
    std::vector<photo::Raster> tops;
    int width = 360, height = 0; // Room for a line of scores, even beneath a narrow top.
    const Scale scale = scale_of(layouts.front().plan, side);
    std::vector<Draft> drafts;
    for (const layout::Layout& layout : layouts) drafts.emplace_back(layout, scale);
    const Bolts bolts = unroll_to_hang(drafts, cloths, options.threads);
    for (const Draft& draft : drafts) {
        tops.push_back(hang(draft, bolts, wall, options.threads));
        width = std::max(width, tops.back().width);
        height = std::max(height, tops.back().height);
    }
    height += caption;
    const int count = static_cast<int>(layouts.size());
    const int columns = columns_for(count, width, height);
    const int rows = (count + columns - 1) / columns;
    photo::Raster sheet{columns * width, heading + rows * height + wall / 2, 3, {}};
    const auto pixels = static_cast<std::size_t>(sheet.width) * static_cast<std::size_t>(sheet.height);
    sheet.pixels.reserve(pixels * 3);
    const Tones& tone = tones();
    for (std::size_t i = 0; i < pixels; ++i)
        for (const float light : wall_light) sheet.pixels.push_back(tone.code(light));

    Lettering lettering(sheet.width, sheet.height);
    const int room = sheet.width - 2 * wall;
    const std::string name = layouts.front().plan.name.empty() ? "Candidates" : layouts.front().plan.name;
    lettering.write(name, 34, true, wall, 38, room);
    lettering.write("Scores: lower is better; a random shuffle scores 1.", 19, false, wall, 88, room, 0.75);
    for (int i = 0; i < count; ++i) {
        const photo::Raster& top = tops[static_cast<std::size_t>(i)];
        const int x = i % columns * width, y = heading + i / columns * height;
        paste(top, sheet, x + (width - top.width) / 2, y);
        const int left = x + (width - top.width) / 2 + wall;
        const int words = y + top.height - wall + 30;
        const int wide = lettering.write(fmt::format("{}", i + 1), 34, true, left, words, 120);
        lettering.write(scores(layouts[static_cast<std::size_t>(i)].score), 17, false, left + wide + 16,
                        words + 16, x + width - left - wide - 20, 0.85);
    }
    lettering.print_on(sheet);
    return sheet;
}

} // namespace motley::render
