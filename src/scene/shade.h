#pragma once
/// Shadows as the bare ground shows them, carried on across what lies on it. Internal to `scene`.

#include "scene/light.h"
#include "scene/view.h"

namespace motley::scene {

/// What is left of the light where a shadow falls, over a picture of the ground.
class Shade {
public:
    /// `lying`: what is not bare. Between the bare places around a piece the shade runs as a stretched skin
    /// would: a band of shadow that comes in on one side and leaves on the other crosses it.
    Shade(const photo::LinearImage& picture, const Light& light, const Mask& lying);

    double at(const Point& pixel) const; ///< 1 where there is no shadow.

private:
    int columns_ = 0, rows_ = 0, step_ = 1;
    std::vector<double> logs_;
};

} // namespace motley::scene
