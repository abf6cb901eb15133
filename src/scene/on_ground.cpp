#include "scene/on_ground.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "scene/card.h"
#include "scene/cut.h"
#include "scene/ground.h"
#include "scene/outline.h"
#include "scene/shade.h"
#include "scene/warnings.h"

namespace motley::scene {

namespace {

constexpr int finding_side = 1024; // Longest side of the picture that outlines are looked for in, pixels.

/// A ground, evened, with what lies on it.
struct Bed {
    photo::LinearImage picture; ///< Small.
    Ground ground;
    Mask lying;
    Outlines outlines;
    int several = 0; ///< Pieces that are smaller than asked for.
};

constexpr double colour_alone = 0.4; // No step is an edge: narrow gaps stay open, grey cloth may go unseen.

bool apart_from(const Outline& piece, const std::vector<Outline>& others) {
    return std::none_of(others.begin(), others.end(),
                        [&](const Outline& other) { return overlap(piece.corners, other.corners) > 0.02; });
}

double slimness(const Quad& quad) {
    const double across = length(quad[1] - quad[0]) + length(quad[2] - quad[3]);
    const double down = length(quad[3] - quad[0]) + length(quad[2] - quad[1]);
    return std::max(across / down, down / across);
}

/// Puts smaller outlines in the place of one that is several pieces in a row, and adds those of the usual
/// size where there was none. The stripes or squares of a print are no pieces: they leave more of it bare.
void take_apart(std::vector<Outline>& pieces, const std::vector<Outline>& smaller) {
    constexpr double covered = 0.72, slimmest = 2.5;
    std::vector<Outline> out;
    std::vector<double> sizes;
    for (const Outline& piece : pieces) {
        std::vector<Outline> parts;
        double sum = 0;
        for (const Outline& part : smaller) {
            const double share = overlap(part.corners, piece.corners);
            if (share < 0.03 || slimness(part.corners) > slimmest) continue;
            parts.push_back(part);
            sum += share;
        }
        if (parts.size() < 2 || sum < covered) parts = {piece};
        for (const Outline& part : parts) {
            out.push_back(part);
            sizes.push_back(area(part.corners));
        }
    }
    for (const Outline& part : smaller) {
        if (!apart_from(part, out) || slimness(part.corners) > slimmest) continue;
        const double usual = sizes.size() < 2 ? area(part.corners) : median(sizes);
        if (area(part.corners) > 0.4 * usual && area(part.corners) < 2.5 * usual) out.push_back(part);
    }
    pieces = std::move(out);
}

std::optional<Bed> bed_of(photo::LinearImage picture, double least) {
    const auto first = find_ground(picture);
    if (!first) return std::nullopt;
    Bed bed;
    bed.ground = *first;
    const bool many = least < 0.02; // Pieces may lie close.
    bed.lying = lying_on(evened(picture, bed.ground.light), bed.ground.spread, bed.ground.rough);
    bed.ground = better_ground(picture, bed.lying, bed.ground);
    const photo::LinearImage even = evened(picture, bed.ground.light);
    bed.lying = lying_on(even, bed.ground.spread, bed.ground.rough);
    bed.outlines = rough_outlines(bed.lying, least, many);
    if (!many) bed.several = static_cast<int>(rough_outlines(bed.lying, 0.006, false).pieces.size());
    auto& pieces = bed.outlines.pieces;
    if (many && bed.ground.spread < 0.03) {
        const Mask by_colour = lying_on(even, bed.ground.spread, bed.ground.rough, colour_alone);
        take_apart(pieces, rough_outlines(by_colour, least, true).pieces);
    }
    if (bed.ground.spread < 0.03 && (many || bed.several == 0)) {
        const Mask keen = lying_on(even, bed.ground.spread, bed.ground.rough, fine);
        for (const Outline& piece : rough_outlines(keen, least, many).pieces)
            if (apart_from(piece, pieces)) pieces.push_back(piece);
    }
    bed.picture = std::move(picture);
    return bed;
}

/// Whether a piece is a sheet of paper: smooth and bright along its sides. Gives its light.
std::optional<Ground> as_paper(const photo::LinearImage& picture, const Quad& quad) {
    const Quad square{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    const auto place = homography(square, quad);
    if (!place) return std::nullopt;
    const double across = length(quad[1] - quad[0]), down = length(quad[3] - quad[0]);
    const photo::LinearImage sheet =
        painted(std::max(64, static_cast<int>(across * 0.94)), std::max(64, static_cast<int>(down * 0.94)),
                [&](const Point& share) {
                    return seen(picture, (*place)({0.03 + 0.94 * share.x, 0.03 + 0.94 * share.y}));
                });
    const auto ground = find_ground(sheet);
    if (!ground || !ground->paper) return std::nullopt;
    return ground;
}

/// A way from a bed's pixels to those of the whole picture, and back for its light.
struct Way {
    Homography out;  ///< Bed to picture.
    Homography back; ///< Picture to bed.
};

/// Light on plain paper at a place of the bed.
Rgb shaded_light(const Bed& bed, const Shade& shade, const Point& pixel) {
    Rgb light = bed.ground.light.field(in_frame(bed.picture, pixel));
    const double left = shade.at(pixel);
    for (double& channel : light) channel *= left;
    return light;
}

double longest_side(const photo::LinearImage& picture) {
    return std::max(picture.width, picture.height);
}

/// Cuts one piece out. `light`: what the paper's light is at a place of the picture; where there is none the
/// colours stay as they are.
Piece cut_out(const photo::LinearImage& picture, const Outline& outline, const Quad& corners,
              const std::function<Rgb(const Point&)>* light, double softness, const Bed& bed) {
    Piece out;
    out.corners = corners;
    const double across = (length(corners[1] - corners[0]) + length(corners[2] - corners[3])) / 2;
    const double down = (length(corners[3] - corners[0]) + length(corners[2] - corners[1])) / 2;
    const double aspect = aspect_of(corners, picture);
    // As many pixels as the picture has of it.
    const double width = std::max(across, down * aspect), height = width / aspect;
    const double margin = std::max(2.5, 0.025 * std::min(width, height));
    const double inner_width = std::max(16.0, width - 2 * margin),
                 inner_height = std::max(16.0, height - 2 * margin);
    const Quad flat{{{0, 0}, {width, 0}, {width, height}, {0, height}}};
    const auto place = homography(flat, corners);
    if (!place) return out;
    out.kept = std::min(1.0, inner_width / width);
    out.picture = painted(static_cast<int>(std::lround(inner_width)),
                          static_cast<int>(std::lround(inner_height)), [&](const Point& share) {
                              const Point at =
                                  (*place)({(width - inner_width) / 2 + share.x * inner_width,
                                            (height - inner_height) / 2 + share.y * inner_height});
                              Rgb colour = seen(picture, at);
                              if (!light) return colour;
                              const Rgb white = (*light)(at);
                              for (std::size_t c = 0; c < 3; ++c) colour[c] *= paper_white / white[c];
                              return colour;
                          });
    const Shading shading = shading_of(out.picture, light ? 0 : 1);
    out.mean = shading.mean;
    out.warnings = warnings_of({.brightness = brightest(bed.picture),
                                .blown = blown_share(picture, corners),
                                .softness = softness * finding_side * 2 / longest_side(picture),
                                .rims = outline.rims,
                                .bowed = outline.bowed,
                                .shaded = shading.shaded,
                                .straight = outline.straight});
    out.confidence = (light ? 0.9 : 0.6) * (0.5 + 0.5 * outline.straight) *
                     std::pow(0.85, static_cast<double>(out.warnings.size()));
    return out;
}

/// The pieces on a bed, with sides found in the whole picture.
std::vector<Piece> pieces_on(const photo::LinearImage& picture, const Bed& bed, const Way& way,
                             const std::function<Rgb(const Point&)>* light) {
    std::vector<Piece> out;
    const Sampler sampler = [&](const Point& pixel) {
        Rgb colour = seen(picture, way.out(pixel));
        const Rgb ground = bed.ground.light.field(in_frame(bed.picture, pixel));
        for (std::size_t c = 0; c < 3; ++c) colour[c] /= ground[c];
        return colour;
    };
    for (const Outline& rough : bed.outlines.pieces) {
        const Point middle = (rough.corners[0] + rough.corners[2]) * 0.5;
        const double scale =
            length(way.out(middle + Point{1, 0}) - way.out(middle)); // Picture's pixels to one here.
        const double grain = std::max(0.35, 1 / scale);
        const double limit = std::max(0.045, 3.5 * bed.ground.spread);
        const Outline once = refined(rough, sampler, {6, grain, 1 / scale, limit, 1.5, 0.15});
        const Outline outline = refined(once, sampler, {4, grain / 2, 1 / scale, limit, 0.8, 0.15});
        Quad corners;
        for (std::size_t i = 0; i < 4; ++i) corners[i] = way.out(outline.corners[i]);
        Piece piece = cut_out(picture, outline, corners, light, outline.softness * scale, bed);
        if (!piece.picture.pixels.empty()) out.push_back(std::move(piece));
    }
    // Two outlines that came to lie over each other are one piece.
    std::stable_sort(out.begin(), out.end(),
                     [](const Piece& one, const Piece& other) { return one.confidence > other.confidence; });
    std::vector<Piece> apart;
    for (Piece& piece : out)
        if (std::none_of(apart.begin(), apart.end(),
                         [&](const Piece& other) { return overlap(piece.corners, other.corners) > 0.1; }))
            apart.push_back(std::move(piece));
    return apart;
}

photo::LinearImage small_copy(const photo::LinearImage& picture) {
    const int factor = (std::max(picture.width, picture.height) + finding_side / 2) / finding_side;
    return thinned(picture, std::max(1, factor));
}

/// On the sheet of paper `quad` of the picture.
Lying on_sheet(const photo::LinearImage& picture, const Quad& quad, double least) {
    constexpr double clear = 0.015; // Of the sheet, left out along its sides.
    const double across = (length(quad[1] - quad[0]) + length(quad[2] - quad[3])) / 2;
    const double down = (length(quad[3] - quad[0]) + length(quad[2] - quad[1])) / 2;
    const double shrink = std::min(1.0, finding_side / std::max(across, down));
    const int width = std::max(64, static_cast<int>(across * shrink)),
              height = std::max(64, static_cast<int>(down * shrink));
    Quad flat{{{-clear * width, -clear * height},
               {(1 + clear) * width, -clear * height},
               {(1 + clear) * width, (1 + clear) * height},
               {-clear * width, (1 + clear) * height}}};
    const auto out = homography(flat, quad);
    if (!out) return {};
    const Way way{*out, out->inverse()};
    const auto bed = bed_of(painted(width, height,
                                    [&](const Point& share) {
                                        return seen(picture, way.out({share.x * width, share.y * height}));
                                    }),
                            least);
    if (!bed || !bed->ground.paper) return {};
    const Shade shade(bed->picture, bed->ground.light, bed->lying);
    const std::function<Rgb(const Point&)> light = [&](const Point& at) {
        return shaded_light(*bed, shade, way.back(at));
    };
    return {By::paper, pieces_on(picture, *bed, way, &light), bed->several, bed->outlines.others};
}

} // namespace

namespace {

/// Whether one of the pieces may be a sheet of paper.
bool holds_sheet(const Bed& bed) {
    return std::any_of(bed.outlines.pieces.begin(), bed.outlines.pieces.end(), [&](const Outline& piece) {
        return as_paper(bed.picture, piece.corners).has_value();
    });
}

} // namespace

bool anything_lies(const photo::LinearImage& picture, double least) {
    const auto bed = bed_of(small_copy(picture), least);
    return bed && (!bed->outlines.pieces.empty() || bed->several > 1);
}

Lying on_ground(const photo::LinearImage& picture, double least) {
    auto bed = bed_of(small_copy(picture), least);
    if (!bed) return {};
    if (bed->outlines.pieces.empty() || (least > 0.02 && bed->several > 1 && !holds_sheet(*bed))) {
        Lying none;
        none.several = bed->several;
        return none;
    }
    const double scale = static_cast<double>(picture.width / bed->picture.width);
    Way way;
    way.out.m = {scale, 0, 0, 0, scale, 0, 0, 0, 1};
    way.back = way.out.inverse();
    if (bed->ground.paper) {
        const Shade shade(bed->picture, bed->ground.light, bed->lying);
        const std::function<Rgb(const Point&)> light = [&](const Point& at) {
            return shaded_light(*bed, shade, way.back(at));
        };
        return {By::paper, pieces_on(picture, *bed, way, &light),
                bed->outlines.others - bed->outlines.at_rim};
    }
    // A sheet of paper on a table: the largest piece that is one.
    auto& outlines = bed->outlines.pieces;
    std::optional<Ground> paper;
    auto sheet = outlines.end();
    for (auto piece = outlines.begin(); piece != outlines.end(); ++piece) {
        const auto found = as_paper(bed->picture, piece->corners);
        if (!found || luminance(found->middle) < luminance(bed->ground.middle)) continue;
        if (sheet != outlines.end() && area(piece->corners) < area(sheet->corners)) continue;
        paper = found;
        sheet = piece;
    }
    if (sheet == outlines.end())
        return {By::background, pieces_on(picture, *bed, way, nullptr), 0, bed->outlines.others};
    Quad corners;
    for (std::size_t i = 0; i < 4; ++i) corners[i] = way.out(sheet->corners[i]);
    Lying lying = on_sheet(picture, corners, least);
    if (!lying.pieces.empty() || lying.several > 1) return lying;
    // The paper lies beside the cloth: its light in its own middle is all there is to know.
    outlines.erase(sheet);
    const Rgb middle = paper->middle;
    const std::function<Rgb(const Point&)> light = [middle](const Point&) { return middle; };
    return {By::paper, pieces_on(picture, *bed, way, &light), 0, bed->outlines.others};
}

} // namespace motley::scene
