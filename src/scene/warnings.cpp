#include "scene/warnings.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "scene/scene.h"
#include "scene/view.h"

namespace motley::scene {

namespace {

constexpr double too_dark = 0.09;      // Light of what is lightest.
constexpr float end_of_scale = 0.985F; // Code value 253.
constexpr double too_soft = 6;         // Pixels.

} // namespace

std::vector<std::string> warnings_of(const Signs& signs) {
    std::vector<std::string> out;
    if (signs.brightness < too_dark)
        out.emplace_back("too dark: the colours are uncertain; more light, or a longer exposure");
    if (signs.blown > 0.02)
        out.emplace_back("too bright: the lightest parts of the cloth are washed out; a shorter exposure");
    if (signs.softness > too_soft)
        out.emplace_back("blurred: hold still, and let the camera focus on the cloth");
    if (signs.rims > 0) out.emplace_back("cut off: the cloth runs out of the picture on one side");
    if (std::abs(signs.bowed) > 0.006)
        out.emplace_back(
            "straight edges come out bent: the lens distorts, or the cloth does not lie flat; step "
            "back and zoom in");
    if (signs.straight < 0.6)
        out.emplace_back("its edges could only be seen in part, so its size is uncertain");
    if (signs.shaded > 0)
        out.emplace_back("a shadow or a fold lies across the cloth; that part was left out of the colour");
    return out;
}

double blown_share(const photo::LinearImage& picture, const Quad& quad) {
    constexpr int looks = 64;
    const Quad square{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    const auto place = homography(square, quad);
    if (!place) return 0;
    int blown = 0;
    for (int row = 0; row < looks; ++row)
        for (int column = 0; column < looks; ++column) {
            const Rgb rgb = seen(picture, (*place)({(column + 0.5) / looks, (row + 0.5) / looks}));
            if (*std::max_element(rgb.begin(), rgb.end()) >= static_cast<double>(end_of_scale)) ++blown;
        }
    return static_cast<double>(blown) / (looks * looks);
}

double brightest(const photo::LinearImage& picture) {
    std::vector<float> light;
    for (std::size_t i = 0; i + 2 < picture.pixels.size(); i += 3 * 7)
        light.push_back(0.2126F * picture.pixels[i] + 0.7152F * picture.pixels[i + 1] +
                        0.0722F * picture.pixels[i + 2]);
    if (light.empty()) return 0;
    const auto place = light.begin() + static_cast<std::ptrdiff_t>(light.size() * 49 / 50);
    std::nth_element(light.begin(), place, light.end());
    return static_cast<double>(*place);
}

std::vector<std::string> blemishes(const photo::LinearImage& picture) {
    const double w = picture.width, h = picture.height;
    return warnings_of({.brightness = std::max(brightest(picture) * 4, 0.0), // Dark cloth is no dark photo.
                        .blown = blown_share(picture, {{{0, 0}, {w, 0}, {w, h}, {0, h}}})});
}

} // namespace motley::scene
