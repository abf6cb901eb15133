// The maps: one flat tone to a patch, no shading, so that they can be read and counted.
#include <algorithm>

#include "fault/fault.h"
#include "render/crew.h"
#include "render/owners.h"
#include "render/render.h"

namespace motley::render {

namespace {

/// Paints each shape in the tone of its fabric, `channels` bytes each.
photo::Raster paint(const layout::Layout& layout, const Options& options, int channels,
                    const std::vector<std::uint8_t>& tones) {
    const Draft draft(layout, scale_of(layout.plan, options.longest_side));
    const Owners owners(draft);
    const auto step = static_cast<std::size_t>(channels),
               width = static_cast<std::size_t>(draft.scale().width);
    photo::Raster map{draft.scale().width, draft.scale().height, channels, {}};
    map.pixels.resize(width * static_cast<std::size_t>(map.height) * step);
    constexpr int band = 32;
    share_out(options.threads, (map.height + band - 1) / band, [&](int part) {
        std::vector<int> row(width);
        for (int y = part * band; y < std::min((part + 1) * band, map.height); ++y) {
            owners.row(y, row);
            std::uint8_t* out = &map.pixels[static_cast<std::size_t>(y) * width * step];
            for (std::size_t x = 0; x < width;) {
                const int shape = row[x];
                const palette::FabricId fabric = draft.shapes()[static_cast<std::size_t>(shape)].fabric;
                const std::uint8_t* tone = &tones[palette::index(fabric) * step];
                for (; x < width && row[x] == shape; ++x) out = std::copy_n(tone, step, out);
            }
        }
    });
    return map;
}

} // namespace

photo::Raster draw_flat(const layout::Layout& layout, const Options& options) {
    std::vector<std::uint8_t> tones;
    for (const palette::Fabric& fabric : layout.fabrics) {
        expects(fabric.colour.has_value());
        const colour::Srgb tone = fabric.colour->srgb;
        tones.insert(tones.end(), {tone.r, tone.g, tone.b});
    }
    return paint(layout, options, 3, tones);
}

photo::Raster draw_values(const layout::Layout& layout, const Options& options) {
    std::vector<std::uint8_t> tones;
    for (const palette::Fabric& fabric : layout.fabrics) {
        expects(fabric.colour.has_value());
        tones.push_back(colour::grey_of(fabric.colour->lab.l));
    }
    return paint(layout, options, 1, tones);
}

} // namespace motley::render
