#include "handout/preview.h"

#include <algorithm>
#include <array>

#include "colour/space.h"
#include "fault/fault.h"

namespace motley::handout {

photo::Raster reduced(const photo::Raster& picture, int side) {
    expects(picture.width > 0 && picture.height > 0);
    const int longer = std::max(picture.width, picture.height), by = (longer + side - 1) / side;
    if (by <= 1) return picture;
    std::array<double, 256> light{};
    for (std::size_t code = 0; code < light.size(); ++code)
        light[code] = colour::decode(static_cast<double>(code) / 255);
    photo::Raster small{(picture.width + by - 1) / by, (picture.height + by - 1) / by, picture.channels, {}};
    const auto at = [&](int x, int y, int channel) {
        const std::size_t pixel = static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                  static_cast<std::size_t>(x);
        return light[picture.pixels[pixel * static_cast<std::size_t>(picture.channels) +
                                    static_cast<std::size_t>(channel)]];
    };
    for (int y = 0; y < small.height; ++y)
        for (int x = 0; x < small.width; ++x)
            for (int channel = 0; channel < picture.channels; ++channel) {
                double sum = 0;
                int count = 0;
                for (int dy = y * by; dy < std::min((y + 1) * by, picture.height); ++dy)
                    for (int dx = x * by; dx < std::min((x + 1) * by, picture.width); ++dx, ++count)
                        sum += at(dx, dy, channel);
                small.pixels.push_back(static_cast<std::uint8_t>(colour::encode(sum / count) * 255 + 0.5));
            }
    return small;
}

} // namespace motley::handout
