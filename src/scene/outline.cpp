#include "scene/outline.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>

#include "scene/pose.h"

namespace motley::scene {

namespace {

constexpr double least_filled = 0.86;
constexpr int places = 60;           // Looked at along a side.
constexpr double side_margin = 0.06; // Of a side, left out at its ends.
constexpr double least_straight = 0.3;

/// The outline with fewer corners: those go first that cut off least, while they cut off next to nothing.
std::vector<Point> simplified(std::vector<Point> outline, std::size_t most) {
    while (outline.size() > most) {
        std::size_t least = 0;
        double smallest = 1e300;
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const Point& before = outline[(i + outline.size() - 1) % outline.size()];
            const Point& after = outline[(i + 1) % outline.size()];
            const double loss = cross(outline[i] - before, after - outline[i]);
            if (loss < smallest) smallest = loss, least = i;
        }
        outline.erase(outline.begin() + static_cast<std::ptrdiff_t>(least));
    }
    return outline;
}

/// Pixels of the patch that lie in the quad, and of the quad.
double agreement(const Patch& patch, std::int32_t number, const std::vector<std::int32_t>& numbers,
                 const Mask& mask, const Quad& quad) {
    std::int64_t both = 0;
    for (int y = patch.top; y <= patch.bottom; ++y)
        for (int x = patch.left; x <= patch.right; ++x)
            if (numbers[mask.at(x, y)] == number && inside(quad, {x + 0.5, y + 0.5})) ++both;
    const double all = area(quad) + static_cast<double>(patch.pixels - both);
    return all > 0 ? std::min(1.0, static_cast<double>(both) / all) : 0;
}

double apart(const Rgb& one, const Rgb& other) {
    double sum = 0;
    for (std::size_t c = 0; c < 3; ++c) {
        const double step = std::log(std::max(one[c], 0.01)) - std::log(std::max(other[c], 0.01));
        sum += step * step;
    }
    return std::sqrt(sum / 3);
}

Rgb mix(const Rgb& one, const Rgb& other, double share) {
    Rgb out;
    for (std::size_t c = 0; c < 3; ++c) out[c] = one[c] + (other[c] - one[c]) * share;
    return out;
}

struct Edge {
    double inward = 0; ///< Of the rough side.
    double width = 0;  ///< From a fifth to four fifths of the change.
};

/// Looks along one line from the ground into the piece.
class Crossing {
public:
    Crossing(const Sampler& sampler, const Look& look)
        : sampler_(sampler), look_(look), grain_(look.grain), limit_(look.limit) {}

    /// `at` on the rough side; `inward` and `along` of length 1. How far inward the edge lies.
    std::optional<Edge> find(const Point& at, const Point& inward, const Point& along, double reach) const {
        const int steps = static_cast<int>(std::ceil(reach / grain_));
        std::vector<Rgb> colours;
        for (int i = -steps; i <= steps; ++i) {
            Rgb sum{};
            for (const double aside : {-0.7, 0.0, 0.7}) {
                const Rgb one = sampler_(at + inward * (i * grain_) + along * (aside * grain_));
                for (std::size_t c = 0; c < 3; ++c) sum[c] += one[c] / 3;
            }
            colours.push_back(sum);
        }
        const auto lasting = static_cast<std::size_t>(std::max(3.0, std::ceil(look_.lasting / grain_)));
        const auto departure = first_departure(colours, lasting);
        if (!departure) return std::nullopt;
        return half_way(colours, steepest(colours, *departure), steps);
    }

private:
    /// The first place from outside where the colour leaves the ground and does not come back at once. The
    /// ground's own slow changes, a soft shadow, are followed.
    std::optional<std::size_t> first_departure(const std::vector<Rgb>& colours, std::size_t lasting) const {
        std::size_t start = 0; // Past what is no ground at all: a neighbour's side.
        while (start + lasting < colours.size() / 2 && !like_ground(colours[start])) ++start;
        Rgb ground = mix(colours[start], colours[start + 1], 0.5);
        for (std::size_t i = start + 2; i + lasting < colours.size(); ++i) {
            bool gone = true;
            for (std::size_t k = 0; k < lasting && gone; ++k) gone = apart(colours[i + k], ground) > limit_;
            if (gone) return i;
            if (apart(colours[i - 1], ground) < limit_) ground = mix(ground, colours[i - 1], 0.35);
        }
        return std::nullopt;
    }

    /// Of the ground's own colour, in a shadow or not.
    bool like_ground(const Rgb& colour) const {
        std::array<double, 3> log{};
        for (std::size_t c = 0; c < 3; ++c) log[c] = std::log(std::max(colour[c], 0.01));
        const double slack = std::max(0.12, 2 * limit_);
        return log[1] < slack && log[1] > -1.3 && std::abs(log[0] - log[1]) < slack &&
               std::abs(log[2] - log[1]) < slack;
    }

    std::size_t samples(double pixels) const {
        return static_cast<std::size_t>(std::max(1.0, std::round(pixels * look_.pixel / grain_)));
    }

    /// Cloth darkens what lies close beside it: where the first change may be that, the edge is the steepest
    /// of all soon after; else it is the steepest of the next few.
    std::size_t steepest(const std::vector<Rgb>& colours, std::size_t departure) const {
        const std::size_t near = samples(1), first = std::max(near, departure > near ? departure - near : 0);
        const Rgb& ground = colours[departure > samples(2) ? departure - samples(2) : 0];
        const std::size_t end = departure + samples(shadow_of(colours, departure, ground) ? 6 : 2.5);
        std::size_t best = departure;
        double most = 0;
        for (std::size_t i = first; i <= end && i + near < colours.size(); ++i) {
            const double step = apart(colours[i + near], colours[i - near]);
            if (step > most) most = step, best = i;
        }
        return best;
    }

    /// Whether what follows a departure for two pixels is the ground, only darker.
    bool shadow_of(const std::vector<Rgb>& colours, std::size_t departure, const Rgb& ground) const {
        const std::size_t last = std::min(departure + samples(2), colours.size() - 1);
        std::array<double, 3> step{};
        for (std::size_t c = 0; c < 3; ++c)
            step[c] = std::log(std::max(colours[last][c], 0.01)) - std::log(std::max(ground[c], 0.01));
        return step[1] < 0.02 && step[1] > -0.45 && std::abs(step[0] - step[1]) < 0.04 &&
               std::abs(step[2] - step[1]) < 0.04;
    }

    /// Where the colour is half-way between those two pixels to either side of its steepest change.
    std::optional<Edge> half_way(const std::vector<Rgb>& colours, std::size_t middle, int steps) const {
        const std::size_t first = middle > samples(2) ? middle - samples(2) : 0;
        const std::size_t last = std::min(middle + samples(2), colours.size() - 1);
        const Rgb out = colours[first], in = colours[last];
        double square = 0;
        for (std::size_t c = 0; c < 3; ++c) square += (in[c] - out[c]) * (in[c] - out[c]);
        if (square <= 0) return std::nullopt;
        const auto share = [&](std::size_t i) {
            double sum = 0;
            for (std::size_t c = 0; c < 3; ++c) sum += (in[c] - out[c]) * (colours[i][c] - out[c]);
            return sum / square;
        };
        const auto passes = [&](double level) {
            for (std::size_t i = first; i < last; ++i) {
                const double here = share(i), next = share(i + 1);
                if (here <= level && next > level)
                    return (static_cast<double>(i) + (level - here) / (next - here) - steps) * grain_;
            }
            return (static_cast<double>(middle) - steps) * grain_;
        };
        return Edge{passes(0.5), passes(0.8) - passes(0.2)};
    }

    const Sampler& sampler_;
    Look look_;
    double grain_, limit_;
};

/// The straight line most of the points agree on, the outer one of two that do nearly as well. Points run
/// along the side.
struct Agreed {
    Line line;
    double share = 0, bow = 0;
};
std::optional<Agreed> agreed_line(const std::vector<Point>& points, const Line& rough, double slack,
                                  double outer_worth) {
    const std::size_t n = points.size();
    if (n < 8) return std::nullopt;
    const double expected = places + 1;
    double best = 0;
    Line line = rough;
    for (std::size_t i = 0; i < n / 2; i += 2)
        for (std::size_t k = n / 2; k < n; k += 2) {
            const Line tried = line_through(points[i], points[k]);
            if (std::abs(cross(tried.normal, rough.normal)) > 0.2) continue;
            double count = 0, outward = 0;
            for (const Point& point : points)
                if (std::abs(tried.distance(point)) < slack) ++count, outward -= rough.distance(point);
            // Where cloth is as light as the paper under it, an edge is missed here and there, never seen too
            // far out.
            const double worth =
                count + outer_worth * count * std::clamp(outward / (count * 6 * slack), -1.0, 1.0);
            if (worth > best) best = worth, line = tried;
        }
    std::vector<Point> near;
    for (const Point& point : points)
        if (std::abs(line.distance(point)) < 1.5 * slack) near.push_back(point);
    const double share = static_cast<double>(near.size()) / expected;
    const auto fine = line_along(near, 8, slack / 4);
    if (!fine || share < least_straight) return std::nullopt;
    Agreed out{*fine, share, 0};
    // The middle third against the outer ones.
    double middle = 0, outer = 0;
    int middles = 0, outers = 0;
    for (std::size_t i = 0; i < near.size(); ++i) {
        const bool inner = 3 * i >= near.size() && 3 * i < 2 * near.size();
        (inner ? middle : outer) += fine->distance(near[i]);
        ++(inner ? middles : outers);
    }
    if (middles > 3 && outers > 3) out.bow = middle / middles - outer / outers;
    if (dot(fine->normal, rough.normal) < 0)
        out.bow = -out.bow, out.line = {fine->normal * -1, -fine->offset};
    return out;
}

} // namespace

namespace {

/// Sides of the mask that a patch touches.
int rims_of(const Patch& patch, const Mask& mask) {
    return (patch.left <= 1 ? 1 : 0) + (patch.top <= 1 ? 1 : 0) + (patch.right + 2 >= mask.width ? 1 : 0) +
           (patch.bottom + 2 >= mask.height ? 1 : 0);
}

/// The quad with its sides moved outward.
Quad grown(const Quad& quad, double by) {
    std::array<Line, 4> sides;
    for (std::size_t i = 0; i < 4; ++i) {
        sides[i] = line_through(quad[i], quad[(i + 1) % 4]); // Its normal points inward.
        sides[i].offset -= by;
    }
    Quad out = quad;
    for (std::size_t i = 0; i < 4; ++i)
        if (const auto corner = meeting(sides[(i + 3) % 4], sides[i])) out[i] = *corner;
    return out;
}

/// The pieces of a mask that was worn off by `worn` all around, and in `rest` what is none.
std::vector<Outline> pieces_of(const Mask& mask, std::int64_t least, int worn, Mask& rest, Outlines* others) {
    std::vector<std::int32_t> numbers;
    const std::vector<Patch> found = patches(mask, least, &numbers);
    std::vector<std::uint8_t> is_rest(found.size() + 1, 0);
    std::vector<Outline> out;
    for (std::size_t i = 0; i < found.size(); ++i) {
        const Patch& patch = found[i];
        const int rims = rims_of(patch, mask);
        const std::vector<Point> outline = simplified(hull(patch.rim), 40);
        if (outline.size() < 4) continue;
        const Quad quad = largest_quad(outline);
        const double filled = agreement(patch, static_cast<std::int32_t>(i) + 1, numbers, mask, quad);
        if (rims <= 1 && convex(quad) && filled >= least_filled) {
            Outline piece;
            piece.corners = grown(quad, worn);
            piece.filled = filled;
            piece.rims = rims;
            out.push_back(piece);
            continue;
        }
        is_rest[i + 1] = 1;
        if (!others) continue;
        ++others->others;
        if (rims > 0) ++others->at_rim;
    }
    rest = mask;
    for (std::size_t i = 0; i < rest.on.size(); ++i)
        rest.on[i] = is_rest[static_cast<std::size_t>(numbers[i])];
    return out;
}

} // namespace

Outlines rough_outlines(const Mask& mask, double least, bool part) {
    const auto pixels = static_cast<std::int64_t>(least * static_cast<double>(mask.width) * mask.height);
    Outlines out;
    Mask rest;
    out.pieces = pieces_of(mask, pixels, 0, rest, &out);
    if (!part || out.others == 0) return out;
    // Pieces that hang together by a bridge come apart when they are worn off.
    for (int worn = 2; worn <= 6; worn += 2) {
        const Mask thinner = spread_out(rest, 2, 0);
        for (const Outline& piece : pieces_of(thinner, pixels, worn, rest, nullptr))
            out.pieces.push_back(piece);
    }
    return out;
}

Outline refined(Outline rough, const Sampler& sampler, const Look& look) {
    const double reach = look.reach, grain = look.grain;
    const Crossing crossing(sampler, look);
    std::array<Line, 4> sides;
    double straight = 0, bowed = 0;
    std::vector<double> widths;
    for (std::size_t i = 0; i < 4; ++i) {
        const Point from = rough.corners[i], to = rough.corners[(i + 1) % 4];
        const double far = length(to - from);
        const Point along = (to - from) * (1 / far), inward{-along.y, along.x};
        std::vector<Point> points;
        for (int k = 0; k <= places; ++k) {
            const Point at = from + along * (far * (side_margin + (1 - 2 * side_margin) * k / places));
            if (const auto edge = crossing.find(at, inward, along, reach)) {
                points.push_back(at + inward * edge->inward);
                widths.push_back(edge->width);
            }
        }
        // The normal of the rough line points inward: outer points have negative distances.
        const Line line{inward, dot(inward, from)};
        const auto agreed = agreed_line(points, line, std::max(1.2 * grain, 0.002 * far), look.outer);
        sides[i] = agreed ? agreed->line : line;
        if (agreed) {
            straight += agreed->share / 4;
            bowed += agreed->bow / far / 4;
        }
    }
    Outline out = rough;
    out.straight = std::min(1.0, straight);
    out.bowed = bowed;
    if (!widths.empty()) {
        std::sort(widths.begin(), widths.end());
        out.softness = widths[widths.size() / 4];
    }
    for (std::size_t i = 0; i < 4; ++i) {
        const auto corner = meeting(sides[(i + 3) % 4], sides[i]);
        if (!corner || length(*corner - rough.corners[i]) > 4 * reach) return rough;
        out.corners[i] = *corner;
    }
    return convex(out.corners) ? out : rough;
}

std::vector<std::size_t> reading_order(const std::vector<Quad>& pieces) {
    std::vector<std::size_t> order(pieces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Point> middles;
    std::vector<double> heights;
    for (const Quad& quad : pieces) {
        middles.push_back((quad[0] + quad[1] + quad[2] + quad[3]) * 0.25);
        const auto [top, bottom] = std::minmax_element(
            quad.begin(), quad.end(), [](const Point& one, const Point& other) { return one.y < other.y; });
        heights.push_back(bottom->y - top->y);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t one, std::size_t other) { return middles[one].y < middles[other].y; });
    std::size_t first = 0;
    while (first < order.size()) {
        std::size_t end = first + 1;
        // A row may slope: each next piece is held against the one before it in the row.
        while (end < order.size() &&
               middles[order[end]].y - middles[order[first]].y < heights[order[first]] / 2)
            ++end;
        std::stable_sort(
            order.begin() + static_cast<std::ptrdiff_t>(first),
            order.begin() + static_cast<std::ptrdiff_t>(end),
            [&](std::size_t one, std::size_t other) { return middles[one].x < middles[other].x; });
        first = end;
    }
    return order;
}

} // namespace motley::scene
