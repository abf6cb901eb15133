#include <algorithm>
#include <array>
#include <cmath>

#include "render/cover.h"
#include "render/crew.h"
#include "render/hand.h"
#include "render/hang.h"
#include "render/patchwork.h"
#include "render/relief.h"
#include "render/tone.h"

namespace motley::render {

namespace {

/// How much of a soft-edged strip from 0 to `length`, its edges `soft` pixels wide, lies at `at`.
float within(double at, double length, double soft) {
    const auto rise = [soft](double x) {
        const double u = std::clamp(x / soft + 0.5, 0.0, 1.0);
        return u * u * (3 - 2 * u);
    };
    return static_cast<float>(rise(at) * rise(length - at));
}

/// What is left of the wall's light at a place beside the top: a wide soft shadow below right, a close one at
/// the edge.
struct Shadow {
    double width = 0, height = 0, unit = 0;

    float light(double x, double y) const {
        const double far = unit * 0.5, wide = unit * 1.7;
        const float soft = within(x - far, width, wide) * within(y - far, height, wide);
        const float close =
            within(x - unit * 0.1, width, unit * 0.3) * within(y - unit * 0.12, height, unit * 0.3);
        return (1 - 0.26f * soft) * (1 - 0.30f * close);
    }
};

/// Draws the picture band by band.
class Hanging {
public:
    Hanging(const Draft& draft, const Bolts& bolts, int wall)
        : draft_(draft),
          wall_(wall),
          hand_(Hand::careful(draft.layout().seed, draft.scale())),
          beyond_(static_cast<int>(std::ceil(hand_.reach())) + 1),
          patchwork_(draft, bolts, beyond_, hand_.reach()),
          relief_(draft, beyond_, hand_.reach()),
          shadow_{draft.width(), draft.height(), 0.022 * std::max(draft.width(), draft.height())},
          edges_{Edge{1, 0, 0}, Edge{0, 1, 0}, Edge{-1, 0, draft.width()}, Edge{0, -1, draft.height()}} {}

    int width() const { return draft_.scale().width + 2 * wall_; }
    int height() const { return draft_.scale().height + 2 * wall_; }

    /// Rows [from, to) of the picture.
    void band(int from, int to, photo::Raster& picture) const;

private:
    Strip strip(int first, int count, std::vector<float>& light) const;
    float covered(double x, double y) const {
        float part = 1;
        for (const Edge& edge : edges_) part *= cover(edge, x, y);
        return part;
    }

    const Draft& draft_;
    int wall_;
    Hand hand_;
    int beyond_; ///< Pixels around the top where something of it may be seen.
    Patchwork patchwork_;
    Relief relief_;
    Shadow shadow_;
    std::array<Edge, 4> edges_; ///< Of the top.
};

/// Cloth and light of some rows; the drift of one row more before and after.
Strip Hanging::strip(int first, int count, std::vector<float>& light) const {
    const auto across = static_cast<std::size_t>(draft_.scale().width + 2 * beyond_);
    const auto rows = static_cast<std::size_t>(count);
    std::vector<float> right((rows + 2) * across), below((rows + 2) * across);
    for (std::size_t k = 0; k < rows + 2; ++k)
        hand_.drift(-beyond_, first - 1 + static_cast<int>(k), std::span(right).subspan(k * across, across),
                    std::span(below).subspan(k * across, across));
    light.resize(rows * across);
    relief_.rows(first, count, right, below, light);
    const auto own = static_cast<std::ptrdiff_t>(across),
               end = static_cast<std::ptrdiff_t>((rows + 1) * across);
    Strip strip{
        first, count, {right.begin() + own, right.begin() + end}, {below.begin() + own, below.begin() + end},
        {},    {}};
    patchwork_.lay(strip);
    return strip;
}

void Hanging::band(int from, int to, photo::Raster& picture) const {
    const int first = std::max(from - wall_, -beyond_),
              last = std::min(to - wall_, draft_.scale().height + beyond_);
    const int across = draft_.scale().width + 2 * beyond_;
    std::vector<float> light;
    Strip cloth;
    if (first < last) cloth = strip(first, last - first, light);
    const Tones& tone = tones();
    for (int line = from; line < to; ++line) {
        const int y = line - wall_;
        std::uint8_t* out =
            &picture.pixels[static_cast<std::size_t>(line) * static_cast<std::size_t>(width()) * 3];
        for (int x = -wall_; x < width() - wall_; ++x) {
            float part = 0, lit = 0;
            std::size_t at = 0;
            if (y >= first && y < last && x >= -beyond_ && x < across - beyond_) {
                at = static_cast<std::size_t>(y - first) * static_cast<std::size_t>(across) +
                     static_cast<std::size_t>(x + beyond_);
                const bool within = x > beyond_ && y > beyond_ && x + beyond_ + 2 < draft_.scale().width &&
                                    y + beyond_ + 2 < draft_.scale().height;
                if (cloth.share[at] > 0)
                    part = within ? 1
                                  : covered(x + 0.5 + static_cast<double>(cloth.right[at]),
                                            y + 0.5 + static_cast<double>(cloth.below[at]));
                if (part > 0) lit = part * light[at] / cloth.share[at];
            }
            const float on_wall = part < 1 ? shadow_.light(x + 0.5, y + 0.5) * (1 - part) : 0.0f;
            for (std::size_t c = 0; c < 3; ++c) {
                float value = wall_light[c] * on_wall;
                if (part > 0) value += lit * cloth.colour[at * 3 + c];
                *out++ = tone.code(value);
            }
        }
    }
}

} // namespace

Bolts unroll_to_hang(std::span<const Draft> drafts, const std::vector<Cloth>& cloths, int threads) {
    return unroll(drafts, cloths, Patchwork::margin(Hand::careful(0, drafts.front().scale()).reach()),
                  threads);
}

photo::Raster hang(const Draft& draft, const Bolts& bolts, int wall, int threads) {
    const Hanging hanging(draft, bolts, wall);
    photo::Raster picture{hanging.width(), hanging.height(), 3, {}};
    picture.pixels.resize(static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height) *
                          3);
    constexpr int band = 24;
    share_out(threads, (picture.height + band - 1) / band, [&](int part) {
        hanging.band(part * band, std::min((part + 1) * band, picture.height), picture);
    });
    return picture;
}

double pixels_per_inch(const layout::Layout& layout, const Options& options) {
    return scale_of(layout.plan, options.longest_side).ppi;
}

int detail_needed(const layout::Plan& plan, measure::Length width, double shape, const Options& options) {
    const double across = width.in_inches() * scale_of(plan, options.longest_side).ppi;
    return static_cast<int>(std::clamp(2 * across * std::max(1.0, shape), 64.0, 4096.0));
}

photo::Raster draw_preview(const layout::Layout& layout, const std::vector<Cloth>& cloths,
                           const Options& options) {
    const Scale scale = scale_of(layout.plan, options.longest_side);
    const Draft draft(layout, scale);
    const int margin = std::max(8, std::max(scale.width, scale.height) / 20);
    return hang(draft, unroll_to_hang({&draft, 1}, cloths, options.threads), margin, options.threads);
}

} // namespace motley::render
