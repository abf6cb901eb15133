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

/// The cloth alone, every line ruled.
photo::LinearImage lay_flat(const Draft& draft, const Bolts& bolts, int threads) {
    const Patchwork patchwork(draft, bolts, 0, 0);
    const int width = draft.scale().width, height = draft.scale().height;
    photo::LinearImage top = blank(width, height);
    constexpr int band = 16;
    share_out(threads, (height + band - 1) / band, [&](int part) {
        Strip strip{part * band, std::min(band, height - part * band), {}, {}, {}, {}};
        strip.right.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(strip.count));
        strip.below = strip.right;
        patchwork.lay(strip);
        float* out = pixel(top, 0, strip.first);
        for (std::size_t i = 0; i < strip.colour.size(); ++i)
            *out++ = strip.share[i / 3] > 0 ? strip.colour[i] / strip.share[i / 3] : 0.0f;
    });
    return top;
}

} // namespace

photo::Raster draw_squint(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                          const Options& options) {
    // Half the size of the other pictures: there is nothing fine in it.
    const Scale shown = scale_of(layout.plan, std::max(64, options.longest_side / 2));
    // The blur leaves nothing finer than this; drawn small, then enlarged.
    constexpr double enough = 20;
    Scale small = shown;
    const double smaller = std::min(1.0, enough / shown.unit);
    small.ppi *= smaller;
    small.unit *= smaller;
    small.width = static_cast<int>(std::ceil(shown.width * smaller));
    small.height = static_cast<int>(std::ceil(shown.height * smaller));
    const Draft draft(layout, small);
    const Bolts bolts = unroll({&draft, 1}, cloths, Patchwork::margin(0), options.threads);
    photo::LinearImage top = lay_flat(draft, bolts, options.threads);
    blur(top, 0.26 * small.unit, options.threads);
    photo::Raster picture{shown.width, shown.height, 3,
                          std::vector<std::uint8_t>(static_cast<std::size_t>(shown.width) *
                                                    static_cast<std::size_t>(shown.height) * 3)};

    constexpr int band = 64;
    share_out(options.threads, (shown.height + band - 1) / band, [&](int part) {
        const int from = part * band, rows = std::min(band, shown.height - from);
        const photo::LinearImage light = resampled(top, 1 / smaller, 0, from, shown.width, rows);
        std::uint8_t* out =
            &picture.pixels[static_cast<std::size_t>(from) * static_cast<std::size_t>(shown.width) * 3];
        for (const float value : light.pixels) *out++ = tones().code(value);
    });
    return picture;
}

} // namespace motley::render
