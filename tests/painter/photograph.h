#pragma once
/// What a phone makes of cloth on a table by a window: uneven light, a little blur, noise, a white balance
/// slightly off. In: cloth in linear light. Out: an 8-bit picture in a known colour space, and files of it.
/// Threads: pure; several threads are used inside and do not change the result.

#include <cstddef>
#include <cstdint>
#include <vector>

#include "painter/cloth.h"
#include "photo/photo.h"

namespace motley::painter {

enum class Gamut : std::uint8_t { srgb, display_p3 };

/// Defaults are a careful photo; `phone` makes careless ones.
struct Camera {
    double falloff =
        0.05; ///< Light at the far side against the near one, as a share; the mean over the picture is kept.
    double direction = 0.8; ///< Where the light comes from, radians clockwise from the top.
    double vignette = 0.03; ///< Loss in the corners.
    double waves = 0.012;   ///< Soft shading of cloth that is not quite flat.
    double blur = 0.75;     ///< Standard deviation, pixels, [0, 3].
    double noise = 0.010;   ///< Of white, before the blur; less in the dark, as with light itself.
    double warmth = 0;      ///< Above 0 too yellow, below 0 too blue; 0.02 is just seen.
    double exposure = 1;    ///< All light times this.
    Gamut gamut = Gamut::srgb;
    std::uint64_t seed = 1;
};

/// A believable camera: mild faults drawn from the seed.
Camera phone(std::uint64_t seed);

struct Photo {
    photo::Raster raster; ///< Three channels, code values of `gamut`.
    Gamut gamut = Gamut::srgb;
};

Photo photograph(const Cloth& cloth, const Camera& camera);

/// A JPEG file, with the profile of its gamut when that is not sRGB. `quality` in [1, 100].
std::vector<std::byte> encode_jpeg(const Photo& photo, int quality = 77);
/// An HEIC file. Expects sRGB. Faults when libheif here has no encoder.
std::vector<std::byte> encode_heic(const Photo& photo, int quality = 55);

/// A matrix profile for the gamut: D65, sRGB's curve. The same bytes every time.
std::vector<std::byte> profile(Gamut gamut);

} // namespace motley::painter
