#pragma once
/// Chance for the painter: numbers from a seed, and smooth random fields keyed by place, so that the same
/// design shows the same cloth whatever the size or resolution it is painted at. Threads: const members may
/// be called from any thread.

#include <cstdint>
#include <span>
#include <vector>

namespace motley::painter {

/// A bijection that turns neighbouring numbers into unrelated ones (the finaliser of SplitMix64, Steele, Lea,
/// Flood, 2014).
std::uint64_t scramble(std::uint64_t number);

/// A seed that depends on both numbers and their order.
std::uint64_t mixed(std::uint64_t seed, std::uint64_t salt);

/// A sequence of numbers from a seed.
class Chance {
public:
    explicit Chance(std::uint64_t seed) : state_(scramble(seed)) {}

    std::uint64_t next();
    double unit();                             ///< Uniform in [0, 1).
    double between(double low, double high);   ///< Uniform in [low, high).
    double around(double mean, double spread); ///< Bell-shaped, never further than `spread` from the mean.
    int below(int count);                      ///< Uniform in [0, count). Expects count >= 1.
    bool odds(double share) { return unit() < share; }

private:
    std::uint64_t state_;
};

/// Gradient noise, one octave: smooth, zero at whole coordinates, about [-1, 1].
double noise(std::uint64_t seed, double x, double y);

/// A smooth random field over a rectangle from (0, 0), kept on a grid and read bilinearly. Mean about 0,
/// range about [-1, 1].
class Field {
public:
    /// `feature` is the size of the largest blotch, in the unit of `width`; each octave halves size and
    /// strength.
    Field(std::uint64_t seed, double width, double height, double feature, int octaves);

    double at(double x, double y) const;
    /// One row: out[k] = at(x0 + k * step, y).
    void row(double y, double x0, double step, std::span<float> out) const;

private:
    double spacing_;
    int columns_, rows_;
    std::vector<float> nodes_;
};

} // namespace motley::painter
