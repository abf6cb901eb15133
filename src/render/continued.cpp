#include "render/continued.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include "fault/fault.h"
#include "render/chance.h"
#include "render/cloth.h"
#include "render/join.h"
#include "render/match.h"

namespace motley::render {

namespace {

struct Place {
    int x = 0, y = 0;
    auto operator<=>(const Place&) const = default;
};

/// The blocks' measures: block and overlap are multiples of 2^levels, so that they lie on the coarse grids
/// too.
struct Blocks {
    int width = 0, height = 0;
    int lap_x = 0, lap_y = 0;
    int levels = 0;
};

/// Blocks of `percent` of the photo's sides. Large ones keep motifs whole, small ones are freer to look for
/// the step of a check.
Blocks blocks_for(const photo::LinearImage& cloth, int percent) {
    const int width = std::max(4, cloth.width * percent / 100);
    const int height = std::max(4, cloth.height * percent / 100);
    Blocks blocks;
    while (blocks.levels < 5 && (std::min(width, height) >> (blocks.levels + 1)) >= 12) ++blocks.levels;
    const int unit = 1 << blocks.levels;
    const auto down = [unit](int n) { return n / unit * unit; };
    blocks.width = down(width);
    blocks.height = down(height);
    blocks.lap_x = std::max(unit, down(width / 3));
    blocks.lap_y = std::max(unit, down(height / 3));
    return blocks;
}

class Quilter {
public:
    Quilter(const photo::LinearImage& cloth, int percent, std::uint64_t seed)
        : cloth_(cloth),
          blocks_(blocks_for(cloth, percent)),
          source_(pyramid(codes_of(cloth, 0, 0, cloth.width, cloth.height), blocks_.levels)),
          seed_(seed) {}

    /// At least width x height.
    photo::LinearImage sew(int width, int height);
    /// What all cuts of what was sewn show, for each pixel of it.
    double shows() const { return shows_; }

private:
    std::int64_t misfit(int level, Place place, bool left, bool above) const;
    Place choose(bool left, bool above);
    void refine(int level, Place& place, std::int64_t& misfit, bool left, bool above) const;
    double cut_cost(int level, Place place, bool left, bool above) const;
    Overlap overlap(int level, Place place, bool upper) const;
    double tired(Place place) const;
    void lay(Place from, int x, int y, bool left, bool above);
    std::vector<float> mask(Place from, bool left, bool above);
    std::size_t bin(Place place) const;

    const photo::LinearImage& cloth_;
    Blocks blocks_;
    std::vector<Codes> source_;
    std::uint64_t seed_;
    photo::LinearImage bolt_;
    std::vector<Codes> wanted_;  ///< What lies where the next block comes; only its overlaps mean anything.
    std::vector<int> visits_ = std::vector<int>(64);  ///< How often each part of the photo was used.
    std::uint64_t turn_ = 0;
    double shows_ = 0;
};

std::int64_t Quilter::misfit(int level, Place place, bool left, bool above) const {
    const Codes& source = source_[static_cast<std::size_t>(level)];
    const Codes& wanted = wanted_[static_cast<std::size_t>(level)];
    const int height = blocks_.height >> level, lap_y = blocks_.lap_y >> level;
    const auto whole = static_cast<std::size_t>(blocks_.width >> level) * 3;
    const auto lap = static_cast<std::size_t>(blocks_.lap_x >> level) * 3;
    std::int64_t sum = 0;
    for (int y = 0; y < (left ? height : lap_y); ++y) {
        const std::size_t count = above && y < lap_y ? whole : lap;
        sum += difference({wanted.at(0, y), count}, {source.at(place.x, place.y + y), count});
    }
    return sum;
}

std::size_t Quilter::bin(Place place) const {
    const int free_x = cloth_.width - blocks_.width + 1, free_y = cloth_.height - blocks_.height + 1;
    return static_cast<std::size_t>(place.y * 8 / free_y * 8 + place.x * 8 / free_x);
}

/// Grows with how often the place was used: the cloth should show all of the photo. Too little to tempt a
/// check out of step.
double Quilter::tired(Place place) const {
    return std::min(1.3, 1 + 0.05 * visits_[bin(place)]);
}

void Quilter::refine(int level, Place& place, std::int64_t& misfit_here, bool left, bool above) const {
    const Codes& source = source_[static_cast<std::size_t>(level)];
    const int most_x = source.width - (blocks_.width >> level),
              most_y = source.height - (blocks_.height >> level);
    const Place centre{place.x * 2, place.y * 2};
    misfit_here = -1;
    for (int dy = -1; dy <= 1; ++dy)
        for (int dx = -1; dx <= 1; ++dx) {
            const Place near{std::clamp(centre.x + dx, 0, most_x), std::clamp(centre.y + dy, 0, most_y)};
            const std::int64_t found = misfit(level, near, left, above);
            if (misfit_here >= 0 && found >= misfit_here) continue;
            misfit_here = found;
            place = near;
        }
}

Place Quilter::choose(bool left, bool above) {
    const int levels = blocks_.levels;
    const Codes& coarse = source_[static_cast<std::size_t>(levels)];
    const int free_x = coarse.width - (blocks_.width >> levels) + 1;
    const int free_y = coarse.height - (blocks_.height >> levels) + 1;
    std::vector<std::tuple<double, Place>> found;
    for (int y = 0; y < free_y; ++y)
        for (int x = 0; x < free_x; ++x) {
            const Place place{x, y};
            const double chance =
                1 + 0.1 * static_cast<double>(share(scrambled(scrambled(seed_, turn_++), 5)));
            const double sum = static_cast<double>(misfit(levels, place, left, above));
            found.emplace_back((sum + 1) * tired({x << levels, y << levels}) * chance, place);
        }
    std::size_t kept = std::min<std::size_t>(found.size(), 24);
    std::partial_sort(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(kept), found.end());
    found.resize(kept);
    // The eye sees the cut, not the overlap: the few that agree best on the whole are told apart by how well
    // they can be cut.
    for (int level = levels; level >= 0; --level) {
        for (auto& [score, place] : found) {
            std::int64_t sum = 0;
            if (level < levels) refine(level, place, sum, left, above);
            score = (cut_cost(level, place, left, above) + 1) * tired({place.x << level, place.y << level});
        }
        std::sort(found.begin(), found.end());
        kept = std::max<std::size_t>(1, kept / (level == levels ? 3 : 2));
        found.resize(std::min(found.size(), kept));
    }
    return std::get<Place>(found.front());
}

/// What the seams of a block cut from `place` would show, at one level.
double Quilter::cut_cost(int level, Place place, bool left, bool above) const {
    double sum = 0;
    if (left) sum += least_cut(overlap(level, place, false)).cost;
    if (above) sum += least_cut(overlap(level, place, true)).cost;
    return sum;
}

/// The differences along the left edge, or along the upper one.
Overlap Quilter::overlap(int level, Place place, bool upper) const {
    const Codes& source = source_[static_cast<std::size_t>(level)];
    const Codes& wanted = wanted_[static_cast<std::size_t>(level)];
    Overlap overlap{(upper ? blocks_.lap_y : blocks_.lap_x) >> level,
                    (upper ? blocks_.width : blocks_.height) >> level,
                    {}};
    overlap.cost.resize(static_cast<std::size_t>(overlap.across) * static_cast<std::size_t>(overlap.along));
    const int width = upper ? overlap.along : overlap.across, height = upper ? overlap.across : overlap.along;
    for (int y = 0; y < height; ++y) {
        const std::int16_t* have = wanted.at(0, y);
        const std::int16_t* come = source.at(place.x, place.y + y);
        for (int x = 0; x < width; ++x, have += 3, come += 3) {
            int sum = 0;
            for (int c = 0; c < 3; ++c) sum += (have[c] - come[c]) * (have[c] - come[c]);
            overlap.cost[static_cast<std::size_t>(upper ? x * overlap.across + y : y * overlap.across + x)] =
                static_cast<float>(sum);
        }
    }
    return overlap;
}

/// How much of the new block shows at each of its pixels.
std::vector<float> Quilter::mask(Place from, bool left, bool above) {
    const int width = blocks_.width, height = blocks_.height;
    // A cut through cloth that agrees may be soft; the softness only hides what the cut could not avoid.
    const float soft = std::max(1.0f, static_cast<float>(std::min(width, height)) / 40.0f);
    const auto fade = [soft](int at, int cut) {
        return std::clamp(0.5f + static_cast<float>(at - cut) / (2 * soft), 0.0f, 1.0f);
    };
    std::vector<float> shown(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 1.0f);
    if (left) {
        const Join join = least_cut(overlap(0, from, false));
        shows_ += join.cost;
        for (int y = 0; y < height; ++y)
            for (int x = 0; x < blocks_.lap_x; ++x)
                shown[static_cast<std::size_t>(y * width + x)] *=
                    fade(x, join.at[static_cast<std::size_t>(y)]);
    }
    if (above) {
        const Join join = least_cut(overlap(0, from, true));
        shows_ += join.cost;
        for (int y = 0; y < blocks_.lap_y; ++y)
            for (int x = 0; x < width; ++x)
                shown[static_cast<std::size_t>(y * width + x)] *=
                    fade(y, join.at[static_cast<std::size_t>(x)]);
    }
    return shown;
}

void Quilter::lay(Place from, int x0, int y0, bool left, bool above) {
    const std::vector<float> shown = mask(from, left, above);
    const float* show = shown.data();
    for (int y = 0; y < blocks_.height; ++y) {
        float* out = pixel(bolt_, x0, y0 + y);
        const float* in = pixel(cloth_, from.x, from.y + y);
        for (int x = 0; x < blocks_.width; ++x, ++show)
            for (int c = 0; c < 3; ++c, ++out, ++in) *out = *show >= 1 ? *in : *out + *show * (*in - *out);
    }
    ++visits_[bin(from)];
}

photo::LinearImage Quilter::sew(int width, int height) {
    const int step_x = blocks_.width - blocks_.lap_x, step_y = blocks_.height - blocks_.lap_y;
    const int columns = std::max(0, width - blocks_.width + step_x - 1) / step_x + 1;
    const int rows = std::max(0, height - blocks_.height + step_y - 1) / step_y + 1;
    bolt_ = blank((columns - 1) * step_x + blocks_.width, (rows - 1) * step_y + blocks_.height);
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            const int x = column * step_x, y = row * step_y;
            const bool left = column > 0, above = row > 0;
            Place from;
            if (left || above) {
                wanted_ = pyramid(codes_of(bolt_, x, y, blocks_.width, blocks_.height), blocks_.levels);
                from = choose(left, above);
            } else {
                from.x = static_cast<int>(share(scrambled(seed_, 1)) *
                                          static_cast<float>(cloth_.width - blocks_.width + 1));
                from.y = static_cast<int>(share(scrambled(seed_, 2)) *
                                          static_cast<float>(cloth_.height - blocks_.height + 1));
            }
            lay(from, x, y, left, above);
        }
    shows_ /= static_cast<double>(bolt_.width) * bolt_.height;
    return std::move(bolt_);
}

}  // namespace

photo::LinearImage continued(const photo::LinearImage& cloth, int width, int height, std::uint64_t seed) {
    expects(cloth.width >= 6 && cloth.height >= 6 && width > 0 && height > 0);
    photo::LinearImage sewn;
    double least = 0;
    for (const int percent : {62, 45}) {
        Quilter quilter(cloth, percent, seed);
        photo::LinearImage tried = quilter.sew(width, height);
        if (sewn.width > 0 && quilter.shows() >= least) continue;
        least = quilter.shows();
        sewn = std::move(tried);
    }
    photo::LinearImage bolt = blank(width, height);
    for (int y = 0; y < height; ++y)
        std::copy_n(pixel(sewn, 0, y), static_cast<std::size_t>(width) * 3, pixel(bolt, 0, y));
    keep_mean(bolt, mean(cloth));
    return bolt;
}

}  // namespace motley::render
