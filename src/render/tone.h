#pragma once
/// From linear light to eight-bit sRGB, fast and exact.

#include <array>
#include <cstddef>
#include <cstdint>

namespace motley::render {

/// Rounds exactly as colour::srgb does, by table.
class Tones {
public:
    Tones();
    /// Clipped to [0, 1].
    std::uint8_t code(float light) const {
        if (!(light > 0)) return 0;
        if (light >= 1) return 255;
        std::size_t code = near_[static_cast<std::size_t>(light * steps)];
        while (light >= least_[code + 1]) ++code;
        return static_cast<std::uint8_t>(code);
    }

private:
    static constexpr int steps = 4096;
    std::array<float, 257> least_{};             ///< The least light that gives each code.
    std::array<std::uint8_t, steps + 1> near_{}; ///< A code at or just below the right one.
};

/// The one table there is.
const Tones& tones();

} // namespace motley::render
