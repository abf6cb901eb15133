#pragma once
/// How the light of the room falls over a photo, as far as it can be told from the print.

#include <array>

#include "photo/photo.h"

namespace motley::render {

/// What to multiply the photo with so that it is evenly lit. See scaled_cloth for how it is found.
class Light {
public:
    bool even() const { return even_; }
    /// By channel, at a place of the photo: x and y in [0, 1] from the top left.
    std::array<float, 3> gain(float x, float y) const;

private:
    friend Light light_of(const photo::LinearImage& picture);
    std::array<double, 6> slope_{}; ///< Of log luminance over 1, x, y, x^2, xy, y^2 with x, y in [-1, 1].
    std::array<float, 3> level_{1, 1, 1}; ///< Keeps the mean of the photo.
    bool even_ = true;
};

Light light_of(const photo::LinearImage& picture);

} // namespace motley::render
