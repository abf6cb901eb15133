#pragma once
/// Chance for the search: Boost's Mersenne twister, and draws from it that are the same on every compiler and
/// C library.

#include <array>
#include <boost/random/mersenne_twister.hpp>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace motley::placement {

class Chance {
public:
    /// Streams of different numbers under one seed are unrelated.
    Chance(std::uint64_t seed, std::uint64_t stream)
        : engine_(static_cast<std::uint32_t>(mix(seed + 0x9E3779B97F4A7C15ULL * (stream + 1)))) {}

    std::uint32_t bits() { return engine_(); }

    /// [0, n), n >= 1. The high half of a product: off from even by less than n / 2^32, which no search can
    /// notice, and without a division.
    int below(int n) {
        return static_cast<int>((std::uint64_t{engine_()} * static_cast<std::uint64_t>(n)) >> 32);
    }

    template <class T>
    void shuffle(std::vector<T>& items) {
        for (std::size_t i = items.size(); i > 1; --i)
            std::swap(items[i - 1], items[static_cast<std::size_t>(below(static_cast<int>(i)))]);
    }

private:
    /// Finaliser of splitmix64 (Steele, Lea, Flood 2014): spreads nearby seeds over all 64 bits.
    static std::uint64_t mix(std::uint64_t x) {
        x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9ULL;
        x = (x ^ (x >> 27)) * 0x94D049BB133111EBULL;
        return x ^ (x >> 31);
    }

    boost::random::mt19937 engine_;
};

/// -ln u for u in 1024 even steps of (0, 1): how much worse, in temperatures, a step may be and still be
/// taken (Metropolis). The logarithm is a series of plain operations, so that no C library's rounding decides
/// a search.
class Thresholds {
public:
    Thresholds() {
        for (std::size_t k = 0; k < size; ++k)
            table_[k] = -natural_log((static_cast<double>(k) + 0.5) / static_cast<double>(size));
    }
    double draw(std::uint32_t bits) const { return table_[bits & (size - 1)]; }

private:
    static constexpr std::size_t size = 1024;

    /// ln x = 2 artanh((x - 1)/(x + 1)) after doubling x into [1/2, 1].
    static double natural_log(double x) {
        constexpr double ln2 = 0.69314718055994530942;
        double doublings = 0;
        for (; x < 0.5; x *= 2) doublings += 1;
        const double z = (x - 1) / (x + 1);
        double sum = 0, power = z;
        for (int k = 1; k < 40; k += 2, power *= z * z) sum += power / k;
        return 2 * sum - doublings * ln2;
    }

    std::array<double, size> table_{};
};

} // namespace motley::placement
