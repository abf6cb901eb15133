#pragma once
/// From linear light to eight-bit sRGB, fast and exact.

#include <array>
#include <cstdint>

namespace motley::render {

/// Rounds exactly as colour::srgb does, by table.
class Tones {
public:
    Tones();
    std::uint8_t code(float light) const; ///< Clipped to [0, 1].

private:
    static constexpr int steps = 4096;
    std::array<float, 257> least_{};             ///< The least light that gives each code.
    std::array<std::uint8_t, steps + 1> near_{}; ///< A code at or just below the right one.
};

/// The one table there is.
const Tones& tones();

} // namespace motley::render
