#include "scene/ground.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace motley::scene {

namespace {

constexpr double rim_share = 0.02;      // Of the picture's shorter side.
constexpr double least_agreement = 0.7; // Of the rim's places, for it to be one thing.
constexpr double deepest_shadow = -1.3; // Logarithm of light.

/// Logarithms of what the 3 x 3 pixels around give: lightness, and two differences that shadows leave alone.
struct Tones {
    Plane l, a, b;
};

Tones tones_of(const photo::LinearImage& even) {
    Tones out{{even.width, even.height}, {even.width, even.height}, {even.width, even.height}};
    std::array<Plane, 3> planes;
    for (std::size_t c = 0; c < 3; ++c) {
        Plane plane(even.width, even.height);
        for (std::size_t i = 0; i < plane.values.size(); ++i) plane.values[i] = even.pixels[3 * i + c];
        planes[c] = box_mean(plane, 1);
    }
    for (std::size_t i = 0; i < out.l.values.size(); ++i) {
        std::array<float, 3> log{};
        for (std::size_t c = 0; c < 3; ++c) log[c] = std::log(std::max(planes[c].values[i], 0.01F));
        out.l.values[i] = (log[0] + 2 * log[1] + log[2]) / 4;
        out.a.values[i] = log[0] - log[1];
        out.b.values[i] = log[2] - log[1];
    }
    return out;
}

/// The largest step over two pixels.
float step_at(const Tones& tones, int x, int y) {
    const int left = std::max(x - 1, 0), right = std::min(x + 1, tones.l.width - 1);
    const int up = std::max(y - 1, 0), down = std::min(y + 1, tones.l.height - 1);
    float most = 0;
    for (const Plane* plane : {&tones.l, &tones.a, &tones.b}) {
        const auto& values = plane->values;
        most = std::max(most, std::abs(values[plane->at(right, y)] - values[plane->at(left, y)]));
        most = std::max(most, std::abs(values[plane->at(x, down)] - values[plane->at(x, up)]));
    }
    return most;
}

/// In the colour of the ground but perhaps in a shadow that changes fast.
bool near_ground(const Tones& tones, int x, int y, float reach) {
    const std::size_t here = tones.l.at(x, y);
    return tones.l.values[here] > -0.5F && tones.l.values[here] < reach &&
           std::abs(tones.a.values[here]) < reach + 0.03F && std::abs(tones.b.values[here]) < reach + 0.03F &&
           step_at(tones, x, y) < 0.2F;
}

/// The places around the rim of a picture, as means of small squares.
std::vector<Known> rim_of(const photo::LinearImage& picture) {
    const int side =
        std::max(2, static_cast<int>(std::lround(rim_share * std::min(picture.width, picture.height))));
    std::vector<Known> out;
    const auto add = [&](int left, int top) {
        Rgb sum{};
        for (int y = top; y < top + side; ++y)
            for (int x = left; x < left + side; ++x)
                for (std::size_t c = 0; c < 3; ++c)
                    sum[c] += picture.pixels[3 * (static_cast<std::size_t>(y) *
                                                      static_cast<std::size_t>(picture.width) +
                                                  static_cast<std::size_t>(x)) +
                                             c];
        for (double& channel : sum) channel /= side * side;
        out.push_back({in_frame(picture, {left + side / 2.0, top + side / 2.0}), sum, 1, 1});
    };
    for (int x = 0; x + side <= picture.width; x += side) {
        add(x, 0);
        add(x, picture.height - side);
    }
    for (int y = side; y + side <= picture.height - side; y += side) {
        add(0, y);
        add(picture.width - side, y);
    }
    return out;
}

double off_ground(const Light& light, const Known& place) {
    const Rgb left = light.reflectance(place.seen, place.at);
    double most = 0;
    for (const double channel : left) most = std::max(most, std::abs(std::log(std::max(channel, 1e-3))));
    return most;
}

double roughness(const photo::LinearImage& even, const Mask* lying) {
    const Tones tones = tones_of(even);
    const int rim = std::max(2, std::min(even.width, even.height) / 40);
    std::vector<double> steps;
    for (int y = 1; y + 1 < even.height; y += 2)
        for (int x = 1; x + 1 < even.width; x += 2) {
            const bool outer = x < rim || y < rim || x + rim >= even.width || y + rim >= even.height;
            if (lying ? lying->on[lying->at(x, y)] == 0 : outer)
                steps.push_back(static_cast<double>(step_at(tones, x, y)));
        }
    return steps.empty() ? 0 : median(std::move(steps));
}

/// No more coloured than white paper by lamplight or in the shade, and as bright as paper comes out.
bool paper_like(const Rgb& colour, double rough, double spread) {
    const double light = luminance(colour);
    if (light < 0.3 || rough > 0.05 || spread > 0.05) return false;
    const double warm = std::log(colour[0] / colour[2]);
    const double green = std::log(colour[1]) - (std::log(colour[0]) + std::log(colour[2])) / 2;
    return warm > -0.6 && warm < 1.1 && green > -0.15 && green < 0.30;
}

Rgb middle_of(const Light& light) {
    return light.field({0, 0});
}

} // namespace

Point in_frame(const photo::LinearImage& picture, const Point& pixel) {
    const double half = std::max(picture.width, picture.height) / 2.0;
    return {(pixel.x - picture.width / 2.0) / half, (pixel.y - picture.height / 2.0) / half};
}

photo::LinearImage evened(const photo::LinearImage& picture, const Light& light) {
    photo::LinearImage out{picture.width, picture.height, std::vector<float>(picture.pixels.size())};
    constexpr int block = 8; // The light is smooth: one value for a block of pixels, straight between them.
    const auto columns = static_cast<std::size_t>(picture.width / block + 2);
    std::vector<Rgb> above(columns), below(columns);
    const auto fill = [&](std::vector<Rgb>& row, int y) {
        for (std::size_t i = 0; i < columns; ++i)
            row[i] = light.field(in_frame(picture, {static_cast<double>(i) * block, static_cast<double>(y)}));
    };
    fill(below, 0);
    for (int y = 0; y < picture.height; ++y) {
        if (y % block == 0) {
            std::swap(above, below);
            fill(below, y + block);
        }
        const double down = (y % block + 0.5) / block;
        for (int x = 0; x < picture.width; ++x) {
            const auto i = static_cast<std::size_t>(x / block);
            const double along = (x % block + 0.5) / block;
            const std::size_t at =
                3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                     static_cast<std::size_t>(x));
            for (std::size_t c = 0; c < 3; ++c) {
                const double up = above[i][c] + (above[i + 1][c] - above[i][c]) * along;
                const double low = below[i][c] + (below[i + 1][c] - below[i][c]) * along;
                out.pixels[at + c] = static_cast<float>(static_cast<double>(picture.pixels[at + c]) /
                                                        (up + (low - up) * down));
            }
        }
    }
    return out;
}

Mask lying_on(const photo::LinearImage& even, double spread, double rough, double keenness) {
    const Tones tones = tones_of(even);
    const bool smooth = spread < 0.06;
    const auto reach = static_cast<float>(0.05 + 3 * spread);
    const auto largest_step = static_cast<float>(std::clamp(keenness + 3 * rough, 0.015, 0.5));
    const float darkest = smooth ? static_cast<float>(deepest_shadow) : -reach;
    Mask ground(even.width, even.height);
    for (int y = 0; y < even.height; ++y)
        for (int x = 0; x < even.width; ++x) {
            const std::size_t here = ground.at(x, y);
            const float l = tones.l.values[here];
            // What is darker has also a little other colour, from what lies about.
            const float hue_reach = reach + 0.1F * std::max(0.0F, -l);
            ground.on[here] = l > darkest && l < reach && std::abs(tones.a.values[here]) < hue_reach &&
                                      std::abs(tones.b.values[here]) < hue_reach &&
                                      step_at(tones, x, y) < largest_step
                                  ? 1
                                  : 0;
        }
    if (!smooth) ground = spread_out(spread_out(ground, 1, 1), 1, 0); // Grain of a table: close the specks.
    // Narrow gaps in an edge do not let the ground in.
    const Mask wide = spread_out(ground, 1, 0);
    std::vector<std::int32_t> numbers;
    const std::vector<Patch> parts = patches(wide, 1, &numbers);
    std::vector<std::uint8_t> outer(parts.size() + 1, 0);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const Patch& part = parts[i];
        const bool at_rim =
            part.left <= 2 || part.top <= 2 || part.right + 3 >= even.width || part.bottom + 3 >= even.height;
        outer[i + 1] = at_rim ? 1 : 0;
    }
    Mask reached(even.width, even.height);
    for (std::size_t i = 0; i < reached.on.size(); ++i)
        reached.on[i] = outer[static_cast<std::size_t>(numbers[i])];
    // One back for the narrow gaps, and up to the edges of what lies there: close beside it its own shadow
    // deepens fast.
    for (int round = 0; round < 4; ++round) {
        const Mask wider = spread_out(reached, 1, 1);
        for (int y = 0; y < even.height; ++y)
            for (int x = 0; x < even.width; ++x) {
                const std::size_t here = reached.at(x, y);
                if (wider.on[here] && (ground.on[here] || (smooth && near_ground(tones, x, y, reach))))
                    reached.on[here] = 1;
            }
    }
    for (std::uint8_t& pixel : reached.on) pixel = pixel ? 0 : 1;
    // Specks and threads away.
    return spread_out(spread_out(reached, 2, 0), 2, 1);
}

std::vector<Known> bare_blocks(const photo::LinearImage& picture, const Mask& lying, int step) {
    std::vector<Known> out;
    for (int top = 0; top + step <= picture.height; top += step)
        for (int left = 0; left + step <= picture.width; left += step) {
            Rgb sum{};
            int count = 0;
            for (int y = top; y < top + step; ++y)
                for (int x = left; x < left + step; ++x) {
                    if (lying.on[lying.at(x, y)]) continue;
                    ++count;
                    for (std::size_t c = 0; c < 3; ++c) sum[c] += picture.pixels[3 * lying.at(x, y) + c];
                }
            if (count < step * step) continue;
            for (double& channel : sum) channel /= count;
            out.push_back({in_frame(picture, {left + step / 2.0, top + step / 2.0}), sum, 1, 1});
        }
    return out;
}

std::optional<Ground> find_ground(const photo::LinearImage& picture) {
    if (picture.width < 64 || picture.height < 64) return std::nullopt;
    const std::vector<Known> rim = rim_of(picture);
    Ground ground;
    ground.light = find_light(rim, {.degree = 2, .tone = false, .start = nullptr});
    std::vector<double> off;
    for (const Known& place : rim) off.push_back(off_ground(ground.light, place));
    ground.spread = 1.4826 * median(off);
    const double limit = std::max(0.06, 3 * ground.spread);
    const auto agreeing = std::count_if(off.begin(), off.end(), [&](double one) { return one < limit; });
    if (ground.spread > 0.15 ||
        static_cast<double>(agreeing) < least_agreement * static_cast<double>(off.size()))
        return std::nullopt;
    ground.rough = roughness(evened(picture, ground.light), nullptr);
    ground.middle = middle_of(ground.light);
    ground.paper = paper_like(ground.middle, ground.rough, ground.spread);
    return ground;
}

Ground better_ground(const photo::LinearImage& picture, const Mask& lying, const Ground& first) {
    const int step = std::max(4, std::max(picture.width, picture.height) / 64);
    const std::vector<Known> blocks = bare_blocks(picture, lying, step);
    if (blocks.size() < 60) return first;
    Ground ground = first;
    ground.light = find_light(blocks, {.degree = 3, .tone = false, .start = &first.light});
    std::vector<double> off;
    for (const Known& place : blocks) off.push_back(off_ground(ground.light, place));
    ground.spread = std::max(1.4826 * median(off), 0.5 * first.spread);
    ground.rough = roughness(evened(picture, ground.light), &lying);
    ground.middle = middle_of(ground.light);
    ground.paper = paper_like(ground.middle, ground.rough, ground.spread);
    return ground;
}

} // namespace motley::scene
