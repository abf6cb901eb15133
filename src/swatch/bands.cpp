#include "swatch/bands.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace motley::swatch {
namespace {

constexpr double falls = 0.6; ///< Across bands the echo falls to this share of their own, or less.
constexpr double two_kinds =
    0.06; ///< Every second or third place so much higher than the rest is the repeat.

/// The echo along a line through its middle, from `shortest_step` to the end of its reach.
struct Ridge {
    Move direction;
    double mean = 0, lowest = 1;
};

Ridge ridge(const Echo& echo, Move direction) {
    Ridge ridge{direction, 0, 1};
    int count = 0;
    for (double far = shortest_step; echo.within(direction * far); far += 2, ++count) {
        const double value = echo.at(direction * far);
        ridge.mean += value;
        ridge.lowest = std::min(ridge.lowest, value);
    }
    ridge.mean = count > 3 ? ridge.mean / count : 0;
    return ridge;
}

/// Directions over a half turn, evenly spread in the square round the middle: no sine is needed.
Move direction(double part) {
    const double along = part * 4;
    const Move edge = along < 1 ? Move{1, along} : along < 3 ? Move{2 - along, 1} : Move{-1, 4 - along};
    return edge * (1 / length(edge));
}

Ridge highest_ridge(const Echo& echo) {
    constexpr int directions = 240;
    double best_part = 0;
    Ridge best = ridge(echo, direction(0));
    const auto look = [&](double part) {
        const Ridge other = ridge(echo, direction(part - std::floor(part)));
        if (other.mean <= best.mean) return;
        best = other;
        best_part = part;
    };
    for (int k = 1; k < directions; ++k) look(static_cast<double>(k) / directions);
    for (double step = 0.5 / directions; step > 1e-4; step /= 2)
        for (const double part : {best_part - step, best_part + step}) look(part);
    return best;
}

/// The echo of stripes across their bands: a mean along the bands.
double across_bands(const Echo& echo, Move step, Move band) {
    double sum = 0;
    int count = 0;
    for (int k = -6; k <= 6; ++k) {
        const Move move = step + band * (3.0 * k);
        if (!echo.within(move)) continue;
        sum += echo.at(move);
        ++count;
    }
    return count > 0 ? sum / count : -1;
}

/// Distances across the bands at which the echo is high, the nearest first.
struct Crossing {
    std::vector<Peak> peaks; ///< x is the distance.
    double best = 0, lowest = 1;
};

Crossing crossing_of(const Echo& echo, Move across, Move band) {
    constexpr double pixel = 0.5;
    std::vector<double> profile;
    for (double far = 0; echo.within(across * far); far += pixel)
        profile.push_back(across_bands(echo, across * far, band));
    Crossing crossing;
    for (const double value : profile) crossing.lowest = std::min(crossing.lowest, value);
    for (std::size_t k = static_cast<std::size_t>(shortest_step / pixel); k + 1 < profile.size(); ++k) {
        if (profile[k] < profile[k - 1] || profile[k] < profile[k + 1]) continue;
        const double aside = vertex(profile[k - 1], profile[k], profile[k + 1]);
        crossing.peaks.push_back({{(static_cast<double>(k) + aside) * pixel, 0}, profile[k]});
        crossing.best = std::max(crossing.best, profile[k]);
    }
    return crossing;
}

/// Multiples of one distance.
struct Run {
    double step = 0;
    std::vector<double> values; ///< At the first multiple and on.

    double mean() const {
        double sum = 0;
        for (const double value : values) sum += value;
        return values.empty() ? 0 : sum / static_cast<double>(values.size());
    }
    /// By how much every second or third is higher than the rest.
    double kinds_apart() const;
};

double Run::kinds_apart() const {
    double apart = 0;
    for (std::size_t parts = 2; parts <= 3 && parts < values.size(); ++parts) {
        double sums[2] = {}, counts[2] = {};
        for (std::size_t k = 0; k < values.size(); ++k) {
            const std::size_t kind = (k + 1) % parts == 0 ? 1 : 0;
            sums[kind] += values[k];
            counts[kind] += 1;
        }
        apart = std::max(apart, sums[1] / counts[1] - sums[0] / counts[0]);
    }
    return apart;
}

/// The multiples of a first peak, as long as there is a peak as much alike as any at each within reach.
std::optional<Run> run_of(const Crossing& crossing, const Peak& first) {
    const double reach = crossing.peaks.back().at.x + 1;
    Run run{first.at.x, {}};
    double upper = 0, lower = 0;
    for (int k = 1; run.step * k < reach; ++k) {
        const auto off = [&](const Peak& peak) { return std::abs(peak.at.x - run.step * k); };
        const Peak near = *std::min_element(crossing.peaks.begin(), crossing.peaks.end(),
                                            [&](const Peak& a, const Peak& b) { return off(a) < off(b); });
        if (off(near) >= 1.5 || near.value < as_alike * crossing.best) return {};
        upper += k * near.at.x;
        lower += static_cast<double>(k) * k;
        run.values.push_back(near.value);
        run.step = upper / lower; // Least squares.
    }
    return run;
}

} // namespace

std::optional<Bands> find_bands(const Echo& echo, double best) {
    const Ridge along = highest_ridge(echo);
    if (along.mean < surely_alike || along.lowest < as_alike * along.mean) return {};
    if (along.mean < as_alike * best) return {};
    const Move band = leads_down(along.direction) ? along.direction : along.direction * -1;
    const Move across{band.y, -band.x};
    const Crossing crossing = crossing_of(echo, across, band);
    if (crossing.lowest > falls * along.mean) return {}; // Cloudy, not striped.
    Bands bands{band, {}, std::clamp(along.mean, 0.0, 1.0)};
    if (crossing.best < surely_alike) return bands;
    for (const Peak& first : crossing.peaks) {
        if (first.value < as_alike * crossing.best) continue;
        const std::optional<Run> run = run_of(crossing, first);
        if (!run || run->values.empty() || run->kinds_apart() > two_kinds * crossing.best) continue;
        bands.step = towards_foot(across * run->step);
        bands.alike = std::clamp(run->mean(), 0.0, 1.0);
        return bands;
    }
    return bands;
}

} // namespace motley::swatch
