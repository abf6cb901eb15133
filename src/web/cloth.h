#pragma once
/// Pictures of the fabrics for the page: cloth continued to a square from which patches are cut, kept in the
/// project's folder by the photo's content, so that opening again is quick.

#include <cstddef>
#include <filesystem>
#include <mutex>
#include <string>
#include <vector>

#include "palette/palette.h"
#include "pipeline/pipeline.h"

namespace motley::web {

/// How much cloth a picture shows, in inches along each side: enough for a piece of any unit of this size to
/// be cut from several places.
double cloth_side(measure::Length finished);
inline constexpr int cloth_pixels = 400;

class ClothPictures {
public:
    /// `folder`: where they are kept.
    ClothPictures(std::filesystem::path folder, const pipeline::Common& common);

    /// A PNG, cloth_pixels wide and high. Expects a fabric with a photo. Faults as reading a photo. May be
    /// called from several threads.
    std::vector<std::byte> picture(const palette::Fabric& fabric, const std::filesystem::path& photos,
                                   double side) const;

private:
    std::filesystem::path folder_;
    pipeline::Common common_;
};

} // namespace motley::web
