#pragma once
/// The fabrics of the two demo palettes, and fabrics made up at random for tests that must not be tuned for.
/// All invented.

#include <string>
#include <vector>

#include "painter/photograph.h"

namespace motley::painter {

/// A fabric to be photographed for a palette.
struct Sample {
    enum class File : std::uint8_t { jpeg, jpeg_p3, heic };
    std::string id = {};
    Design design = {};
    double inches = 5; ///< How much cloth the photo shows from left to right.
    File file = File::jpeg;
};

std::vector<Sample> orchard(); ///< A scrappy mix, warm and cool, light to dark.
std::vector<Sample> harbour(); ///< Darks and mid-tones, and a run of lights.

/// `count` designs of every kind in agreeable colours, a third of them light, a third dark. The same seed
/// gives the same designs, and a larger count only adds to them.
std::vector<Design> invented_designs(std::uint64_t seed, int count);

std::string file_name(const Sample& sample);
/// The photo file of a sample, `width` pixels wide.
std::vector<std::byte> photo_of(const Sample& sample, int width = 1200);

} // namespace motley::painter
