#include "scene/pose.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "fault/fault.h"
#include "scene/view.h"

namespace motley::scene {

namespace {

constexpr double most_off = 2.5;      // Pixels, for a flat card.
constexpr double telling_bulge = 0.3; // Pixels in the corner of the picture.

/// A place on the card and where it was seen. `across` is set where only the distance across a line counts.
struct Sighting {
    Point inches, pixels;
    std::optional<Point> across; ///< In the card, of length 1.
};

std::vector<Sighting> corner_sightings(const Card& card, const std::vector<Seen>& markers) {
    std::vector<Sighting> out;
    for (const Seen& marker : markers) {
        const Quad printed = card.markers[static_cast<std::size_t>(marker.corner)].area.corners();
        for (std::size_t i = 0; i < 4; ++i) out.push_back({printed[i], marker.corners[i], std::nullopt});
    }
    return out;
}

/// Where the black line around the field runs: its darkest place across, where it stands out plainly.
std::optional<Point> line_across(const photo::LinearImage& picture, const Point& at, const Point& across,
                                 double reach) {
    const int steps = std::max(6, static_cast<int>(std::ceil(reach * 3)));
    std::vector<double> profile;
    for (int i = -steps; i <= steps; ++i)
        profile.push_back(luminance_at(picture, at + across * (reach * i / steps)));
    const double around = median(profile);
    const auto darkest =
        static_cast<std::size_t>(std::min_element(profile.begin(), profile.end()) - profile.begin());
    if (profile[darkest] > 0.8 * around || darkest < 2 || darkest + 3 > profile.size()) return std::nullopt;
    double weight = 0, sum = 0; // The middle of what is darker than half-way.
    const double half = (profile[darkest] + around) / 2;
    for (std::size_t i = 0; i < profile.size(); ++i)
        if (profile[i] < half &&
            std::abs(static_cast<double>(i) - static_cast<double>(darkest)) * reach / steps < 3) {
            weight += half - profile[i];
            sum += (half - profile[i]) * (static_cast<double>(i) - steps);
        }
    return at + across * (reach * sum / weight / steps);
}

void add_line(std::vector<Sighting>& out, const Pose& pose, const photo::LinearImage& picture,
              const Point& from, const Point& to) {
    constexpr int places = 60;
    const Point along = to - from, normal{-along.y / length(along), along.x / length(along)};
    for (int i = 1; i < places; ++i) {
        const Point inches = from + along * (static_cast<double>(i) / places);
        const Point at = pose(inches), next = pose(inches + normal * 0.01);
        const Point across = (next - at) * (1 / length(next - at));
        if (const auto found = line_across(picture, at, across, 0.1 * pose.pixels_per_inch(inches)))
            out.push_back({inches, *found, normal});
    }
}

/// What the pose leaves unexplained: two numbers for a corner, one for a place on a line, in pixels.
std::vector<double> misses(const Pose& pose, const std::vector<Sighting>& sightings) {
    std::vector<double> out;
    for (const Sighting& sighting : sightings) {
        const Point at = pose(sighting.inches), off = sighting.pixels - at;
        if (!sighting.across) {
            out.push_back(off.x);
            out.push_back(off.y);
            continue;
        }
        const Point along{-sighting.across->y, sighting.across->x};
        const Point step = pose(sighting.inches + along * 0.01) - at;
        out.push_back(cross(step, off) / length(step));
    }
    return out;
}

double square(const std::vector<double>& numbers, double slack) {
    double sum = 0;
    for (const double number : numbers) sum += number * number / (1 + number * number / (slack * slack));
    return sum;
}

/// Gauss-Newton over the nine numbers of a pose, misses far out counting little.
Pose improved(Pose pose, const std::vector<Sighting>& sightings, bool with_bulge) {
    constexpr double slack = 1.5;
    const std::size_t unknowns = with_bulge ? 9 : 8;
    const auto moved = [&](const Pose& from, std::size_t which, double step) {
        Pose to = from;
        (which < 8 ? to.straight.m[which] : to.bulge) += step;
        return to;
    };
    for (int round = 0; round < 12; ++round) {
        const std::vector<double> off = misses(pose, sightings);
        std::vector<std::vector<double>> slopes;
        std::vector<double> steps;
        for (std::size_t k = 0; k < unknowns; ++k) {
            const double size =
                k < 8 ? std::max(std::abs(pose.straight.m[k]), k < 6 ? 1.0 : 1e-2) * 1e-5 : 1e-4;
            steps.push_back(size);
            slopes.push_back(misses(moved(pose, k, size), sightings));
            for (std::size_t i = 0; i < off.size(); ++i) slopes[k][i] = slopes[k][i] - off[i];
        }
        std::vector<double> matrix(unknowns * unknowns, 0.0), right(unknowns, 0.0);
        for (std::size_t i = 0; i < off.size(); ++i) {
            const double ease = 1 + off[i] * off[i] / (slack * slack), weight = 1 / (ease * ease);
            for (std::size_t a = 0; a < unknowns; ++a) {
                for (std::size_t b = 0; b < unknowns; ++b)
                    matrix[a * unknowns + b] += weight * slopes[a][i] * slopes[b][i];
                right[a] -= weight * slopes[a][i] * off[i];
            }
        }
        for (std::size_t a = 0; a < unknowns; ++a) matrix[a * unknowns + a] *= 1 + 1e-9;
        const auto change = solved(std::move(matrix), std::move(right));
        if (!change) break;
        Pose next = pose;
        for (std::size_t k = 0; k < unknowns; ++k) next = moved(next, k, (*change)[k] * steps[k]);
        if (!(square(misses(next, sightings), slack) < square(off, slack) * (1 - 1e-9))) break;
        pose = next;
    }
    return pose;
}

double root_mean_square(const std::vector<double>& numbers) {
    double sum = 0;
    for (const double number : numbers) sum += number * number;
    return std::sqrt(sum / static_cast<double>(numbers.size()));
}

} // namespace

Point Pose::operator()(const Point& inches) const {
    const Point out = straight(inches) - centre;
    return centre + out * (1 + bulge * dot(out, out) / (reach * reach));
}

double Pose::pixels_per_inch(const Point& inches) const {
    constexpr double step = 0.05;
    const Point right = (*this)(inches + Point{step, 0}) - (*this)(inches - Point{step, 0});
    const Point down = (*this)(inches + Point{0, step}) - (*this)(inches - Point{0, step});
    return std::min(length(right), length(down)) / (2 * step);
}

std::optional<Pose> pose_of(const Card& card, const std::vector<Seen>& markers,
                            const photo::LinearImage& picture) {
    expects(markers.size() == 4);
    std::vector<Sighting> sightings = corner_sightings(card, markers);
    std::vector<Point> from, to;
    for (const Sighting& sighting : sightings) {
        from.push_back(sighting.inches);
        to.push_back(sighting.pixels);
    }
    const auto start = homography(from, to);
    if (!start) return std::nullopt;
    Pose pose;
    pose.straight = *start;
    pose.centre = {picture.width / 2.0, picture.height / 2.0};
    pose.reach = length(pose.centre);
    const std::vector<Sighting> corners = sightings;
    // Once with a bulge from the corners alone, so that the line is looked for where it is.
    Pose bulged = improved(pose, corners, true);
    if (card.field)
        for (int round = 0; round < 2; ++round) {
            sightings = corners;
            const Quad line = card.field->corners();
            for (std::size_t i = 0; i < 4; ++i)
                add_line(sightings, bulged, picture, line[i], line[(i + 1) % 4]);
            bulged = improved(bulged, sightings, true);
        }
    const Pose flat = improved(pose, sightings, false);
    const bool seen_line = sightings.size() > corners.size() + 60;
    const bool telling = std::abs(bulged.bulge) * pose.reach > telling_bulge &&
                         square(misses(bulged, sightings), 1.5) < 0.8 * square(misses(flat, sightings), 1.5);
    pose = seen_line && telling ? bulged : flat;
    pose.off = root_mean_square(misses(pose, corners));
    if (pose.off > most_off) return std::nullopt;
    return pose;
}

std::optional<Line> line_along(std::vector<Point> points, std::size_t fewest, double slack) {
    Line line;
    for (int round = 0; round < 4; ++round) {
        if (points.size() < std::max<std::size_t>(fewest, 2)) return std::nullopt;
        Point middle;
        for (const Point& point : points)
            middle = middle + point * (1.0 / static_cast<double>(points.size()));
        double xx = 0, xy = 0, yy = 0;
        for (const Point& point : points) {
            const Point step = point - middle;
            xx += step.x * step.x;
            xy += step.x * step.y;
            yy += step.y * step.y;
        }
        // The direction in which the points spread least, of the 2 x 2 matrix of their spread.
        const double half = (xx - yy) / 2, root = std::sqrt(half * half + xy * xy);
        Point along = half > 0 ? Point{half + root, xy} : Point{xy, root - half};
        if (length(along) == 0) along = {1, 0};
        line = line_through(middle, middle + along);
        std::vector<double> off;
        for (const Point& point : points) off.push_back(std::abs(line.distance(point)));
        const double limit = std::max(slack, 2.5 * median(off));
        std::vector<Point> kept;
        for (std::size_t i = 0; i < points.size(); ++i)
            if (off[i] <= limit) kept.push_back(points[i]);
        if (kept.size() == points.size()) break;
        points = std::move(kept);
    }
    return line;
}

} // namespace motley::scene
