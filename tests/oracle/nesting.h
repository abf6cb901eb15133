#pragma once
/// The best ways to press, by trying all of them.

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace oracle {

/// A seam between neighbours: its darker side (0 left, 1 right, -1 neither), the side that it must lie on
/// (-1: free), and with how many seams inside units it nests on each side.
struct Pressable {
    int darker = -1;
    int fixed = -1;
    std::array<int, 2> met{};
};

/// Most joints that nest, and the most free seams to their darker side among the ways that nest so many.
/// `joints`: pairs of seams that meet. For up to some 16 seams.
inline std::pair<int, int> best_pressing(const std::vector<Pressable>& seams,
                                         const std::vector<std::pair<int, int>>& joints) {
    std::pair<int, int> best{-1, -1};
    for (std::uint32_t ways = 0; ways < (1u << seams.size()); ++ways) {
        const auto way = [&](std::size_t seam) { return static_cast<int>(ways >> seam & 1u); };
        std::pair<int, int> got{0, 0};
        bool allowed = true;
        for (std::size_t s = 0; s < seams.size(); ++s) {
            allowed &= seams[s].fixed < 0 || seams[s].fixed == way(s);
            got.second += seams[s].fixed < 0 && seams[s].darker == way(s);
            got.first += seams[s].met[static_cast<std::size_t>(way(s))];
        }
        for (const auto& [one, other] : joints)
            got.first += way(static_cast<std::size_t>(one)) != way(static_cast<std::size_t>(other));
        if (allowed && got > best) best = got;
    }
    return best;
}

} // namespace oracle
