#include "render/patchwork.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/cloth.h"
#include "render/cover.h"
#include "render/sample.h"

namespace motley::render {

namespace {

/// How deep inside an edge a pixel's middle must lie for all of the pixel to be inside, wherever it drifts.
double sure_depth(const Edge& edge, double reach) {
    return (std::abs(edge.a) + std::abs(edge.b)) * (0.5 + reach);
}

} // namespace

int Patchwork::margin(double reach) {
    return static_cast<int>(std::ceil(1.42 * (0.5 + reach))) + 1;
}

Patchwork::Patchwork(const Draft& draft, const Bolts& bolts, int beyond, double reach)
    : draft_(draft), beyond_(beyond), reach_(reach), bands_(-beyond, draft.scale().height + beyond) {
    expects(bolts.margin >= margin(reach));
    const std::vector<unit::Motion> motions = cut_out(draft, bolts);
    for (std::size_t s = 0; s < motions.size(); ++s) {
        const layout::Shape& shape = draft.shapes()[s];
        const photo::LinearImage& bolt = bolts.cloth[palette::index(shape.fabric)];
        expects(!motions[s].mirrors());
        for (const unit::Point corner : shape.outline) { // No more cloth than there is.
            const unit::Point at = motions[s](corner * draft.scale().ppi);
            expects(at.x >= 0 && at.y >= 0 && at.x <= bolt.width && at.y <= bolt.height);
        }
        laid_.push_back({&bolt, motions[s], on_grain(motions[s])});
        bands_.add(s, draft.box(s).top - margin(reach), draft.box(s).bottom + margin(reach));
    }
}

void Patchwork::lay(Strip& strip) const {
    const auto pixels =
        static_cast<std::size_t>(strip.count) * static_cast<std::size_t>(draft_.scale().width + 2 * beyond_);
    expects(strip.right.size() >= pixels && strip.below.size() >= pixels);
    strip.colour.assign(pixels * 3, 0.0f);
    strip.share.assign(pixels, 0.0f);
    bands_.each(strip.first, strip.first + strip.count, [&](std::size_t shape, int from, int to) {
        for (int y = from; y < to; ++y) lay_row(shape, y, strip);
    });
}

/// One row of a shape: sure of it in the middle, a part of each pixel at both ends.
void Patchwork::lay_row(std::size_t shape, int y, Strip& strip) const {
    const unit::Box& box = draft_.box(shape);
    const double grown = margin(reach_), middle = y + 0.5;
    if (middle < box.top - grown || middle > box.bottom + grown) return;
    double from = box.left - grown, to = box.right + grown, sure_from = from, sure_to = to;
    for (const Edge& edge : draft_.edges(shape)) {
        const double sure = sure_depth(edge, reach_), here = edge.depth(0, middle);
        if (std::abs(edge.a) < 1e-9) {
            if (here < -sure) return;
            if (here < sure) sure_to = -1e9;
            continue;
        }
        if (edge.a > 0) {
            from = std::max(from, (-sure - here) / edge.a);
            sure_from = std::max(sure_from, (sure - here) / edge.a);
        } else {
            to = std::min(to, (-sure - here) / edge.a);
            sure_to = std::min(sure_to, (sure - here) / edge.a);
        }
    }
    // Pixels whose middles lie between.
    const int least = -beyond_, most = draft_.scale().width + beyond_;
    const auto first_past = [&](double x) {
        return static_cast<int>(std::ceil(std::clamp<double>(x, least, most) - 0.5));
    };
    const int begin = std::max(least, first_past(from)), end = std::min(most, first_past(to));
    const int sure_begin = std::clamp(first_past(sure_from), begin, std::max(begin, end));
    const int sure_end = std::clamp(first_past(sure_to), sure_begin, std::max(sure_begin, end));
    blend(shape, y, begin, sure_begin, strip);
    blend(shape, y, sure_end, end, strip);
    if (sure_begin == sure_end) return;
    const Laid& laid = laid_[shape];
    const auto at = static_cast<std::size_t>(y - strip.first) *
                        static_cast<std::size_t>(draft_.scale().width + 2 * beyond_) +
                    static_cast<std::size_t>(sure_begin + beyond_);
    std::fill_n(&strip.share[at], sure_end - sure_begin, 1.0f);
    float* out = &strip.colour[at * 3];
    unit::Point place = laid.motion(unit::Point{sure_begin + 0.5, middle});
    if (!laid.on_grain) {
        const unit::Point step{laid.motion.xx, laid.motion.yx};
        for (int x = sure_begin; x < sure_end; ++x, out += 3) {
            const std::array<float, 3> light = sample(*laid.bolt, place.x, place.y);
            std::copy_n(light.data(), 3, out);
            place = place + step;
        }
        return;
    }
    const float* in = pixel(*laid.bolt, static_cast<int>(place.x), static_cast<int>(place.y));
    const std::ptrdiff_t step =
        3 * (std::lround(laid.motion.yx) * static_cast<std::ptrdiff_t>(laid.bolt->width) +
             std::lround(laid.motion.xx));
    if (step == 3) {
        std::copy_n(in, (sure_end - sure_begin) * 3, out);
        return;
    }
    for (int x = sure_begin; x < sure_end; ++x, out += 3, in += step) std::copy_n(in, 3, out);
}

void Patchwork::blend(std::size_t shape, int y, int from, int to, Strip& strip) const {
    if (from >= to) return;
    const Laid& laid = laid_[shape];
    const std::span<const Edge> edges = draft_.edges(shape);
    auto at = static_cast<std::size_t>(y - strip.first) *
                  static_cast<std::size_t>(draft_.scale().width + 2 * beyond_) +
              static_cast<std::size_t>(from + beyond_);
    for (int x = from; x < to; ++x, ++at) {
        const double on_paper_x = x + 0.5 + static_cast<double>(strip.right[at]),
                     on_paper_y = y + 0.5 + static_cast<double>(strip.below[at]);
        float covered = 1;
        for (const Edge& edge : edges) {
            covered *= cover(edge, on_paper_x, on_paper_y);
            if (covered <= 0) break;
        }
        if (covered <= 0) continue;
        const unit::Point place = laid.motion(unit::Point{x + 0.5, y + 0.5});
        std::array<float, 3> light{};
        if (laid.on_grain)
            std::copy_n(pixel(*laid.bolt, std::clamp(static_cast<int>(place.x), 0, laid.bolt->width - 1),
                              std::clamp(static_cast<int>(place.y), 0, laid.bolt->height - 1)),
                        3, light.data());
        else
            light = sample_within(*laid.bolt, place.x, place.y);
        strip.share[at] += covered;
        for (std::size_t c = 0; c < 3; ++c) strip.colour[at * 3 + c] += covered * light[c];
    }
}

} // namespace motley::render
