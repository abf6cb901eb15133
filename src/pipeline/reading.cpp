#include "pipeline/reading.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "scene/scene.h"

namespace motley::pipeline {

namespace {

constexpr int finding_detail = 400; // Longest side in which is asked whether there is anything but cloth.

/// To a tenth of a millimetre: a number people can read.
measure::Length in_tenths(measure::Length length) {
    constexpr std::int64_t tenth = 32;
    return {std::max<std::int64_t>(1, (length.ticks + tenth / 2) / tenth) * tenth};
}

palette::PhotoReading as_it_is(const photo::LinearImage& picture, bool cut_out) {
    palette::PhotoReading how;
    how.warnings = scene::blemishes(picture);
    how.confidence = 0.5 * std::pow(0.85, static_cast<double>(how.warnings.size()));
    how.cut_out = cut_out;
    return how;
}

/// Whether a closer look may find more than cloth.
bool may_show_more(const photo::LinearImage& picture) {
    if (picture.width < 64 || picture.height < 64) return false;
    const int longest = std::max(picture.width, picture.height);
    if (longest <= 2 * finding_detail) return scene::worth_a_look(picture);
    return scene::worth_a_look(thinned(picture, finding_detail));
}

} // namespace

photo::LinearImage thinned(photo::LinearImage picture, int longest_side) {
    const int factor = std::max(1, std::max(picture.width, picture.height) / std::max(1, longest_side));
    if (factor == 1) return picture;
    photo::LinearImage out{std::max(1, picture.width / factor), std::max(1, picture.height / factor), {}};
    out.pixels.resize(3 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    const int across = std::min(factor, picture.width), down = std::min(factor, picture.height);
    const float share = 1.0F / static_cast<float>(across * down);
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            for (int i = 0; i < down; ++i)
                for (int j = 0; j < across; ++j)
                    for (std::size_t c = 0; c < 3; ++c)
                        out.pixels[(static_cast<std::size_t>(y) * static_cast<std::size_t>(out.width) +
                                    static_cast<std::size_t>(x)) *
                                       3 +
                                   c] += share * picture.pixels[(static_cast<std::size_t>(y * factor + i) *
                                                                     static_cast<std::size_t>(picture.width) +
                                                                 static_cast<std::size_t>(x * factor + j)) *
                                                                    3 +
                                                                c];
    return out;
}

ClothReading read_cloth(std::span<const std::byte> bytes, std::string_view where, const ClothTask& task) {
    ClothReading out;
    out.shown = task.photo_width;
    const photo::Limits limits{.pixels = task.most_pixels};
    out.reading = photo::read(bytes, where, task.detail, limits);
    const photo::LinearImage& picture = out.reading.picture;
    // Where a part is transparent somebody has cut the cloth out already.
    if (!task.cut_out && out.reading.opaque == 1.0 && may_show_more(picture)) {
        const scene::Scene scene =
            scene::look(photo::read(bytes, where, scene::looking_detail, limits).picture, where,
                        {.split = false, .true_inch = task.true_inch});
        if (!scene.pieces.empty()) {
            const scene::Piece& piece = scene.pieces.front();
            out.how.by = static_cast<palette::PhotoReading::By>(scene.by);
            out.how.confidence = piece.confidence;
            out.how.pixels_per_inch = piece.pixels_per_inch;
            out.how.warnings = piece.warnings;
            out.shown = piece.width > 0 ? in_tenths(measure::Length::inches(piece.width * piece.kept))
                                        : measure::Length::inches(task.photo_width.in_inches() * piece.kept);
            out.reading.mean = piece.mean;
            out.reading.picture = thinned(piece.picture, task.detail);
            return out;
        }
        if (scene.several > 1) {
            out.how = as_it_is(picture, false);
            out.how.confidence *= 0.6;
            out.how.warnings.push_back("there seem to be " + std::to_string(scene.several) +
                                       " pieces of cloth in this photo: if so, say --split " +
                                       std::to_string(scene.several));
            return out;
        }
    }
    out.how = as_it_is(picture, task.cut_out);
    return out;
}

} // namespace motley::pipeline
