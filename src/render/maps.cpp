// The maps: one flat tone to a patch, no shading, so that they can be read and counted.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <tuple>

#include "fault/fault.h"
#include "render/crew.h"
#include "render/owners.h"
#include "render/render.h"
#include "unit/plane.h"

namespace motley::render {

namespace {

using Tints = std::vector<std::uint8_t>;

std::size_t fabric_of(const Draft& draft, int shape) {
    return palette::index(draft.shapes()[static_cast<std::size_t>(shape)].fabric);
}

/// A pixel that a seam between two fabrics runs through.
struct Choice {
    int order = 0; ///< Nearest to its seam first, then as if by chance.
    std::uint32_t scattered = 0;
    int y = 0, x = 0;
    std::size_t from = 0, to = 0; ///< Fabrics: what it shows, what it might.
};

/// A map being painted: each shape in the tone of its fabric, `channels` bytes each.
class Map {
public:
    Map(const layout::Layout& layout, const Options& options, int channels, const Tints& tones)
        : draft_(layout, scale_of(layout.plan, options.longest_side)),
          owners_(draft_),
          step_(static_cast<std::size_t>(channels)),
          tones_(tones),
          threads_(options.threads),
          bands_((draft_.scale().height + band - 1) / band),
          picture_{draft_.scale().width, draft_.scale().height, channels, {}} {
        picture_.pixels.resize(static_cast<std::size_t>(picture_.width) *
                               static_cast<std::size_t>(picture_.height) * step_);
    }

    photo::Raster paint() && {
        share_out(threads_, bands_, [&](int part) { paint_band(part, nullptr, nullptr); });
        return std::move(picture_);
    }

    /// The same, and pixels on seams given to the other side until every fabric has as many as its area says.
    photo::Raster paint_exactly() && {
        std::vector<std::vector<Choice>> choices(static_cast<std::size_t>(bands_));
        std::vector<std::vector<std::int64_t>> counts(static_cast<std::size_t>(bands_));
        share_out(threads_, bands_, [&](int part) {
            const auto at = static_cast<std::size_t>(part);
            counts[at].resize(tones_.size() / step_);
            paint_band(part, &choices[at], &counts[at]);
        });
        std::vector<double> surplus(tones_.size() / step_);
        for (const auto& of_band : counts)
            for (std::size_t f = 0; f < surplus.size(); ++f) surplus[f] += static_cast<double>(of_band[f]);
        const double pixels =
            static_cast<double>(picture_.width) * picture_.height / (draft_.width() * draft_.height());
        const double ppi = draft_.scale().ppi;
        for (const layout::Shape& shape : draft_.shapes())
            surplus[palette::index(shape.fabric)] -= unit::area(shape.outline) * ppi * ppi * pixels;
        std::vector<Choice> all;
        for (const auto& of_band : choices) all.insert(all.end(), of_band.begin(), of_band.end());
        std::sort(all.begin(), all.end(), [](const Choice& a, const Choice& b) {
            return std::tie(a.order, a.scattered, a.y, a.x) < std::tie(b.order, b.scattered, b.y, b.x);
        });
        even_out(all, surplus);
        return std::move(picture_);
    }

private:
    static constexpr int band = 32;

    void paint_band(int part, std::vector<Choice>* choices, std::vector<std::int64_t>* counts) {
        const auto width = static_cast<std::size_t>(picture_.width);
        std::vector<int> row(width);
        std::vector<Owners::Doubt> doubts;
        for (int y = part * band; y < std::min((part + 1) * band, picture_.height); ++y) {
            doubts.clear();
            owners_.row(y, row, choices ? &doubts : nullptr);
            std::uint8_t* out = &picture_.pixels[static_cast<std::size_t>(y) * width * step_];
            for (std::size_t x = 0; x < width;) {
                const int shape = row[x];
                const std::size_t fabric = fabric_of(draft_, shape), from = x;
                for (; x < width && row[x] == shape; ++x)
                    out = std::copy_n(&tones_[fabric * step_], step_, out);
                if (counts) (*counts)[fabric] += static_cast<std::int64_t>(x - from);
            }
            for (const Owners::Doubt& doubt : doubts) {
                const std::size_t from = fabric_of(draft_, row[static_cast<std::size_t>(doubt.x)]),
                                  to = fabric_of(draft_, doubt.other);
                if (from == to) continue;
                constexpr double steps = 16;
                const auto place = static_cast<std::uint32_t>(y) * 0x9E3779B9u +
                                   static_cast<std::uint32_t>(doubt.x) * 0x85EBCA6Bu;
                choices->push_back({static_cast<int>(std::floor(std::abs(doubt.depth) * steps)),
                                    (place ^ (place >> 15)) * 0xC2B2AE35u, y, doubt.x, from, to});
            }
        }
    }

    /// Each change brings what is too much of one fabric and too little of the other nearer to nothing, so
    /// that it comes to an end soon; what two fabrics without a seam between them owe each other goes by
    /// others.
    void even_out(std::vector<Choice>& choices, std::vector<double>& surplus) {
        constexpr int passes = 64;
        bool changed = true;
        for (int pass = 0; pass < passes && changed; ++pass) {
            changed = false;
            for (Choice& one : choices) {
                if (surplus[one.from] - surplus[one.to] <= 1) continue;
                surplus[one.from] -= 1;
                surplus[one.to] += 1;
                const auto at = static_cast<std::size_t>(one.y) * static_cast<std::size_t>(picture_.width) +
                                static_cast<std::size_t>(one.x);
                std::copy_n(&tones_[one.to * step_], step_, &picture_.pixels[at * step_]);
                std::swap(one.from, one.to);
                changed = true;
            }
        }
    }

    Draft draft_;
    Owners owners_;
    std::size_t step_;
    const Tints& tones_;
    int threads_, bands_;
    photo::Raster picture_;
};

} // namespace

photo::Raster draw_flat(const layout::Layout& layout, const Options& options) {
    Tints tones;
    for (const palette::Fabric& fabric : layout.fabrics) {
        expects(fabric.colour.has_value());
        const colour::Srgb tone = fabric.colour->srgb;
        tones.insert(tones.end(), {tone.r, tone.g, tone.b});
    }
    return Map(layout, options, 3, tones).paint_exactly();
}

photo::Raster draw_values(const layout::Layout& layout, const Options& options) {
    Tints tones;
    for (const palette::Fabric& fabric : layout.fabrics) {
        expects(fabric.colour.has_value());
        tones.push_back(colour::grey_of(fabric.colour->lab.l));
    }
    return Map(layout, options, 1, tones).paint();
}

} // namespace motley::render
