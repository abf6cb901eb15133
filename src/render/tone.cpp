#include "render/tone.h"

#include <limits>

#include "colour/space.h"

namespace motley::render {

Tones::Tones() {
    least_[0] = -std::numeric_limits<float>::infinity();
    for (std::size_t k = 1; k < 256; ++k)
        least_[k] = static_cast<float>(colour::decode((static_cast<double>(k) - 0.5) / 255.0));
    least_[256] = std::numeric_limits<float>::infinity();
    std::size_t code = 0;
    for (std::size_t i = 0; i <= steps; ++i) {
        while (static_cast<float>(i) / steps >= least_[code + 1]) ++code;
        near_[i] = static_cast<std::uint8_t>(code);
    }
}

const Tones& tones() {
    static const Tones table;
    return table;
}

} // namespace motley::render
