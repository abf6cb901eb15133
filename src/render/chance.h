#pragma once
/// Chance by place: a number that depends on nothing but a seed and where it is asked for, so that threads
/// need no order.

#include <cstdint>
#include <string_view>

namespace motley::render {

/// The finaliser of splitmix64 (Steele, Lea, Flood, OOPSLA 2014).
constexpr std::uint64_t scrambled(std::uint64_t bits) {
    bits += 0x9e3779b97f4a7c15u;
    bits = (bits ^ (bits >> 30)) * 0xbf58476d1ce4e5b9u;
    bits = (bits ^ (bits >> 27)) * 0x94d049bb133111ebu;
    return bits ^ (bits >> 31);
}

constexpr std::uint64_t scrambled(std::uint64_t seed, std::uint64_t place) {
    return scrambled(scrambled(seed) ^ place);
}

constexpr std::uint64_t scrambled(std::uint64_t seed, std::string_view word) {
    for (const char letter : word) seed = scrambled(seed, static_cast<unsigned char>(letter));
    return seed;
}

/// [0, 1), in steps of 2^-24.
constexpr float share(std::uint64_t bits) {
    return static_cast<float>(bits >> 40) * 0x1p-24f;
}

} // namespace motley::render
