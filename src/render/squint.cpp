#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/cloth.h"
#include "render/crew.h"
#include "render/patchwork.h"
#include "render/tone.h"

namespace motley::render {

namespace {

/// Blurs along one axis: `count` values `step` floats apart, weights normalised where the blur reaches past
/// an end.
void blur_line(const float* in, float* out, int count, std::ptrdiff_t step, const std::vector<float>& half) {
    const int reach = static_cast<int>(half.size()) - 1;
    for (int i = 0; i < count; ++i) {
        float sum = 0, weight = 0;
        for (int k = std::max(0, i - reach); k <= std::min(count - 1, i + reach); ++k) {
            const float w = half[static_cast<std::size_t>(std::abs(k - i))];
            sum += w * in[k * step];
            weight += w;
        }
        out[i * step] = sum / weight;
    }
}

void blur(photo::LinearImage& image, double sigma, int threads) {
    std::vector<float> half;
    for (int k = 0; k <= static_cast<int>(std::ceil(3.5 * sigma)); ++k)
        half.push_back(static_cast<float>(std::exp(-k * k / (2 * sigma * sigma))));
    photo::LinearImage across = image;
    const std::ptrdiff_t stride = static_cast<std::ptrdiff_t>(image.width) * 3;
    share_out(threads, image.height, [&](int y) {
        for (int c = 0; c < 3; ++c)
            blur_line(pixel(image, 0, y) + c, pixel(across, 0, y) + c, image.width, 3, half);
    });
    share_out(threads, image.width, [&](int x) {
        for (int c = 0; c < 3; ++c)
            blur_line(pixel(across, x, 0) + c, pixel(image, x, 0) + c, image.height, stride, half);
    });
}

} // namespace

photo::Raster draw_squint(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                          const Options& options) {
    // Half the size of the other pictures: there is nothing fine in it.
    const Grid shown = make_grid(layout, std::max(64, options.longest_side / 2));
    // The blur leaves nothing finer than this; drawn small, then enlarged.
    constexpr int enough = 20;
    const int small_side = std::max(64, std::min(shown.cell, enough) * std::max(shown.columns, shown.rows));
    const Grid grid = make_grid(layout, small_side);
    const Hand hand = Hand::steady();
    const Bolts bolts = unroll({&layout, 1}, cloths, grid, 0, options.threads);
    const Patchwork patchwork(layout, grid, bolts, hand);
    photo::LinearImage top = blank(grid.width(), grid.height());
    const std::size_t stride = static_cast<std::size_t>(grid.width()) * 3;
    share_out(options.threads, grid.height(), [&](int y) { patchwork.row(y, {pixel(top, 0, y), stride}); });
    blur(top, 0.26 * grid.cell, options.threads);
    photo::Raster picture{shown.width(), shown.height(), 3,
                          std::vector<std::uint8_t>(static_cast<std::size_t>(shown.width()) *
                                                    static_cast<std::size_t>(shown.height()) * 3)};
    const double scale = static_cast<double>(shown.cell) / grid.cell;
    constexpr int band = 64;
    share_out(options.threads, (shown.height() + band - 1) / band, [&](int part) {
        const int from = part * band, rows = std::min(band, shown.height() - from);
        const photo::LinearImage light = resampled(top, scale, 0, from, shown.width(), rows);
        std::uint8_t* out =
            &picture.pixels[static_cast<std::size_t>(from) * static_cast<std::size_t>(shown.width()) * 3];
        for (const float value : light.pixels) *out++ = tones().code(value);
    });
    return picture;
}

} // namespace motley::render
