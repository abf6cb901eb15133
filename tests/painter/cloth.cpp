#include "painter/cloth.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "painter/prints.h"

namespace motley::painter {
namespace {

colour::LinearRgb lifted(colour::LinearRgb light, double lift) {
    if (lift >= 0) {
        const double s = std::min(lift, 0.95);
        return {std::lerp(light.r, 0.9, s), std::lerp(light.g, 0.9, s), std::lerp(light.b, 0.9, s)};
    }
    // Deeper dye absorbs more of what it already absorbs: a power keeps the hue richer than plain dimming.
    const double s = std::max(lift, -0.95), k = 1 - 0.35 * s;
    const auto deep = [&](double channel) { return (1 + s * 0.75) * std::pow(std::max(channel, 0.0), k); };
    return {deep(light.r), deep(light.g), deep(light.b)};
}

template <typename Kind>
constexpr bool lies_on_top(const Kind&) {
    return true;
}
constexpr bool lies_on_top(const Solid&) {
    return false;
}
constexpr bool lies_on_top(const Gingham&) {
    return false;
}
constexpr bool lies_on_top(const Plaid&) {
    return false;
}
constexpr bool lies_on_top(const Stripe&) {
    return false;
}
constexpr bool lies_on_top(const Houndstooth&) {
    return false;
}

} // namespace

Dyes::Dyes(const Design& design) : ground_(colour::linear(design.ground)) {
    for (const colour::Srgb ink : design.inks) inks_.push_back(colour::linear(ink));
    if (inks_.empty()) inks_ = {lifted(ground_, -0.3), lifted(ground_, 0.14), lifted(ground_, -0.15)};
}

colour::LinearRgb Dyes::dye(int ink, double lift) const {
    return lifted(ink < 0 ? ground_ : inks_[static_cast<std::size_t>(ink) % inks_.size()], lift);
}

Ink Dyes::ink(const Tint& tint) const {
    return {.colour = dye(tint.ink, tint.lift),
            .edge = dye(tint.ink, tint.lift + tint.fade),
            .heart = tint.heart,
            .reach = tint.fade != 0 ? tint.reach : 0,
            .strength = tint.strength};
}

void draw(Canvas& canvas, const Dyes& dyes, const Drawing& drawing, const Pose& pose) {
    for (const Part& part : drawing) {
        Tint tint = part.tint;
        tint.heart = placed(tint.heart, pose);
        tint.reach *= pose.size;
        canvas.fill(placed(part.outline, pose), dyes.ink(tint));
    }
}

Cloth paint(const Design& design, int width, double pixels_per_inch, int height) {
    expects(width > 0 && height >= 0 && pixels_per_inch > 0 && design.scale > 0 && design.threads > 0);
    Canvas canvas(width, height > 0 ? height : width, pixels_per_inch, design.seed);
    std::visit([&](const auto& kind) { print(canvas, design, kind); }, design.print);
    // Yarns of a woven pattern are dyed through; ink lies on top, and thin in places.
    const bool printed = std::visit([](const auto& kind) { return lies_on_top(kind); }, design.print);
    canvas.mottle(printed ? 0.035 : 0.015, printed ? 0.04 : 0.02, Dyes(design).ground(), printed ? 0.08 : 0);
    if (design.relief > 0) canvas.weave({.threads = design.threads, .relief = design.relief});
    return {.picture = std::move(canvas).take(), .pixels_per_inch = pixels_per_inch};
}

} // namespace motley::painter
