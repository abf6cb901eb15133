// Cloth whose pattern is in the yarns: every warp and weft thread has one colour, and what lies on top is
// seen.
#include <algorithm>
#include <cmath>

#include "painter/prints.h"

namespace motley::painter {
namespace {

colour::LinearRgb mix(colour::LinearRgb one, colour::LinearRgb other, double share) {
    return {std::lerp(one.r, other.r, share), std::lerp(one.g, other.g, share),
            std::lerp(one.b, other.b, share)};
}

/// The colours of the threads along one direction.
class Threads {
public:
    Threads(const Dyes& dyes, const std::vector<Band>& bands, double scale, double threads,
            double pixels_per_inch, double length)
        : threads_(threads), reach_(std::min(1.0, threads / pixels_per_inch)) {
        double repeat = 0;
        for (const Band& band : bands) repeat += band.width * scale;
        const int count = static_cast<int>((length + 1) * threads) + 2;
        for (int thread = 0; thread < count; ++thread) {
            double place = std::fmod((thread - spare + 0.5) / threads + 64 * repeat, repeat);
            std::size_t band = 0;
            while (band + 1 < bands.size() && place >= bands[band].width * scale)
                place -= bands[band++].width * scale;
            colours_.push_back(dyes.dye(bands[band].ink));
        }
    }

    /// The colour at a place, averaged over the pixel where it falls on two threads.
    colour::LinearRgb at(double inches) const {
        const double place =
            std::clamp(inches * threads_ + spare, 1.0, static_cast<double>(colours_.size()) - 2);
        const double low = std::floor(place - reach_ / 2), edge = std::floor(place + reach_ / 2);
        const colour::LinearRgb first = colours_[static_cast<std::size_t>(low)];
        if (edge == low) return first;
        return mix(first, colours_[static_cast<std::size_t>(edge)], (place + reach_ / 2 - edge) / reach_);
    }

private:
    static constexpr int spare = 20;
    double threads_, reach_;
    std::vector<colour::LinearRgb> colours_;
};

/// Lays warp over weft; `top` is how much of the warp is seen on average.
void cross(Canvas& canvas, const Design& design, const Threads& warp, const Threads& weft, double top) {
    const double seen =
        0.8 * std::min(top, 1 - top) * crossing_seen(design.threads, canvas.pixels_per_inch());
    const double turn = pi * design.threads;
    canvas.shade([&](double x, double y) {
        const double over = seen > 0 ? std::sin(turn * x) * std::sin(turn * y) : 0;
        return mix(weft.at(y), warp.at(x), std::clamp(top + 2 * seen * over, 0.0, 1.0));
    });
}

} // namespace

void print(Canvas& canvas, const Design& design, const Solid& solid) {
    const Dyes dyes(design);
    if (!solid.crossed) {
        canvas.flood(dyes.ground());
        return;
    }
    const double finest = canvas.pixels_per_inch();
    cross(canvas, design, {dyes, {{-1, 1}}, 1, design.threads, finest, canvas.width()},
          {dyes, {{0, 1}}, 1, design.threads, finest, canvas.height()}, 0.5);
}

void print(Canvas& canvas, const Design& design, const Gingham&) {
    print(canvas, design, Plaid{.bands = {{0, 0.5}, {-1, 0.5}}});
}

void print(Canvas& canvas, const Design& design, const Plaid& plaid) {
    const Dyes dyes(design);
    const double finest = canvas.pixels_per_inch();
    cross(canvas, design, {dyes, plaid.bands, design.scale, design.threads, finest, canvas.width()},
          {dyes, plaid.bands, design.scale, design.threads, finest, canvas.height()}, 0.5);
}

void print(Canvas& canvas, const Design& design, const Stripe& stripe) {
    const Dyes dyes(design);
    const double finest = canvas.pixels_per_inch();
    const std::vector<Band> plain{{-1, 1}};
    const Threads warp(dyes, stripe.across ? plain : stripe.bands, design.scale, design.threads, finest,
                       canvas.width());
    const Threads weft(dyes, stripe.across ? stripe.bands : plain, design.scale, design.threads, finest,
                       canvas.height());
    const double stripes_seen = stripe.woven ? 0.86 : 1.0;
    cross(canvas, design, warp, weft, stripe.across ? 1 - stripes_seen : stripes_seen);
}

void print(Canvas& canvas, const Design& design, const Houndstooth&) {
    const Dyes dyes(design);
    const colour::LinearRgb light = dyes.ground(), dark = dyes.dye(0);
    const double yarn = design.scale / 8;
    const auto dark_at = [&](double x, double y) {
        const auto i = static_cast<std::int64_t>(std::floor(x / yarn)) + 8000,
                   j = static_cast<std::int64_t>(std::floor(y / yarn)) + 8000;
        const bool warp_on_top = (i + j) % 4 < 2;
        return ((warp_on_top ? i : j) % 8) < 4;
    };
    const double third = 1 / canvas.pixels_per_inch() / 3;
    canvas.shade([&](double x, double y) {
        int dark_parts = 0;
        for (int k = 0; k < 9; ++k)
            dark_parts += dark_at(x + (k % 3 - 1) * third, y + (k / 3 - 1) * third) ? 1 : 0;
        return mix(light, dark, dark_parts / 9.0 * 0.96 + 0.02);
    });
}

} // namespace motley::painter
