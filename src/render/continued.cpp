#include "render/continued.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <utility>
#include <vector>

#include "colour/difference.h"
#include "fault/fault.h"
#include "render/cloth.h"
#include "render/join.h"
#include "render/match.h"

namespace motley::render {

namespace {

struct Place {
    int x = 0, y = 0;
};

/// Cloth with places still bare.
struct Sheet {
    photo::LinearImage light;
    std::vector<std::uint8_t> laid; ///< [y * width + x], 1 where there is cloth.

    bool is_laid(int x, int y) const {
        return laid[static_cast<std::size_t>(y) * static_cast<std::size_t>(light.width) +
                    static_cast<std::size_t>(x)] != 0;
    }
};

Sheet bare(int width, int height) {
    return {blank(width, height),
            std::vector<std::uint8_t>(static_cast<std::size_t>(width) * static_cast<std::size_t>(height))};
}

struct Box {
    int left = 0, top = 0, right = 0, bottom = 0;
};

/// Lays one sheet over another: joined along one cut through what both have, from top to bottom or from left
/// to right.
class Laying {
public:
    /// `whole` sheets end at the cut: what the other does not have there is left away.
    Laying(Sheet& under, const Sheet& over, Place at, bool level, int fade, bool whole)
        : under_(under), over_(over), at_(at), level_(level), whole_(whole), fade_(fade) {
        on_ = {std::max(0, -at.x), std::max(0, -at.y), std::min(over.light.width, under.light.width - at.x),
               std::min(over.light.height, under.light.height - at.y)};
        find_shared();
    }
    void lay();

private:
    bool both(int x, int y) const { return over_.is_laid(x, y) && under_.is_laid(at_.x + x, at_.y + y); }
    void find_shared();
    Overlap overlap() const;
    void place(int x, int y, float show);
    void end_under(const Join& join, int lap);

    Sheet& under_;
    const Sheet& over_;
    Place at_;
    bool level_; ///< The cut runs from left to right.
    bool whole_;
    int fade_;
    Box on_,
        shared_; ///< In the upper sheet's pixels: what falls on the lower one, and around what both have.
};

void Laying::find_shared() {
    shared_ = {on_.right, on_.bottom, on_.left, on_.top};
    for (int y = on_.top; y < on_.bottom; ++y)
        for (int x = on_.left; x < on_.right; ++x) {
            if (!both(x, y)) continue;
            shared_.left = std::min(shared_.left, x);
            shared_.right = std::max(shared_.right, x + 1);
            shared_.top = std::min(shared_.top, y);
            shared_.bottom = y + 1;
        }
}

/// A cut keeps to what both have, and where it must be seen it had better run along an outline of the print.
Overlap Laying::overlap() const {
    constexpr float never = 1e12f;
    const int wide = shared_.right - shared_.left, high = shared_.bottom - shared_.top;
    Overlap overlap{level_ ? high : wide, level_ ? wide : high, {}};
    overlap.cost.assign(static_cast<std::size_t>(wide) * static_cast<std::size_t>(high), never);
    const Codes have = codes_of(under_.light, at_.x + shared_.left, at_.y + shared_.top, wide, high);
    const Codes come = codes_of(over_.light, shared_.left, shared_.top, wide, high);
    const std::vector<float> had = outlines(have), coming = outlines(come);
    std::vector<float> row;
    for (int y = 0; y < high; ++y) {
        row.clear();
        const auto line = static_cast<std::size_t>(y) * static_cast<std::size_t>(wide);
        compare({have.at(0, y), &had[line]}, {come.at(0, y), &coming[line]}, wide, row);
        for (int x = 0; x < wide; ++x)
            if (both(shared_.left + x, shared_.top + y))
                overlap.cost[static_cast<std::size_t>(level_ ? x * high + y : y * wide + x)] =
                    row[static_cast<std::size_t>(x)];
    }
    lean_to_middle(overlap);
    return overlap;
}

void Laying::lay() {
    const bool joined = shared_.left < shared_.right;
    Join join;
    int lap = 0;
    if (joined) {
        const Overlap shared = overlap();
        join = least_cut(shared);
        lap = shared.across;
    }
    // Where a cut will do, its softness only hides what the cut could not avoid.
    const int fade = std::min(fade_, lap);
    const float soft = fade > 0 ? static_cast<float>(fade) / 2 : 0.8f;
    const int first = level_ ? shared_.left : shared_.top, last = static_cast<int>(join.at.size()) - 1;
    const int before = level_ ? shared_.top : shared_.left;
    for (int y = on_.top; y < on_.bottom; ++y)
        for (int x = on_.left; x < on_.right; ++x) {
            const int across = (level_ ? y : x) - before;
            float show = 1;
            if (joined && across < lap) {
                const int along = std::clamp((level_ ? x : y) - first, 0, last);
                const int cut =
                    std::clamp(join.at[static_cast<std::size_t>(along)], fade / 2, lap - (fade + 1) / 2);
                show = std::clamp(0.5f + (static_cast<float>(across - cut) + 0.5f) / (2 * soft), 0.0f, 1.0f);
                show *= show * (3 - 2 * show);
            }
            place(x, y, show);
        }
    if (whole_ && joined) end_under(join, lap);
}

/// Takes away what the lower sheet has beyond the cut, to both sides of the upper one.
void Laying::end_under(const Join& join, int lap) {
    const int width = under_.light.width;
    const int end = level_ ? width : under_.light.height;
    const int from = level_ ? at_.x : at_.y, size = level_ ? over_.light.width : over_.light.height;
    const int before = level_ ? at_.y + shared_.top : at_.x + shared_.left;
    for (int i = 0; i < end; ++i) {
        if (i >= from && i < from + size) continue;
        for (int k = i < from ? join.at.front() : join.at.back(); k < lap; ++k) {
            const int x = level_ ? i : before + k, y = level_ ? before + k : i;
            under_.laid[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                        static_cast<std::size_t>(x)] = 0;
        }
    }
}

void Laying::place(int x, int y, float show) {
    std::uint8_t& laid =
        under_.laid[static_cast<std::size_t>(at_.y + y) * static_cast<std::size_t>(under_.light.width) +
                    static_cast<std::size_t>(at_.x + x)];
    float* out = pixel(under_.light, at_.x + x, at_.y + y);
    const float* in = pixel(over_.light, x, y);
    const bool over = over_.is_laid(x, y);
    if (over && laid != 0)
        for (int c = 0; c < 3; ++c) out[c] += show * (in[c] - out[c]);
    else if (over && (!whole_ || show >= 0.5f)) {
        std::copy_n(in, 3, out);
        laid = 1;
    }
}

/// Lays copies of a cloth into strips, straight one after the other, and the strips side by side.
class Layer {
public:
    Layer(const photo::LinearImage& cloth, const Repeat& repeat, int width, int height)
        : repeat_(repeat), width_(width), height_(height), copy_(bare(cloth.width, cloth.height)) {
        copy_.light = cloth;
        std::fill(copy_.laid.begin(), copy_.laid.end(), std::uint8_t{1});
    }

    photo::LinearImage lay_all() const;

private:
    bool needed(Place at) const;
    std::vector<std::vector<Place>> strips() const;
    void range(double (&least)[2], double (&most)[2]) const;

    const Repeat& repeat_;
    int width_, height_;
    Sheet copy_;
};

/// Whether anything of a copy but its margins is on the bolt; other copies would only add joins. The margins
/// are less than what copies share where strips do not run quite straight.
bool Layer::needed(Place at) const {
    if (at.x == 0 && at.y == 0) return true;
    const int aslant_x = repeat_.stacked ? std::abs(repeat_.down.x) : 0;
    const int aslant_y = repeat_.stacked ? 0 : std::abs(repeat_.across.y);
    const int margin_x = copy_.light.width - repeat_.across.x - aslant_x;
    const int margin_y = copy_.light.height - repeat_.down.y - aslant_y;
    return at.x + copy_.light.width > margin_x && at.y + copy_.light.height > margin_y &&
           at.x + margin_x < width_ && at.y + margin_y < height_;
}

/// Between how many steps across and down copies may touch the bolt.
void Layer::range(double (&least)[2], double (&most)[2]) const {
    const Step a = repeat_.across, b = repeat_.down;
    const double det = static_cast<double>(a.x) * b.y - static_cast<double>(b.x) * a.y;
    expects(det > 0);
    for (const int x : {-copy_.light.width, width_})
        for (const int y : {-copy_.light.height, height_}) {
            const double steps[2] = {(static_cast<double>(x) * b.y - static_cast<double>(y) * b.x) / det,
                                     (static_cast<double>(y) * a.x - static_cast<double>(x) * a.y) / det};
            for (int k = 0; k < 2; ++k) {
                least[k] = std::min(least[k], steps[k]);
                most[k] = std::max(most[k], steps[k]);
            }
        }
}

std::vector<std::vector<Place>> Layer::strips() const {
    double least[2] = {0, 0}, most[2] = {0, 0};
    range(least, most);
    const std::size_t outer = repeat_.stacked ? 0 : 1, inner = 1 - outer;
    const Step next = repeat_.stacked ? repeat_.across : repeat_.down;
    const Step along = repeat_.stacked ? repeat_.down : repeat_.across;
    std::vector<std::vector<Place>> all;
    for (int o = static_cast<int>(std::floor(least[outer])); o <= most[outer]; ++o) {
        std::vector<Place> strip;
        for (int i = static_cast<int>(std::floor(least[inner])); i <= most[inner]; ++i) {
            const Place at{o * next.x + i * along.x, o * next.y + i * along.y};
            if (needed(at)) strip.push_back(at);
        }
        if (!strip.empty()) all.push_back(std::move(strip));
    }
    return all;
}

photo::LinearImage Layer::lay_all() const {
    Sheet bolt = bare(width_, height_);
    for (const std::vector<Place>& places : strips()) {
        // As wide as its copies need, and as long as the bolt.
        Place from = repeat_.stacked ? Place{places.front().x, 0} : Place{0, places.front().y};
        Place to = repeat_.stacked ? Place{from.x, height_} : Place{width_, from.y};
        for (const Place at : places) {
            if (repeat_.stacked) {
                from.x = std::min(from.x, at.x);
                to.x = std::max(to.x, at.x + copy_.light.width);
            } else {
                from.y = std::min(from.y, at.y);
                to.y = std::max(to.y, at.y + copy_.light.height);
            }
        }
        Sheet strip = bare(to.x - from.x, to.y - from.y);
        for (const Place at : places)
            Laying(strip, copy_, {at.x - from.x, at.y - from.y}, repeat_.stacked,
                   repeat_.stacked ? repeat_.fade_down : repeat_.fade_across, true)
                .lay();
        Laying(bolt, strip, from, !repeat_.stacked, repeat_.stacked ? repeat_.fade_across : repeat_.fade_down,
               false)
            .lay();
    }
    return std::move(bolt.light);
}

/// Brings the mean of one whole repeat to that of the photo where what the joins took from it is too little
/// to see. A print that shows other shares of its colours than the photo is not repaired by a tint.
void keep_colour(photo::LinearImage& bolt, const photo::LinearImage& cloth, const Repeat& repeat) {
    const auto past_join = [](int bolt_side, int side, int step) {
        return bolt_side >= side + 1 ? std::min(side - step, bolt_side - step) : 0;
    };
    const int left = past_join(bolt.width, cloth.width, repeat.across.x);
    const int top = past_join(bolt.height, cloth.height, repeat.down.y);
    const int width = bolt.width > cloth.width ? repeat.across.x : bolt.width;
    const int height = bolt.height > cloth.height ? repeat.down.y : bolt.height;
    photo::LinearImage shown = blank(width, height);
    for (int y = 0; y < height; ++y)
        std::copy_n(pixel(bolt, left, top + y), static_cast<std::size_t>(width) * 3, pixel(shown, 0, y));
    const colour::LinearRgb wanted = mean(cloth), found = mean(shown);
    if (colour::ciede2000(colour::lab(wanted), colour::lab(found)) >= 1) return;
    const auto gain = [](double want, double have) {
        return static_cast<float>(have > 1e-9 && want > 0 ? want / have : 1.0);
    };
    const float gains[3] = {gain(wanted.r, found.r), gain(wanted.g, found.g), gain(wanted.b, found.b)};
    for (std::size_t i = 0; i < bolt.pixels.size(); ++i) bolt.pixels[i] *= gains[i % 3];
}

} // namespace

photo::LinearImage continued(const photo::LinearImage& cloth, const Repeat& repeat, int width, int height) {
    expects(cloth.width >= 6 && cloth.height >= 6 && width > 0 && height > 0);
    expects(0 < repeat.across.x && repeat.across.x < cloth.width && 0 < repeat.down.y &&
            repeat.down.y < cloth.height);
    photo::LinearImage bolt = Layer(cloth, repeat, width, height).lay_all();
    keep_colour(bolt, cloth, repeat);
    return bolt;
}

} // namespace motley::render
