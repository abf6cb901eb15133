#pragma once
/// How the card lies in the picture. Internal to `scene`.

#include <optional>
#include <vector>

#include "photo/photo.h"
#include "scene/card.h"
#include "scene/markers.h"

namespace motley::scene {

/// From the card's inches to the picture's pixels: as a plane looks through a pinhole, then the lens's
/// bulge, q = c + (p - c)(1 + bulge |p - c|^2 / reach^2).
struct Pose {
    Homography straight;
    Point centre;     ///< Of the picture.
    double reach = 1; ///< Half its diagonal.
    double bulge = 0; ///< Negative where straight lines bow outwards.
    double off =
        0; ///< How far the markers' corners lie from where this puts them, pixels (root mean square).

    Point operator()(const Point& inches) const;
    double pixels_per_inch(const Point& inches) const; ///< The lesser of along and across.
};

/// The pose in which the four markers' corners agree best. The bulge is looked for when the line around the
/// field shows one beyond doubt. Nothing when the markers do not fit one flat card.
std::optional<Pose> pose_of(const Card& card, const std::vector<Seen>& markers,
                            const photo::LinearImage& picture);

/// The straight line from which the points are off least, after those far off (more than `slack` and than 2.5
/// times the median) were left out; nothing when fewer than `fewest` stay.
std::optional<Line> line_along(std::vector<Point> points, std::size_t fewest, double slack);

} // namespace motley::scene
