#include "swatch/checks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace motley::swatch {
namespace {

constexpr std::size_t most_bins = 24;
constexpr double explained = 0.8; // Of the repeat's variance. Woven checks reach 0.9, printed squares 0.
constexpr double each_way = 0.12;

/// One repeat, the mean of all that the cloth shows, in bins along its two steps.
struct Repeat {
    std::size_t bins = 0;
    std::array<double, most_bins * most_bins> sums{}, counts{};

    double at(std::size_t i, std::size_t j) const {
        const double count = counts[j * bins + i];
        return count > 0 ? sums[j * bins + i] / count : 0;
    }
};

/// Variance of the repeat, of its means along one step, and along the other.
struct Spread {
    double whole = 0, one = 0, other = 0;
};

Spread spread_of(const Repeat& repeat) {
    Spread spread;
    const auto bins = static_cast<double>(repeat.bins);
    double middle = 0;
    for (std::size_t j = 0; j < repeat.bins; ++j)
        for (std::size_t i = 0; i < repeat.bins; ++i) middle += repeat.at(i, j) / (bins * bins);
    for (std::size_t k = 0; k < repeat.bins; ++k) {
        double one = 0, other = 0;
        for (std::size_t m = 0; m < repeat.bins; ++m) {
            one += (repeat.at(m, k) - middle) / bins;
            other += (repeat.at(k, m) - middle) / bins;
            spread.whole += (repeat.at(m, k) - middle) * (repeat.at(m, k) - middle) / (bins * bins);
        }
        spread.one += one * one / bins;
        spread.other += other * other / bins;
    }
    return spread;
}

} // namespace

bool is_checked(const Sketch& sketch, Move one, Move other) {
    const double area = cross(one, other), shorter = std::min(length(one), length(other));
    if (!(std::abs(area) > 1)) return false;
    Repeat repeat;
    repeat.bins = std::clamp<std::size_t>(static_cast<std::size_t>(shorter), 3, most_bins);
    const auto bin = [&](double turns) {
        const double share = turns - std::floor(turns);
        return std::min(repeat.bins - 1, static_cast<std::size_t>(share * static_cast<double>(repeat.bins)));
    };
    std::vector<std::size_t> bins;
    bins.reserve(sketch.l.size());
    for (int y = 0; y < sketch.height; ++y)
        for (int x = 0; x < sketch.width; ++x) {
            const Move here{static_cast<double>(x), static_cast<double>(y)};
            bins.push_back(bin(cross(one, here) / area) * repeat.bins + bin(cross(here, other) / area));
        }
    Spread all;
    for (const auto* plane : {&sketch.l, &sketch.a, &sketch.b}) {
        repeat.sums = {};
        repeat.counts = {};
        for (std::size_t i = 0; i < bins.size(); ++i) {
            repeat.sums[bins[i]] += static_cast<double>((*plane)[i]);
            repeat.counts[bins[i]] += 1;
        }
        const Spread spread = spread_of(repeat);
        all.whole += spread.whole;
        all.one += spread.one;
        all.other += spread.other;
    }
    return all.one + all.other > explained * all.whole && std::min(all.one, all.other) > each_way * all.whole;
}

} // namespace motley::swatch
