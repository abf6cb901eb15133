#pragma once
/// What is wrong with a photo, in a quilter's words. Internal to `scene`.

#include <string>
#include <vector>

#include "photo/photo.h"
#include "scene/plane.h"

namespace motley::scene {

/// What tells trouble.
struct Signs {
    double brightness = 1; ///< Of the lightest large thing in the picture, linear light.
    double blown = 0;      ///< Share of the cloth at the end of the scale.
    double softness = 0;   ///< Pixels from ground to cloth; of a picture `looking_detail` long.
    int rims = 0;          ///< Sides of the picture that the piece touches.
    double bowed = 0;      ///< Of its sides, as a share of them.
    double shaded = 0;     ///< Share of the cloth in a shadow or a fold.
    double straight = 1;   ///< Share of the places along its sides that lie on a line.
};

std::vector<std::string> warnings_of(const Signs& signs);

/// Share of a quad's pixels in which a channel is at the end of its scale.
double blown_share(const photo::LinearImage& picture, const Quad& quad);
/// Light that only a fiftieth of the picture exceeds.
double brightest(const photo::LinearImage& picture);

} // namespace motley::scene
