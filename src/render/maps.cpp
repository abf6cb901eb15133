// The maps: one flat tone to a patch, no shading, so that they can be read and counted.
#include <algorithm>

#include "fault/fault.h"
#include "render/grid.h"
#include "render/render.h"

namespace motley::render {

namespace {

/// Paints each patch in the tone of its fabric, `channels` bytes each.
photo::Raster paint(const layout::Layout& layout, const Options& options, int channels,
                    const std::vector<std::uint8_t>& tones) {
    const Grid grid = make_grid(layout, options.longest_side);
    const unit::Form& recipe = form_of(layout);
    const std::vector<std::uint8_t> owner = owners(recipe, grid.cell);
    const auto size = static_cast<std::size_t>(grid.cell);
    const auto step = static_cast<std::size_t>(channels);
    photo::Raster map{grid.width(), grid.height(), channels, {}};
    map.pixels.resize(static_cast<std::size_t>(map.width) * static_cast<std::size_t>(map.height) * step);
    std::uint8_t* out = map.pixels.data();
    for (int y = 0; y < map.height; ++y) {
        for (int column = 0; column < grid.columns; ++column) {
            const auto cell = static_cast<std::size_t>(y / grid.cell * grid.columns + column);
            const int turn = layout.assignment.turns[cell];
            const palette::FabricId* fabrics = &layout.assignment.patches[cell * recipe.patches.size()];
            for (int x = 0; x < grid.cell; ++x, out += step) {
                const Texel at = unturned(x, y % grid.cell, turn, grid.cell);
                const std::uint8_t patch =
                    owner[static_cast<std::size_t>(at.v) * size + static_cast<std::size_t>(at.u)];
                std::copy_n(&tones[palette::index(fabrics[patch]) * step], step, out);
            }
        }
    }
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
