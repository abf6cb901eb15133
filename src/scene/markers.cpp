#include "scene/markers.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <optional>

#include "scene/pose.h"
#include "scene/view.h"

namespace motley::scene {

namespace {

constexpr int least_side = 12;     // Pixels of the coarse picture: two for each cell.
constexpr double dark = 0.80;      // Against the mean around, both as square roots of light.
constexpr int samples = 28;        // Places looked at along each side of a marker.
constexpr int fewest_samples = 14; // That must show an edge.

Plane roots(const photo::LinearImage& picture) {
    Plane plane(picture.width, picture.height);
    for (std::size_t i = 0; i < plane.values.size(); ++i) {
        const float* pixel = picture.pixels.data() + 3 * i;
        const float light = 0.2126F * pixel[0] + 0.7152F * pixel[1] + 0.0722F * pixel[2];
        plane.values[i] = std::sqrt(std::max(light, 0.0F));
    }
    return plane;
}

Mask dark_places(const Plane& plane, int radius) {
    const Plane around = box_mean(plane, radius);
    Mask mask(plane.width, plane.height);
    for (std::size_t i = 0; i < mask.on.size(); ++i)
        mask.on[i] =
            static_cast<double>(plane.values[i]) < dark * static_cast<double>(around.values[i]) ? 1 : 0;
    return mask;
}

std::uint16_t turned(std::uint16_t code) { // A quarter clockwise.
    unsigned out = 0;
    for (int row = 0; row < 4; ++row)
        for (int column = 0; column < 4; ++column)
            out = (out << 1) | ((static_cast<unsigned>(code) >> (15 - ((3 - column) * 4 + row))) & 1U);
    return static_cast<std::uint16_t>(out);
}

/// The cells of a square in the picture, read as light or dark; nothing when it has no dark rim within white.
std::optional<std::uint16_t> read_code(const photo::LinearImage& picture, const Quad& quad) {
    const Quad cells{{{0, 0}, {marker_cells, 0}, {marker_cells, marker_cells}, {0, marker_cells}}};
    const auto to_picture = homography(cells, quad);
    if (!to_picture) return std::nullopt;
    const auto cell = [&](double column, double row) {
        double sum = 0;
        for (const double dx : {0.3, 0.5, 0.7})
            for (const double dy : {0.3, 0.5, 0.7})
                sum += luminance_at(picture, (*to_picture)({column + dx, row + dy})) / 9;
        return std::sqrt(std::max(sum, 0.0));
    };
    std::vector<double> rim, white;
    for (int i = 0; i < marker_cells; ++i) {
        const double end = marker_cells - 1;
        for (const double value : {cell(i, 0), cell(i, end), cell(0, i), cell(end, i)}) rim.push_back(value);
        for (const double value : {cell(i, -1), cell(i, marker_cells), cell(-1, i), cell(marker_cells, i)})
            white.push_back(value);
    }
    const double black = median(rim), bright = median(white), between = (black + bright) / 2;
    if (bright < 0.02 || black > 0.75 * bright) return std::nullopt;
    for (const double value : rim)
        if (value > between) return std::nullopt;
    if (std::count_if(white.begin(), white.end(), [&](double value) { return value < between; }) > 3)
        return std::nullopt;
    unsigned code = 0;
    for (int row = 1; row < 5; ++row)
        for (int column = 1; column < 5; ++column)
            code = (code << 1) | (cell(column, row) < between ? 1U : 0U);
    return static_cast<std::uint16_t>(code);
}

struct Match {
    CardKind kind = CardKind::letter;
    int corner = 0, turns = 0; ///< Quarter turns clockwise from how the code is printed to how it lies.
};

std::optional<Match> match(std::uint16_t code) {
    for (const CardKind kind : {CardKind::letter, CardKind::a4, CardKind::small})
        for (int corner = 0; corner < 4; ++corner) {
            std::uint16_t printed = card(kind).markers[static_cast<std::size_t>(corner)].code;
            for (int turns = 0; turns < 4; ++turns, printed = turned(printed))
                if (std::popcount(static_cast<unsigned>(printed ^ code)) <= 1)
                    return Match{kind, corner, turns};
        }
    return std::nullopt;
}

/// Where light changes half-way from the rim's to the paper's, across one place of a side.
std::optional<Point> edge_across(const photo::LinearImage& picture, const Point& at, const Point& outward,
                                 double reach) {
    const int steps = std::max(4, static_cast<int>(std::ceil(reach * 2)));
    std::vector<double> profile;
    for (int i = -steps; i <= steps; ++i)
        profile.push_back(luminance_at(picture, at + outward * (reach * i / steps)));
    const double in = (profile[0] + profile[1]) / 2;
    const double out = (profile[profile.size() - 1] + profile[profile.size() - 2]) / 2;
    if (out < 1.6 * in || out < 0.003) return std::nullopt;
    const double half = (in + out) / 2;
    for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
        if (profile[i] > half || profile[i + 1] <= half) continue;
        const double part = (half - profile[i]) / (profile[i + 1] - profile[i]);
        return at + outward * (reach * (static_cast<double>(i) + part - steps) / steps);
    }
    return std::nullopt;
}

std::optional<Line> refined_side(const photo::LinearImage& picture, const Point& from, const Point& to) {
    const Point along = to - from;
    const double far = length(along);
    const Point outward{along.y / far, -along.x / far}; // The quad is clockwise: its outside is to the left.
    std::vector<Point> points;
    for (int i = 0; i < samples; ++i) {
        const double share = 0.1 + 0.8 * i / (samples - 1);
        if (const auto edge = edge_across(picture, from + along * share, outward, 0.45 * far / marker_cells))
            points.push_back(*edge);
    }
    return line_along(std::move(points), fewest_samples, 0.35);
}

std::optional<Quad> refined(const photo::LinearImage& picture, const Quad& rough) {
    std::array<Line, 4> sides;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto line = refined_side(picture, rough[i], rough[(i + 1) % 4]);
        if (!line) return std::nullopt;
        sides[i] = *line;
    }
    Quad out;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto corner = meeting(sides[(i + 3) % 4], sides[i]);
        if (!corner || length(*corner - rough[i]) > 0.1 * length(rough[(i + 1) % 4] - rough[i]) + 3)
            return std::nullopt;
        out[i] = *corner;
    }
    return out;
}

std::optional<Seen> read_marker(const Patch& patch, const photo::LinearImage& picture,
                                const photo::LinearImage& coarse, int factor) {
    const int small = std::min(patch.width(), patch.height()),
              large = std::max(patch.width(), patch.height());
    if (small < least_side || large > 4 * small || large > coarse.width / 3) return std::nullopt;
    const std::vector<Point> outline = hull(patch.rim);
    if (outline.size() < 4 || outline.size() > 160) return std::nullopt;
    Quad quad = largest_quad(outline);
    if (!convex(quad) || area(quad) < 0.85 * area(outline)) return std::nullopt;
    const auto rough = read_code(coarse, quad);
    if (!rough || !match(*rough)) return std::nullopt;
    for (Point& corner : quad) corner = corner * factor;
    const auto exact = refined(picture, quad);
    if (!exact) return std::nullopt;
    const auto code = read_code(picture, *exact);
    const auto found = code ? match(*code) : std::nullopt;
    if (!found) return std::nullopt;
    Seen out{found->kind, found->corner, *exact};
    // Turned by a quarter clockwise, the marker's own top left lies at the top right.
    std::rotate(out.corners.begin(), out.corners.begin() + found->turns, out.corners.end());
    return out;
}

} // namespace

namespace {

/// Dark all along the inside of its sides, much lighter all along the outside.
bool rimmed(const photo::LinearImage& picture, const Quad& quad) {
    const Quad square{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    const auto place = homography(square, quad);
    if (!place) return false;
    double lightest_in = 0, darkest_out = 1e9;
    for (int i = 0; i < 4; ++i)
        for (const double along : {0.2, 0.4, 0.6, 0.8}) {
            const auto at = [&](double in) {
                const std::array<Point, 4> sides{
                    {{along, in}, {1 - in, along}, {along, 1 - in}, {in, along}}};
                return luminance_at(picture, (*place)(sides[static_cast<std::size_t>(i)]));
            };
            lightest_in = std::max(lightest_in, at(0.09));
            darkest_out = std::min(darkest_out, at(-0.16));
        }
    return darkest_out > 0.08 && darkest_out > 1.8 * lightest_in;
}

} // namespace

int dark_squares(const photo::LinearImage& picture) {
    const Plane plane = roots(picture);
    const int longest = std::max(plane.width, plane.height);
    std::vector<double> sizes;
    for (const Patch& patch : patches(dark_places(plane, std::max(6, longest / 12)), 25)) {
        const int small = std::min(patch.width(), patch.height()),
                  large = std::max(patch.width(), patch.height());
        if (small < 6 || large > 3 * small || large > longest / 5) continue;
        const std::vector<Point> outline = hull(patch.rim);
        if (outline.size() < 4 || outline.size() > 80) continue;
        const Quad quad = largest_quad(outline);
        if (convex(quad) && area(quad) > 0.8 * area(outline) && rimmed(picture, quad))
            sizes.push_back(std::sqrt(area(quad)));
    }
    std::sort(sizes.begin(), sizes.end());
    int most = 0;
    for (std::size_t i = 0; i < sizes.size(); ++i) { // As large as each other, but for the slant.
        int alike = 0;
        for (std::size_t k = i; k < sizes.size() && sizes[k] < 2 * sizes[i]; ++k) ++alike;
        most = std::max(most, alike);
    }
    return most;
}

std::vector<Seen> find_markers(const photo::LinearImage& picture, const photo::LinearImage& coarse,
                               int factor) {
    const Plane plane = roots(coarse);
    std::vector<Seen> found;
    // A small marker is told from what is near it, a large one is itself wider than that.
    for (const int share : {12, 40}) {
        const int radius = std::max(8, std::max(plane.width, plane.height) / share);
        for (const Patch& patch : patches(dark_places(plane, radius), least_side * least_side / 4)) {
            const auto marker = read_marker(patch, picture, coarse, factor);
            if (!marker) continue;
            const bool known = std::any_of(found.begin(), found.end(), [&](const Seen& other) {
                return other.kind == marker->kind && other.corner == marker->corner;
            });
            if (!known) found.push_back(*marker);
        }
        if (found.size() >= 4) break;
    }
    return found;
}

} // namespace motley::scene
