#include "scene/on_card.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "colour/space.h"
#include "fault/fault.h"
#include "scene/cut.h"
#include "scene/ground.h"
#include "scene/outline.h"
#include "scene/warnings.h"

namespace motley::scene {

namespace {

constexpr double field_pixels = 64;     // Of the field looked at, to the inch.
constexpr double least_piece = 0.006;   // Of the field: 5/8 in square.
constexpr double clear_of_edges = 0.03; // Of a printed square, inches.

Area grown(const Area& area, double by) {
    return {area.x - by, area.y - by, area.width + 2 * by, area.height + 2 * by};
}

} // namespace

OnCard::OnCard(const Card& card, const Pose& pose, const photo::LinearImage& picture)
    : card_(card), pose_(pose), picture_(picture) {
    light_up(nullptr);
}

Rgb OnCard::seen_at(const Point& inches) const {
    return seen(picture_, pose_(inches));
}

Point OnCard::frame_at(const Point& inches) const {
    return in_frame(picture_, pose_(inches));
}

Rgb OnCard::colour_at(const Point& inches) const {
    const Point at = pose_(inches);
    return light_.reflectance(seen(picture_, at), in_frame(picture_, at));
}

Rgb OnCard::spot(const Area& area) const {
    constexpr int looks = 6;
    Rgb sum{};
    for (int row = 0; row < looks; ++row)
        for (int column = 0; column < looks; ++column) {
            const Rgb one = seen_at({area.x + area.width * (0.25 + 0.5 * (column + 0.5) / looks),
                                     area.y + area.height * (0.25 + 0.5 * (row + 0.5) / looks)});
            for (std::size_t c = 0; c < 3; ++c) sum[c] += one[c] / (looks * looks);
        }
    return sum;
}

Area OnCard::inner() const {
    return grown(*card_.field, -(rim / 2 + 0.03));
}

/// The white of the page around what is printed on it.
void OnCard::add_paper(std::vector<Known>& known) const {
    constexpr double side = 0.12;
    std::vector<Area> printed{grown(card_.ruler, 0.12), grown(card_.words, 0.05)};
    if (card_.field) printed.push_back(grown(*card_.field, rim));
    for (const Marker& marker : card_.markers) printed.push_back(grown(marker.area, 0.03));
    for (const Grey& grey : card_.ramp) printed.push_back(grown(grey.area, 0.03));
    const double edge = card_.kind == CardKind::small ? 0.04 : 0.2;
    for (double y = edge; y + side <= card_.height - edge; y += side)
        for (double x = edge; x + side <= card_.width - edge; x += side) {
            const bool clear = std::none_of(printed.begin(), printed.end(), [&](const Area& area) {
                return x + side > area.x && x < area.x + area.width && y + side > area.y &&
                       y < area.y + area.height;
            });
            if (!clear) continue;
            const Area place{x, y, side, side};
            known.push_back({frame_at({x + side / 2, y + side / 2}), spot(place), 1, 0.5});
        }
}

/// Whether a square of the field shows no cloth. Before anything is known, those along the rim are held to.
bool OnCard::bare(int column, int row, const Mask* lying) const {
    const int columns = static_cast<int>(std::lround(card_.field->width / checks));
    const int rows = static_cast<int>(std::lround(card_.field->height / checks));
    if (!lying) return column == 0 || row == 0 || column + 1 == columns || row + 1 == rows;
    const Area area = inner();
    const auto pixel = [&](double inches, double from, int most) {
        return std::clamp(static_cast<int>((inches - from) * field_pixels), 0, most - 1);
    };
    const double x = card_.field->x + column * checks, y = card_.field->y + row * checks;
    for (int j = pixel(y, area.y, lying->height); j <= pixel(y + checks, area.y, lying->height); j += 2)
        for (int i = pixel(x, area.x, lying->width); i <= pixel(x + checks, area.x, lying->width); i += 2)
            if (lying->on[lying->at(i, j)]) return false;
    return true;
}

void OnCard::add_checks(std::vector<Known>& known, const Mask* lying) const {
    const int columns = static_cast<int>(std::lround(card_.field->width / checks));
    const int rows = static_cast<int>(std::lround(card_.field->height / checks));
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            if ((column + row) % 2 == 1 || !bare(column, row, lying)) continue;
            const Area place{card_.field->x + column * checks, card_.field->y + row * checks, checks, checks};
            known.push_back({frame_at({place.x + checks / 2, place.y + checks / 2}), spot(place), 1, 1});
        }
}

/// What the grey squares came out as: printers differ.
void OnCard::find_tint(const Mask* lying) {
    const int columns = static_cast<int>(std::lround(card_.field->width / checks));
    const int rows = static_cast<int>(std::lround(card_.field->height / checks));
    std::array<std::vector<double>, 3> found;
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            if ((column + row) % 2 == 0 || !bare(column, row, lying)) continue;
            const Area place{card_.field->x + column * checks, card_.field->y + row * checks, checks, checks};
            const Rgb grey =
                light_.reflectance(spot(place), frame_at({place.x + checks / 2, place.y + checks / 2}));
            for (std::size_t c = 0; c < 3; ++c) found[c].push_back(grey[c]);
        }
    for (std::size_t c = 0; c < 3; ++c) tint_[c] = found[c].empty() ? colour::decode(tint) : median(found[c]);
}

void OnCard::light_up(const Mask* lying) {
    std::vector<Known> known;
    for (const Grey& grey : card_.ramp)
        known.push_back({frame_at({grey.area.x + grey.area.width / 2, grey.area.y + grey.area.height / 2}),
                         spot(grey.area), colour::decode(grey.code), 4});
    add_paper(known);
    if (card_.field) add_checks(known, lying);
    light_ = find_light(known, {.degree = card_.field ? 3 : 1, .tone = true, .start = nullptr});
    if (card_.field) find_tint(lying);
}

Rgb OnCard::printed_at(const Point& inches, double blur) const {
    // Distance from the nearest line between squares, each way; the print turns over that line within `blur`.
    const auto swing = [&](double along) {
        const double place = along / checks, whole = std::floor(place), part = (place - whole) * checks;
        const double sign = std::fmod(std::abs(whole), 2.0) == 0 ? 1.0 : -1.0;
        const double near = std::min(part, checks - part);
        const double swung = near >= blur ? 1 : std::sin(near / blur * 1.5707963267948966);
        return sign * swung;
    };
    const double turn =
        swing(inches.x - card_.field->x) * swing(inches.y - card_.field->y); // 1 white, -1 grey.
    Rgb out;
    for (std::size_t c = 0; c < 3; ++c) out[c] = tint_[c] + (1 - tint_[c]) * (1 + turn) / 2;
    return out;
}

photo::LinearImage OnCard::even_field() const {
    const Area area = inner();
    const auto held = [&](double at, double from) { // Into its square, clear of the lines.
        const double whole = std::floor((at - from) / checks) * checks + from;
        return std::clamp(at, whole + clear_of_edges, whole + checks - clear_of_edges);
    };
    const int width = static_cast<int>(area.width * field_pixels),
              height = static_cast<int>(area.height * field_pixels);
    return painted(width, height, [&](const Point& share) {
        const Point inches{held(area.x + share.x * area.width, card_.field->x),
                           held(area.y + share.y * area.height, card_.field->y)};
        Rgb out = colour_at(inches);
        if (tinted(*card_.field, inches))
            for (std::size_t c = 0; c < 3; ++c) out[c] /= tint_[c];
        return out;
    });
}

Mask OnCard::lying() const {
    return lying_on(even_field(), std::max(0.012, light_.spread), 0.008, 0.02);
}

Piece OnCard::piece(const Quad& inches, double margin) const {
    const double across = (length(inches[1] - inches[0]) + length(inches[2] - inches[3])) / 2;
    const double down = (length(inches[3] - inches[0]) + length(inches[2] - inches[1])) / 2;
    const Point middle = (inches[0] + inches[1] + inches[2] + inches[3]) * 0.25;
    const double ppi = std::max(pose_.pixels_per_inch(middle), 8.0);
    Piece out;
    out.width = across;
    out.height = down;
    const double inner_width = across - 2 * margin, inner_height = down - 2 * margin;
    out.kept = inner_width / across;
    const Quad square{{{0, 0}, {across, 0}, {across, down}, {0, down}}};
    const auto lies = homography(square, inches);
    expects(lies.has_value());
    const int width = std::max(16, static_cast<int>(std::lround(inner_width * ppi)));
    const int height = std::max(16, static_cast<int>(std::lround(inner_height * ppi)));
    out.picture = painted(width, height, [&](const Point& share) {
        Rgb colour = colour_at((*lies)({margin + share.x * inner_width, margin + share.y * inner_height}));
        for (double& channel : colour) channel *= paper_white;
        return colour;
    });
    out.pixels_per_inch = width / inner_width;
    for (std::size_t i = 0; i < 4; ++i) out.corners[i] = pose_(inches[i]);
    return out;
}

std::vector<Piece> OnCard::pieces(const Options& options) {
    if (!card_.field) return beside(options);
    Mask mask = lying();
    light_up(&mask);
    mask = lying();
    const Area area = inner();
    const auto inches_of = [&](const Point& pixel) {
        return Point{area.x + pixel.x / mask.width * area.width,
                     area.y + pixel.y / mask.height * area.height};
    };
    std::vector<Piece> out;
    for (const Outline& rough : rough_outlines(mask, least_piece, options.split).pieces) {
        const Point middle = inches_of((rough.corners[0] + rough.corners[2]) * 0.5);
        const double ppi = pose_.pixels_per_inch(middle);
        const Sampler sampler = [&](const Point& pixel) {
            const Point inches = inches_of(pixel);
            Rgb colour = colour_at(inches);
            const Rgb print = printed_at(inches, 0.9 / ppi);
            for (std::size_t c = 0; c < 3; ++c) colour[c] /= print[c];
            return colour;
        };
        const double grain = std::max(0.5, field_pixels / ppi);
        const double limit = std::max(0.08, 4 * light_.spread);
        const Outline once =
            refined(rough, sampler,
                    {0.30 * field_pixels, grain, field_pixels / ppi, limit, 0.06 * field_pixels, 1.0});
        const Outline outline =
            refined(once, sampler,
                    {0.12 * field_pixels, grain / 2, field_pixels / ppi, limit, 0.05 * field_pixels, 1.0});
        Quad inches;
        for (std::size_t i = 0; i < 4; ++i) inches[i] = inches_of(outline.corners[i]);
        const double shorter = std::min(length(inches[1] - inches[0]), length(inches[3] - inches[0]));
        if (shorter < 0.4) continue;
        Piece found = piece(inches, std::clamp(0.025 * shorter, 0.04, 0.1));
        const Shading shading = shading_of(found.picture, 0);
        found.mean = shading.mean;
        found.width *= options.true_inch;
        found.height *= options.true_inch;
        found.pixels_per_inch /= options.true_inch;
        const Signs signs{.brightness = luminance(light_.field(frame_at(middle))),
                          .blown = blown_share(picture_, found.corners),
                          .softness = outline.softness * ppi / field_pixels,
                          .rims = outline.rims,
                          .bowed = 0, // The card's own frame tells that.
                          .shaded = shading.shaded,
                          .straight = outline.straight};
        found.warnings = warnings_of(signs);
        found.confidence = 0.97 * (0.6 + 0.4 * outline.straight) *
                           std::pow(0.85, static_cast<double>(found.warnings.size()));
        out.push_back(std::move(found));
    }
    return out;
}

/// The card lies on the cloth: what is beside it, in the card's own directions.
std::vector<Piece> OnCard::beside(const Options& options) const {
    constexpr double clear = 0.1, step = 0.125;
    const auto shown = [&](const Area& area) {
        for (const Point& corner : area.corners()) {
            const Point at = pose_(corner);
            if (at.x < 2 || at.y < 2 || at.x > picture_.width - 2 || at.y > picture_.height - 2) return false;
        }
        return true;
    };
    const auto grow = [&](Area area) {
        for (bool grew = true; grew;) {
            grew = false;
            for (const Area& more : {Area{area.x - step, area.y, area.width + step, area.height},
                                     Area{area.x, area.y, area.width + step, area.height},
                                     Area{area.x, area.y - step, area.width, area.height + step},
                                     Area{area.x, area.y, area.width, area.height + step}}) {
                const bool on_card = more.x < card_.width + clear && more.x + more.width > -clear &&
                                     more.y < card_.height + clear && more.y + more.height > -clear;
                if (on_card || more.width > 60 || more.height > 60 || !shown(more)) continue;
                area = more;
                grew = true;
            }
        }
        return area;
    };
    Area best;
    for (const Area& seed : {Area{-0.75, 1, 0.5, 0.5}, Area{card_.width + 0.25, 1, 0.5, 0.5},
                             Area{1.5, -0.75, 0.5, 0.5}, Area{1.5, card_.height + 0.25, 0.5, 0.5}}) {
        if (!shown(seed)) continue;
        const Area area = grow(seed);
        if (area.width * area.height > best.width * best.height) best = area;
    }
    if (best.width * best.height < 1) return {};
    Piece found = piece(best.corners(), 0);
    const Shading shading = shading_of(found.picture, 1);
    found.mean = shading.mean;
    found.width *= options.true_inch;
    found.height *= options.true_inch;
    found.pixels_per_inch /= options.true_inch;
    found.warnings =
        warnings_of({.brightness = luminance(light_.field(frame_at({card_.width / 2, card_.height / 2}))),
                     .blown = blown_share(picture_, found.corners),
                     .shaded = shading.shaded});
    found.confidence = 0.85 * std::pow(0.85, static_cast<double>(found.warnings.size()));
    std::vector<Piece> out;
    out.push_back(std::move(found));
    return out;
}

} // namespace motley::scene
